-- Within Neovim 0.11 or later, started by `run`: what a person does in a file, and that the editor shows what it must.

local both = dofile((debug.getinfo(1, "S").source:sub(2):gsub("[^/]+$", "neovim-both.lua")))
local PATIENCE, say, wait, lines, text = both.PATIENCE, both.say, both.wait, both.lines, both.text
local line_of, finding, next_step, undo = both.line_of, both.finding, both.next_step, both.undo

--- Takes the action of this title at a place.
local function choose(title, line, column)
  vim.api.nvim_win_set_cursor(0, { line, column })
  vim.lsp.buf.code_action({
    apply = true,
    filter = function(action)
      return action.title == title
    end,
  })
end

local function run()
  both.open()
  local client = vim.lsp.get_clients({ bufnr = 0, name = "gridsetter" })[1]
  vim.cmd.edit("volume/01-up-the-hill.gset")
  wait("the same server", function()
    return client.attached_buffers[vim.api.nvim_get_current_buf()]
  end)
  assert(vim.bo.filetype == "gridsetter" and vim.bo.commentstring == "# %s")
  assert(client.offset_encoding == "utf-8", client.offset_encoding)
  say("opened", vim.fn.expand("%") .. ", columns in " .. client.offset_encoding)
  local whole = text()

  local row = line_of("givens")
  both.slip(row)

  -- Ask for an empty cell, as K does.
  vim.api.nvim_win_set_cursor(0, { row + 1, 6 })
  local at = vim.lsp.util.make_position_params(0, vim.lsp.get_clients({ bufnr = 0 })[1].offset_encoding)
  local answer = vim.lsp.buf_request_sync(0, "textDocument/hover", at, PATIENCE)
  local said = ""
  for _, one in pairs(answer) do
    said = said .. one.result.contents.value
  end
  assert(said:find("**r1c3**", 1, true) and said:find("9 is out: r1c1 holds it", 1, true), said)
  say("hovered", said)

  -- Begin a sheet; then write the solution. Each is one step back.
  next_step()
  choose("begin a sheet, with marks", row + 1, 6)
  wait("the sheet", function()
    return text() ~= whole
  end)
  assert(lines()[row + 10] == "work", lines()[row + 10])
  undo(whole, "beginning a sheet")
  -- Take the next step: a new sheet holds one digit more than the givens.
  next_step()
  choose("take the next step", row + 1, 6)
  wait("the next step", function()
    return text() ~= whole
  end)
  local function digits(from)
    local rows = table.concat(vim.api.nvim_buf_get_lines(0, from, from + 9, false), "")
    return select(2, rows:gsub("%d", ""))
  end
  assert(lines()[row + 10] == "work", lines()[row + 10])
  assert(digits(row + 10) == digits(row) + 1, text())
  -- The givens of row 5 leave only its 8 open.
  assert(lines()[row + 15] == "  6   1   4   9   8   2   5   3   7", text())
  say("stepped", lines()[row + 15])
  undo(whole, "taking the next step")

  next_step()
  choose("write the solution", row + 1, 6)
  wait("the solution", function()
    return text() ~= whole
  end)
  assert(lines()[row + 10] == "solution" and not lines()[row + 11]:find(".", 1, true), lines()[row + 11])
  wait("that it is right", function()
    return not finding("solution-wrong")
  end)
  undo(whole, "writing the solution")

  -- Fix a slip by its fix.
  next_step()
  vim.api.nvim_buf_set_text(0, row - 1, 0, row - 1, 6, { "givenz" })
  local slipped = text()
  wait("the slip", function()
    return finding("unknown-statement")
  end)
  next_step()
  choose("write `givens`", row, 2)
  wait("the fix", function()
    return text() == whole
  end)
  undo(slipped, "a fix")
  vim.cmd("silent undo")
  assert(text() == whole)

  -- A walkthrough: a false step, a reason that does not fit, a step that comes too early; each is found and mended.
  local walk = line_of("puzzle ql-06")
  local function of_walk(start)
    return line_of(start, walk)
  end
  local function change(start, new)
    local number = of_walk(start)
    next_step()
    vim.api.nvim_buf_set_lines(0, number - 1, number, false, new and { new } or {})
    return number
  end
  change("  r8c9 = 8", "  r8c9 = 5  by crossing in box 9")
  wait("that the step is false", function()
    return finding("step-false")
  end)
  undo(whole, "a false step")
  local number = change("  r8c9 = 8", "  r8c9 = 8  by settling")
  local wrong = text()
  wait("that the reason does not fit", function()
    return finding("step-reason")
  end)
  next_step()
  choose("write `by crossing in box 9`", number, 3)
  wait("the right reason", function()
    return text() == whole
  end)
  undo(wrong, "putting the right reason")
  vim.cmd("silent undo")
  change("  2 of box 1 in row 3", nil)
  wait("that the step comes too early", function()
    return finding("step-early")
  end)
  next_step()
  local early = text()
  choose("write the missing step", of_walk("  r3c4 = 9"), 3)
  wait("the missing step", function()
    return text() ~= early and not finding("step-early")
  end)
  assert(of_walk("  2 of box 1 in row 3") + 1 == of_walk("  r3c4 = 9"), text())
  undo(early, "writing the missing step")
  vim.cmd("silent undo")
  assert(text() == whole, "all is as it was")

  -- Formatting, too, is one step.
  next_step()
  vim.api.nvim_buf_set_lines(0, row, row + 2, false, { " 93. 67. ..4", "..6|.4.|..." })
  local untidy = text()
  next_step()
  vim.lsp.buf.format({ timeout_ms = PATIENCE })
  assert(text() == whole, text())
  say("formatted", lines()[row + 1])
  undo(untidy, "formatting")
  vim.cmd("silent undo")

  -- Another id, here and in the file of the answers, which is not open.
  local place = line_of("puzzle ql-02")
  vim.api.nvim_win_set_cursor(0, { place, 8 })
  next_step()
  vim.lsp.buf.rename("rope-walk")
  wait("the new id", function()
    return text() ~= whole
  end)
  assert(text() == whole:gsub("ql%-02", "rope-walk"), text())
  say("renamed", lines()[place])
  local answers = vim.fn.bufnr("volume/04-answers.gset")
  assert(vim.tbl_contains(lines(answers), "answer rope-walk"))
  undo(whole, "renaming")
end

both.start(run)
