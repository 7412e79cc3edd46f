-- What an author does in Neovim, one thing after the other. Each result goes into the file named by $RESULTS.
local results = {}
local patience = tonumber(vim.env.PATIENCE)

local function note(name, value)
  results[name] = value == nil and vim.NIL or value
  local file = assert(io.open(vim.env.RESULTS, 'w'))
  file:write(vim.json.encode(results))
  file:close()
end

local function wait(name, holds)
  assert(vim.wait(patience, holds, 10), 'waited in vain: ' .. name)
end

local function diagnostics(severity)
  local found = {}
  for _, one in ipairs(vim.diagnostic.get(0, { severity = severity })) do
    table.insert(found, one.code .. ': ' .. one.message:match('[^\n]*'))
  end
  return found
end

local function client()
  return vim.lsp.get_clients({ bufnr = 0, name = 'recipelang' })[1]
end

local function request(method, params)
  local answer = client():request_sync(method, params, patience, vim.api.nvim_get_current_buf())
  return answer and answer.result
end

local function text()
  return table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), '\n') .. '\n'
end

local function open(name)
  vim.cmd.edit(vim.env.LIBRARY .. '/' .. name)
  wait('server', function() return client() ~= nil and client().initialized end)
end

local function place(needle, at)
  vim.fn.cursor(1, 1)
  assert(vim.fn.search('\\V' .. needle, 'c') > 0, needle)
  vim.fn.cursor(vim.fn.line('.'), vim.fn.col('.') + (at or 0))
end

local function work()
  -- a finding shows
  open('recipes/cup.recipe')
  note('filetype', vim.bo.filetype)
  note('syntax', vim.fn.synIDattr(vim.fn.synID(1, 1, 1), 'name'))
  wait('shows', function() return #diagnostics({ min = vim.diagnostic.severity.ERROR }) > 0 end)
  note('findings', diagnostics())

  -- it is fixed
  local error = vim.diagnostic.get(0, { severity = vim.diagnostic.severity.ERROR })[1]
  vim.fn.cursor(error.lnum + 1, error.col + 1)
  local titles = {}
  vim.lsp.buf.code_action({
    apply = true,
    context = { diagnostics = { error.user_data.lsp }, only = { 'quickfix' } },
    filter = function(action)
      table.insert(titles, action.title)
      return action.title:find(vim.env.FOOD, 1, true) ~= nil
    end,
  })
  wait('fixed', function() return not text():find(vim.env.SLIP, 1, true) end)
  note('titles', titles)
  wait('clears', function() return #diagnostics({ min = vim.diagnostic.severity.ERROR }) == 0 end)
  note('left', diagnostics())

  -- a food is completed
  place('6 lb 8 oz')
  local line = vim.fn.line('.')
  vim.api.nvim_buf_set_lines(0, line, line, false, { vim.env.BEGUN })
  vim.fn.cursor(line + 1, #vim.env.BEGUN + 1)
  local params = vim.lsp.util.make_position_params(0, client().offset_encoding)
  params.position.character = #vim.env.BEGUN
  local answer = request('textDocument/completion', params) or {}
  local labels = {}
  for _, item in ipairs(answer.items or answer) do
    table.insert(labels, item.label)
  end
  note('completions', labels)
  vim.api.nvim_buf_set_lines(0, line, line + 1, false, {})

  -- what is under the cursor is explained
  place(vim.env.FOOD)
  local hover = request('textDocument/hover', vim.lsp.util.make_position_params(0, client().offset_encoding))
  note('hover', hover and hover.contents and (hover.contents.value or hover.contents))
  local definition = request('textDocument/definition', vim.lsp.util.make_position_params(0, client().offset_encoding)) or {}
  definition = definition[1] or definition
  note('definition', vim.fs.basename(definition.uri or definition.targetUri or ''))

  -- it is renamed, in this file and in those that are not open
  vim.lsp.buf.rename(vim.env.NEW_NAME)
  wait('renamed', function() return text():find(vim.env.NEW_NAME, 1, true) ~= nil end)
  vim.cmd.wall()
  note('cup', text())

  -- a file is laid out
  open('recipes/loose.recipe')
  vim.lsp.buf.format({ timeout_ms = patience })
  note('formatted', text())
  vim.cmd.wall()
end

local done, why = pcall(work)
if not done then
  note('failed', tostring(why))
end
vim.cmd.qall({ bang = true })
