" Knows the file type where `filetype on` came before this folder was on the path, and tells ALE of the fixer.

if exists('g:loaded_recipelang')
  finish
endif
let g:loaded_recipelang = 1

runtime ftdetect/recipelang.vim

let g:ale_recipelang_executable = get(g:, 'ale_recipelang_executable', 'recipelang')

" says nothing where ALE is not on the path
silent! call ale#fix#registry#Add('recipelang', 'ale#fixers#recipelang#Fix', ['recipelang'], 'Lay recipes out')
