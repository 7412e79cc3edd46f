" What an author does in Vim with ALE. Each result goes into the file named by $RESULTS.

let s:results = {}
let s:patience = str2nr($PATIENCE)

function! s:Note(name, value) abort
  let s:results[a:name] = a:value
  call writefile([json_encode(s:results)], $RESULTS)
endfunction

function! s:Wait(name, Holds) abort
  let l:rounds = 0
  while !a:Holds() && l:rounds * 10 < s:patience
    sleep 10m
    let l:rounds += 1
  endwhile
  if !a:Holds()
    throw 'waited in vain: ' . a:name
  endif
endfunction

function! s:Findings(only) abort
  let l:found = ale#engine#GetLoclist(bufnr(''))
  return filter(copy(l:found), {_, one -> a:only is# '' || one.type is# a:only})
endfunction

function! s:Texts() abort
  return map(s:Findings(''), {_, one -> get(one, 'code', '') . ': ' . one.text})
endfunction

function! s:Text() abort
  return join(getline(1, '$'), "\n") . "\n"
endfunction

function! s:Go(text) abort
  call cursor(1, 1)
  if search('\V' . a:text, 'c') == 0
    throw 'not here: ' . a:text
  endif
endfunction

function! s:Preview() abort
  return map(filter(getwininfo(), {_, one -> getwinvar(one.winnr, '&previewwindow')}), {_, one -> one.bufnr})
endfunction

" What the author types when ALE asks.
runtime autoload/ale/util.vim
function! ale#util#Input(message, value, ...) abort
  if a:message =~# '^Code Fixes'
    let l:titles = filter(split(a:message, "\n"), {_, line -> line =~# '^\d\+)'})
    call s:Note('titles', l:titles)
    return matchstr(get(filter(copy(l:titles), {_, line -> line =~# $FOOD}), 0, '0'), '^\d\+')
  endif
  return $NEW_NAME
endfunction

" ALE offers food only while the author is typing, which a script never is.
function! ale#util#Mode(...) abort
  return 'i'
endfunction

function! s:Work() abort
  " a finding shows
  execute 'edit ' . $LIBRARY . '/recipes/cup.recipe'
  call s:Note('filetype', &filetype)
  call s:Note('syntax', synIDattr(synID(1, 1, 1), 'name'))
  call s:Wait('shows', {-> !empty(s:Findings('E'))})
  call s:Note('findings', s:Texts())

  " it is fixed
  let l:first = s:Findings('E')[0]
  call cursor(l:first.lnum, l:first.col)
  ALECodeAction
  call s:Wait('fixed', {-> s:Text() !~# $SLIP})
  doautocmd TextChanged " a script runs outside of the loop in which Vim notices changes
  call s:Wait('clears', {-> empty(s:Findings('E'))})
  call s:Note('left', s:Texts())

  " a food is completed
  call s:Go('6 lb 8 oz')
  call append(line('.'), $BEGUN)
  let s:offered = []
  call cursor(line('.') + 1, len($BEGUN))
  call ale#completion#GetCompletions('ale-callback', {
  \   'line': line('.'),
  \   'column': len($BEGUN) + 1,
  \   'callback': {offered -> extend(s:offered, offered)},
  \})
  call s:Wait('offers', {-> !empty(s:offered)})
  call s:Note('completions', map(copy(s:offered), {_, one -> one.word}))
  delete _

  " what is under the cursor is explained
  call s:Go($FOOD)
  let g:ale_hover_to_preview = 1
  ALEHover
  call s:Wait('explains', {-> !empty(s:Preview())})
  call s:Note('hover', join(getbufline(s:Preview()[0], 1, '$'), "\n"))
  pclose!
  ALEGoToDefinition
  call s:Wait('leads', {-> expand('%:t') isnot# 'cup.recipe'})
  call s:Note('definition', expand('%:t'))
  execute 'buffer ' . bufnr('cup.recipe')

  " it is renamed, in this file and in those that are not open
  call s:Go($FOOD)
  ALERename
  call s:Wait('renamed', {-> s:Text() =~# $NEW_NAME})
  wall
  call s:Note('cup', s:Text())

  " a file is laid out
  execute 'edit ' . $LIBRARY . '/recipes/loose.recipe'
  let l:before = s:Text()
  ALEFix
  call s:Wait('changes', {-> s:Text() isnot# l:before})
  call s:Note('formatted', s:Text())
  wall
endfunction

try
  call s:Work()
catch
  call s:Note('failed', v:exception . ' in ' . v:throwpoint)
endtry
qall!
