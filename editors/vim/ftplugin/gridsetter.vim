setlocal commentstring=#\ %s
let b:ale_fixers = ['ale#fixers#gridsetter#Fix']
