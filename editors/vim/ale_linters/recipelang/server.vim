" The language server for ALE: findings, quick fixes, completion, hover, rename.

call ale#Set('recipelang_executable', 'recipelang')

function! ale_linters#recipelang#server#Root(buffer) abort
  let l:config = ale#path#FindNearestFile(a:buffer, 'recipelang.toml')
  return empty(l:config) ? fnamemodify(bufname(a:buffer), ':p:h') : fnamemodify(l:config, ':h')
endfunction

call ale#linter#Define('recipelang', {
\   'name': 'server',
\   'aliases': ['recipelang'],
\   'lsp': 'stdio',
\   'language': 'recipelang',
\   'executable': {buffer -> ale#Var(buffer, 'recipelang_executable')},
\   'command': '%e server',
\   'project_root': function('ale_linters#recipelang#server#Root'),
\})
