" Vim itself takes *.recipe for a package recipe of another kind, so this must be `set`, not `setfiletype`.
augroup recipelangdetect
  autocmd!
  autocmd BufRead,BufNewFile *.recipe set filetype=recipelang
augroup END
