" The language server of the notation, for ALE.

" The nearest folder upward that holds settings or a repository; otherwise that of the file.
function! s:Root(buffer) abort
  let l:settings = ale#path#FindNearestFile(a:buffer, 'gridsetter.toml')
  let l:repository = ale#path#FindNearestDirectory(a:buffer, '.git')
  return !empty(l:settings) ? fnamemodify(l:settings, ':h')
  \ : !empty(l:repository) ? fnamemodify(l:repository, ':h:h')
  \ : expand('#' . a:buffer . ':p:h')
endfunction

call ale#linter#Define('gridsetter', {
\ 'name': 'gridsetter',
\ 'lsp': 'stdio',
\ 'executable': 'gridsetter',
\ 'command': '%e serve',
\ 'project_root': function('s:Root'),
\})
