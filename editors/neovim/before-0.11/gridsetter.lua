-- The language server of the notation, for Neovim 0.7 to 0.10: to be copied into ~/.config/nvim/plugin/.

vim.api.nvim_create_autocmd({ "BufRead", "BufNewFile" }, {
  pattern = "*.gset",
  callback = function()
    vim.bo.filetype = "gridsetter"
    vim.bo.commentstring = "# %s"
  end,
})

--- The nearest folder upward that holds settings or a repository; otherwise that of the file.
local function root_of(file)
  local folder = vim.fn.fnamemodify(file, ":p:h")
  local above = folder
  repeat
    if vim.fn.filereadable(above .. "/gridsetter.toml") == 1 or vim.fn.isdirectory(above .. "/.git") == 1 then
      return above
    end
    local last = above
    above = vim.fn.fnamemodify(above, ":h")
  until above == last
  return folder
end

-- One server a folder.
local servers = {}

vim.api.nvim_create_autocmd("FileType", {
  pattern = "gridsetter",
  callback = function(event)
    local root = root_of(vim.api.nvim_buf_get_name(event.buf))
    servers[root] = servers[root]
      or vim.lsp.start_client({
        name = "gridsetter",
        cmd = { "gridsetter", "serve" },
        root_dir = root,
        workspace_folders = { { uri = vim.uri_from_fname(root), name = root } },
        init_options = { mistakes = "ask" },
        flags = { debounce_text_changes = 0 },
        on_exit = function()
          servers[root] = nil
        end,
      })
    if servers[root] then
      vim.lsp.buf_attach_client(event.buf, servers[root])
    end
  end,
})
