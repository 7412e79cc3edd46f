" Lays a file out with `recipelang format`.

function! ale#fixers#recipelang#Fix(buffer) abort
  return {'command': ale#Escape(ale#Var(a:buffer, 'recipelang_executable')) . ' format -'}
endfunction
