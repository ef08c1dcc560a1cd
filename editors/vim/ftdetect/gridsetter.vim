autocmd BufRead,BufNewFile *.gset setfiletype gridsetter
