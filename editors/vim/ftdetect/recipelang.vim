autocmd BufRead,BufNewFile *.recipe setfiletype recipelang
