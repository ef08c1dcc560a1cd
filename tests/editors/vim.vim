" Within Vim, started by `run`. Without a screen no command ends as Vim counts it, so `Rest` tells plug-ins that the text
" changed, as Vim does; questions are answered as a person would.

let s:patience = 30

" Notes a step that went well.
function s:Say(what, seen)
  call writefile([a:what . "\t" . substitute(a:seen, "\n", ' / ', 'g')], '/dev/stdout', 'a')
endfunction

function s:Rest()
  let &undolevels = &undolevels
  doautocmd TextChanged
endfunction

function s:Wait(what, Fits)
  let start = reltime()
  while !a:Fits()
    if reltimefloat(reltime(start)) > s:patience
      throw 'waited in vain: ' . a:what
    endif
    sleep 1m
  endwhile
endfunction

function s:Must(holds, what)
  if !a:holds
    throw a:what
  endif
endfunction

function s:Text()
  return join(getline(1, '$'), "\n")
endfunction

function s:Finding(name)
  return filter(ale#engine#GetLoclist(bufnr('')), {_, it -> get(it, 'code', '') ==# a:name})
endfunction

function s:Shown(name)
  return !empty(s:Finding(a:name))
endfunction

function s:Undo(whole, what)
  silent undo
  call s:Must(s:Text() ==# a:whole, 'undo after ' . a:what . ' is not one step')
  call s:Rest()
endfunction

" ALE asks with this; it shows what can be done, with numbers.
runtime autoload/ale/util.vim
function! ale#util#Input(message, value, ...)
  return a:message =~# '^New name' ? 'rope-walk' : matchstr(a:message, '\d\+\ze) take the next step\n')
endfunction

function s:Day()
  set hidden
  let ale = matchstr(join(readfile(globpath(&runtimepath, 'autoload/ale.vim'))), 'ale_version = \[\zs[^]]*')
  call s:Say('client', printf('Vim %d.%d, ALE %s', v:version / 100, v:version % 100, substitute(ale, ', ', '.', 'g')))
  let start = reltime()
  edit mistakes/back-from-the-printer.gset
  call ale#Queue(0)
  call s:Wait('the first finding', {-> s:Shown('givens-clash')})
  call s:Say('first', printf('%.1f', reltimefloat(reltime(start)) * 1000))

  edit volume/01-up-the-hill.gset
  call s:Rest()
  call s:Must(&filetype ==# 'gridsetter' && &commentstring ==# '# %s', 'not set up')
  call s:Say('opened', expand('%'))
  let whole = s:Text()

  " A second 9 in row 1: the finding comes, and goes with the slip, however often.
  let row = search('^givens$', 'w') + 1
  let times = []
  for _ in range(21)
    call cursor(row, 7)
    let start = reltime()
    normal! r9
    call s:Rest()
    call s:Wait('the finding', {-> s:Shown('givens-clash')})
    call add(times, reltimefloat(reltime(start)) * 1000)
    if len(times) == 1
      let finding = s:Finding('givens-clash')[0]
      call s:Must(finding.lnum == row && finding.col == 7, string(finding))
      call s:Say('found', finding.text)
    endif
    call s:Undo(whole, 'a slip')
    call s:Wait('the end of the finding', {-> !s:Shown('givens-clash')})
  endfor
  call s:Say('keystroke', printf('%.1f', sort(times, 'f')[10]))

  call cursor(row, 7)
  ALEHover
  call s:Wait('what is told of a cell', {-> &previewwindow || !empty(filter(range(1, winnr('$')), {_, it -> getwinvar(it, '&previewwindow')}))})
  wincmd P
  let said = s:Text()
  pclose
  call s:Must(said =~# '9 is out: r1c1 holds it', said)
  call s:Say('hovered', said)

  ALECodeAction
  call s:Wait('the next step', {-> s:Text() !=# whole})
  call s:Must(getline(row + 9) ==# 'work', getline(row + 9))
  call s:Say('stepped', getline(row + 10) . ' …')
  call s:Undo(whole, 'taking the next step')

  call setline(row, [' 93. 67. ..4', '..6|.4.|...'])
  call s:Rest()
  let untidy = s:Text()
  ALEFix
  call s:Wait('the one form', {-> s:Text() !=# untidy})
  call s:Must(s:Text() ==# whole, 'not formatted')
  call s:Say('formatted', getline(row))
  call s:Undo(untidy, 'formatting')
  call s:Undo(whole, 'typing')

  " Another id, here and in the file of the answers, which is not open.
  let place = search('^puzzle ql-02', 'w')
  call cursor(place, 8)
  ALERename
  call s:Wait('the new id', {-> s:Text() !=# whole})
  call s:Must(index(getbufline('04-answers.gset', 1, '$'), 'answer rope-walk') > 0, 'not renamed in the other file')
  call s:Must(s:Text() ==# substitute(whole, 'ql-02', 'rope-walk', 'g'), 'not renamed in the file')
  call s:Say('renamed', getline(place))
  call s:Undo(whole, 'renaming')
endfunction

try
  call s:Day()
catch
  call writefile([v:exception, v:throwpoint], '/dev/stderr', 'a')
  cquit
endtry
qall!
