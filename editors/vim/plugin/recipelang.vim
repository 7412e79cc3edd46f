" Tells ALE of the fixer, wherever ALE is loaded: before this file or after it.

if exists('g:loaded_recipelang')
  finish
endif
let g:loaded_recipelang = 1

let g:ale_recipelang_executable = get(g:, 'ale_recipelang_executable', 'recipelang')

function! s:TellAle() abort
  if exists('g:loaded_ale')
    call ale#fix#registry#Add('recipelang', 'ale#fixers#recipelang#Fix', ['recipelang'], 'Lay recipes out')
  endif
endfunction

autocmd VimEnter * call s:TellAle()
