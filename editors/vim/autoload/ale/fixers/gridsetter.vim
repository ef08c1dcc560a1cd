" The one form of the notation, for :ALEFix, which knows commands only and asks no server.
function! ale#fixers#gridsetter#Fix(buffer) abort
  return {'command': 'gridsetter fmt --stdin-name %s -'}
endfunction
