-- Read by `vim.lsp.enable('recipelang')` in Neovim 0.11 and later.
return {
  cmd = { 'recipelang', 'server' },
  filetypes = { 'recipelang' },
  root_markers = { 'recipelang.toml', '.git' },
}
