if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1

setlocal comments=:// commentstring=//\ %s
setlocal expandtab shiftwidth=4 softtabstop=4 autoindent
setlocal formatoptions-=t formatoptions+=croql
" a name is several words, and `meat/meat alternate` one
setlocal iskeyword+=-

let b:ale_fixers = get(b:, 'ale_fixers', ['recipelang'])
let b:undo_ftplugin = 'setlocal comments< commentstring< expandtab< shiftwidth< softtabstop< autoindent< formatoptions< iskeyword<'
