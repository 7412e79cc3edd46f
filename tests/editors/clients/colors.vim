" Writes down, for every line of the file, each stretch of one color as [group, text].
syntax on
let s:lines = []
for s:row in range(1, line('$'))
  let s:text = getline(s:row)
  let s:parts = []
  for s:column in range(1, len(s:text))
    let s:group = substitute(synIDattr(synID(s:row, s:column, 1), 'name'), '^recipelang', '', '')
    if empty(s:parts) || s:parts[-1][0] isnot# s:group
      call add(s:parts, [s:group, ''])
    endif
    let s:parts[-1][1] .= s:text[s:column - 1]
  endfor
  call add(s:lines, s:parts)
endfor
call writefile([json_encode({'lines': s:lines})], $RESULTS)
qall!
