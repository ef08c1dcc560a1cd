vim.bo.commentstring = "# %s"
