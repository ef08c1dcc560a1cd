" How what `vim.vim` does is done with ALE.

let g:plugin = {}

function g:plugin.name()
  let ale = matchstr(join(readfile(globpath(&runtimepath, 'autoload/ale.vim'))), 'ale_version = \[\zs[^]]*')
  return 'ALE ' . substitute(ale, ', ', '.', 'g')
endfunction

function g:plugin.begin()
  call ale#Queue(0)
endfunction

function g:plugin.findings()
  return ale#engine#GetLoclist(bufnr(''))
endfunction

function g:plugin.hover()
  ALEHover
endfunction

function g:plugin.take_step()
  ALECodeAction
endfunction

function g:plugin.format()
  ALEFix
endfunction

function g:plugin.rename()
  ALERename
endfunction

" ALE asks with this, and shows what can be done with numbers; it is answered as a person would.
runtime autoload/ale/util.vim
function! ale#util#Input(message, value, ...)
  return a:message =~# '^New name' ? 'rope-walk' : matchstr(a:message, '\d\+\ze) take the next step\n')
endfunction
