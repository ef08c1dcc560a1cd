vim.filetype.add({ extension = { gset = "gridsetter" } })
