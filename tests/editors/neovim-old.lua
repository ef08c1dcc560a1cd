-- Within Neovim 0.7, started by `run`: it counts columns in UTF-16 units and knows less of the protocol.

local both = dofile((debug.getinfo(1, "S").source:sub(2):gsub("[^/]+$", "neovim-both.lua")))
local PATIENCE, say, wait, lines, text = both.PATIENCE, both.say, both.wait, both.lines, both.text
local line_of, finding, next_step, undo = both.line_of, both.finding, both.next_step, both.undo

local function run()
  both.open()
  vim.cmd("edit volume/01-up-the-hill.gset")
  local client = vim.tbl_values(vim.lsp.buf_get_clients(0))[1]
  assert(#vim.tbl_values(vim.lsp.get_active_clients()) == 1, "one server for one folder")
  assert(client.offset_encoding == "utf-16", client.offset_encoding)
  say("opened", vim.fn.expand("%") .. ", columns in " .. client.offset_encoding)
  local whole = text()

  local row = line_of("givens")
  both.slip(row)

  -- A finding behind a sign of two units stands where it should.
  local tram = line_of("  🚋")
  local from = lines()[tram]:find("{ql%-02}")
  next_step()
  vim.api.nvim_buf_set_text(0, tram - 1, from, tram - 1, from + 5, { "ql-20" })
  wait("that no puzzle has this id", function()
    return finding("id-unknown")
  end)
  local place = finding("id-unknown")
  assert(place.lnum == tram - 1 and place.col == from and place.end_col == from + 5, vim.inspect(place))
  undo(whole, "another slip")

  vim.api.nvim_win_set_cursor(0, { row + 1, 6 })
  local answer = vim.lsp.buf_request_sync(0, "textDocument/hover", vim.lsp.util.make_position_params(), PATIENCE)
  local said = answer[client.id].result.contents.value
  assert(said:find("9 is out: r1c1 holds it", 1, true), said)
  say("hovered", said)

  -- Neovim lists what can be done; this stands for the person who chooses.
  vim.ui.select = function(choices, options, choose)
    for _, choice in ipairs(choices) do
      if options.format_item(choice) == "take the next step" then
        return choose(choice)
      end
    end
    error("the next step is not offered")
  end
  next_step()
  vim.lsp.buf.code_action()
  wait("the next step", function()
    return text() ~= whole
  end)
  assert(lines()[row + 10] == "work", lines()[row + 10])
  -- The givens of row 5 leave only its 8 open.
  assert(lines()[row + 15] == "  6   1   4   9   8   2   5   3   7", text())
  say("stepped", lines()[row + 15])
  undo(whole, "taking the next step")

  next_step()
  vim.api.nvim_buf_set_lines(0, row, row + 2, false, { " 93. 67. ..4", "..6|.4.|..." })
  vim.lsp.buf.formatting_sync(nil, PATIENCE)
  assert(text() == whole, text())
  say("formatted", lines()[row + 1])
  undo(whole, "formatting")

  -- Another id, here and in the file of the answers, which is not open: asked for behind the sign of two units.
  vim.api.nvim_win_set_cursor(0, { tram, from + 2 })
  next_step()
  vim.lsp.buf.rename("rope-walk")
  wait("the new id", function()
    return text() ~= whole
  end)
  assert(text() == whole:gsub("ql%-02", "rope-walk"), text())
  say("renamed", lines()[tram])
  assert(vim.tbl_contains(lines(vim.fn.bufnr("volume/04-answers.gset")), "answer rope-walk"))
  undo(whole, "renaming")
end

both.start(run)
