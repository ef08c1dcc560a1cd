-- The language server of the notation, for vim.lsp.enable("gridsetter").

---@type vim.lsp.Config
return {
  cmd = { "gridsetter", "serve" },
  filetypes = { "gridsetter" },
  root_markers = { "gridsetter.toml", ".git" },
  init_options = {
    -- "show": mistakes in a solver's work that only the solution reveals are shown as other findings.
    -- "ask": only when the code action asks for them.
    mistakes = "ask",
    -- "show": the reason of a step that names none stands behind it. "ask": only hover tells.
    reasons = "ask",
    -- "show" or "hide": what each row misses, at its end; what there is to say of a puzzle or a walkthrough, above it.
    rows = "show",
    lenses = "show",
  },
  -- Each keystroke is sent at once: the server keeps up, and otherwise Neovim waits for 150 ms.
  flags = { debounce_text_changes = 0 },
}
