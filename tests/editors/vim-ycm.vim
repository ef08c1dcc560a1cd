" How what `vim.vim` does is done with YouCompleteMe.

let g:plugin = {}

function g:plugin.name()
  return 'YouCompleteMe with ycmd ' . readfile($YCMD . '/CORE_VERSION')[0]
endfunction

" It begins when Vim has started, and then with each file. It asks with functions of Python, and is answered as a person would.
function g:plugin.begin()
  doautocmd VimEnter
  doautocmd FileType
  py3 vimsupport.SelectFromList = lambda prompt, items: items.index("take the next step")
  py3 vimsupport.Confirm = lambda message: True
  " Its server is told to end when Vim does, and on a busy machine does not always hear it.
  autocmd VimLeavePre * py3 ycm_state._server_popen.kill()
endfunction

" What comes at once its server takes in any order; a person is not so fast.
function s:Ask(command)
  sleep 500m
  execute 'YcmCompleter' a:command
endfunction

function g:plugin.findings()
  return getloclist(0)
endfunction

function g:plugin.hover()
  call s:Ask('GetHover')
endfunction

function g:plugin.take_step()
  call s:Ask('FixIt')
endfunction

function g:plugin.format()
  call s:Ask('Format')
endfunction

function g:plugin.rename()
  call s:Ask('RefactorRename rope-walk')
endfunction
