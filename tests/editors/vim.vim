" Within Vim, started by `run`, after the file of a plug-in has said how a person does with it what is done here: `s:Plugin`
" holds functions, of which `findings` gives items as a location list has them.

let s:patience = 30

" Notes a step that went well.
function s:Say(what, seen)
  call writefile([a:what . "\t" . substitute(a:seen, "\n", ' / ', 'g')], '/dev/stdout', 'a')
endfunction

" Without a screen no command ends as Vim counts it: this does what Vim does then.
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

function s:Found(words)
  return filter(g:plugin.findings(), {_, it -> it.text =~# a:words})
endfunction

function s:Shown(words)
  return !empty(s:Found(a:words))
endfunction

function s:Undo(whole, what)
  silent undo
  call s:Must(s:Text() ==# a:whole, 'undo after ' . a:what . ' is not one step')
  call s:Rest()
endfunction

" What the preview window shows, once it is there.
function s:Preview()
  call s:Wait('the preview', {-> !empty(filter(range(1, winnr('$')), {_, it -> getwinvar(it, '&previewwindow')}))})
  wincmd P
  let said = s:Text()
  pclose
  return said
endfunction

function s:Day()
  set hidden
  call s:Say('client', printf('Vim %d.%d, %s', v:version / 100, v:version % 100, g:plugin.name()))
  let start = reltime()
  edit mistakes/back-from-the-printer.gset
  call g:plugin.begin()
  call s:Wait('the first finding', {-> s:Shown('r3c4 in box 4')})
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
    call s:Wait('the finding', {-> s:Shown('r1c3 holds 9')})
    call add(times, reltimefloat(reltime(start)) * 1000)
    if len(times) == 1
      let finding = s:Found('r1c3 holds 9')[0]
      call s:Must(finding.lnum == row && finding.col == 7, string(finding))
      call s:Say('found', finding.text)
    endif
    call s:Undo(whole, 'a slip')
    call s:Wait('the end of the finding', {-> !s:Shown('r1c3 holds 9')})
  endfor
  call s:Say('keystroke', printf('%.1f', sort(times, 'f')[10]))

  call cursor(row, 7)
  call g:plugin.hover()
  let said = s:Preview()
  call s:Must(said =~# '9 is out: r1c1 holds it', said)
  call s:Say('hovered', said)

  call g:plugin.take_step()
  call s:Wait('the next step', {-> s:Text() !=# whole})
  call s:Must(getline(row + 9) ==# 'work', getline(row + 9))
  " The givens of row 5 leave only its 8 open.
  call s:Must(getline(row + 14) ==# '  6   1   4   9   8   2   5   3   7', getline(row + 14))
  call s:Say('stepped', getline(row + 14))
  call s:Undo(whole, 'taking the next step')

  call setline(row, [' 93. 67. ..4', '..6|.4.|...'])
  call s:Rest()
  let untidy = s:Text()
  call g:plugin.format()
  call s:Wait('the one form', {-> s:Text() !=# untidy})
  call s:Must(s:Text() ==# whole, 'not formatted')
  call s:Say('formatted', getline(row))
  call s:Undo(untidy, 'formatting')
  call s:Undo(whole, 'typing')

  " Another id, here and in the file of the answers, which is not open.
  let place = search('^puzzle ql-02', 'w')
  call cursor(place, 8)
  call g:plugin.rename()
  call s:Wait('the new id', {-> s:Text() !=# whole})
  call s:Must(index(getbufline('04-answers.gset', 1, '$'), 'answer rope-walk') > 0, 'not renamed in the other file')
  call s:Must(s:Text() ==# substitute(whole, 'ql-02', 'rope-walk', 'g'), 'not renamed in the file')
  call s:Say('renamed', getline(place))
  call s:Undo(whole, 'renaming')
endfunction

try
  call s:Day()
catch
  call writefile([v:exception, v:throwpoint] + split(execute('messages'), "\n")[-5:], '/dev/stderr', 'a')
  cquit
endtry
qall!
