-- What Neovim sees of an open spec, as lines of JSON; started by nvim.mjs after the set-up of docs/editors.md.
local buf = vim.api.nvim_get_current_buf()

local function say(value)
  io.stdout:write(vim.fn.json_encode(value) .. '\n')
end

-- Neovim counts columns in bytes; the protocol and our command line do not.
local function utf16(lnum, col)
  local line = vim.api.nvim_buf_get_lines(buf, lnum, lnum + 1, false)[1] or ''
  local _, units = vim.str_utfindex(line, math.min(col, #line))
  return units
end

local function findings()
  local told = {}
  for _, d in ipairs(vim.diagnostic.get(buf)) do
    local code = d.code or (d.user_data and d.user_data.lsp and d.user_data.lsp.code)
    table.insert(told, {
      rule = code,
      severity = d.severity,
      source = d.source,
      message = d.message,
      line = d.lnum + 1,
      column = utf16(d.lnum, d.col) + 1,
      endLine = d.end_lnum + 1,
      endColumn = utf16(d.end_lnum, d.end_col) + 1,
    })
  end
  return told
end

local function at(text)
  for index, line in ipairs(vim.api.nvim_buf_get_lines(buf, 0, -1, false)) do
    local col = line:find(text, 1, true)
    if col then return { line = index - 1, character = col - 1 } end
  end
end

local ok, err = pcall(function()
  assert(vim.wait(60000, function() return next(vim.lsp.buf_get_clients(buf)) ~= nil end, 20), 'the server did not start')
  local id = next(vim.lsp.buf_get_clients(buf))
  assert(vim.wait(60000, function() return #vim.diagnostic.get(buf) > 0 end, 20), 'no findings within 60 s')
  say({ step = 'findings', findings = findings() })

  local place = at('shuter')
  local range = { start = place, ['end'] = { line = place.line, character = place.character + 6 } }
  local document = vim.lsp.util.make_text_document_params(buf)
  local hover = vim.lsp.buf_request_sync(buf, 'textDocument/hover', { textDocument = document, position = at('white-balance') }, 60000)
  say({ step = 'hover', text = hover[id].result.contents.value })

  local request = { textDocument = document, range = range, context = { diagnostics = vim.lsp.diagnostic.get_line_diagnostics(buf, place.line), only = { 'quickfix' } } }
  local actions = vim.lsp.buf_request_sync(buf, 'textDocument/codeAction', request, 60000)[id].result
  assert(actions and actions[1], 'no action was offered')
  local action = actions[1]
  if not action.edit then
    action = vim.lsp.buf_request_sync(buf, 'codeAction/resolve', action, 60000)[id].result
  end
  vim.lsp.util.apply_workspace_edit(action.edit, 'utf-16')
  local function unknown() return vim.tbl_filter(function(f) return f.message:find('shuter', 1, true) end, findings()) end
  assert(vim.wait(60000, function() return #unknown() == 0 end, 20), 'the finding stayed after its fix')
  say({ step = 'fixed', title = action.title, line = vim.api.nvim_buf_get_lines(buf, place.line, place.line + 1, false)[1] })
  vim.lsp.stop_client(id)
  assert(vim.wait(60000, function() return vim.lsp.client_is_stopped(id) end, 20), 'the server did not stop')
  say({ step = 'stopped' })
end)
if not ok then
  say({ step = 'failed', message = tostring(err) })
  vim.cmd('cquit 1')
end
vim.cmd('qall!')
