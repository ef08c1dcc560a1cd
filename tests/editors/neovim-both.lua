-- What the scripts for new and old Neovim have in common. `run` starts one of them, which runs this file.

local both = {}

both.PATIENCE = 30000

--- Notes a step that went well.
function both.say(what, seen)
  io.stdout:write(what .. "\t" .. seen:gsub("\n", " / ") .. "\n")
end

local function now()
  return vim.loop.hrtime() / 1e6
end

function both.wait(what, fits)
  assert(vim.wait(both.PATIENCE, fits, 1), "waited in vain: " .. what)
end

--- The lines of a buffer; without one, of the current.
function both.lines(buffer)
  return vim.api.nvim_buf_get_lines(buffer or 0, 0, -1, false)
end

function both.text()
  return table.concat(both.lines(), "\n")
end

--- The number of the first line that begins so, counted from 1.
function both.line_of(start, from)
  local lines = both.lines()
  for number = from or 1, #lines do
    if vim.startswith(lines[number], start) then
      return number
    end
  end
  error("no line " .. start)
end

--- The first finding of this name.
function both.finding(name)
  for _, finding in ipairs(vim.diagnostic.get(0)) do
    if finding.code == name and finding.source == "gridsetter" then
      return finding
    end
  end
end

--- Ends the undo step that is being made, as a person does by doing something else.
function both.next_step()
  vim.bo.undolevels = vim.bo.undolevels
end

function both.undo(back_to, what)
  vim.cmd("silent undo")
  assert(both.text() == back_to, "undo after " .. what .. " is not one step")
end

--- Opens a first file, until something is found in it.
function both.open()
  local version = vim.version()
  both.say("client", ("Neovim %d.%d.%d"):format(version.major, version.minor, version.patch))
  local start = now()
  vim.cmd("edit mistakes/back-from-the-printer.gset")
  both.wait("the first finding", function()
    return both.finding("givens-clash")
  end)
  both.say("first", ("%.1f"):format(now() - start))
end

--- Writes a second 9 in row 1, the line behind this one. The finding comes, and goes with the slip, however often.
function both.slip(row)
  local whole = both.text()
  local times = {}
  for _ = 1, 21 do
    both.next_step()
    local start = now()
    vim.api.nvim_buf_set_text(0, row, 6, row, 7, { "9" })
    both.wait("the finding", function()
      return both.finding("givens-clash")
    end)
    table.insert(times, now() - start)
    if #times == 1 then
      both.say("found", both.finding("givens-clash").message)
    end
    both.undo(whole, "a slip")
    both.wait("the end of the finding", function()
      return not both.finding("givens-clash")
    end)
  end
  table.sort(times)
  both.say("keystroke", ("%.1f"):format(times[11]))
end

--- Runs what is to be seen, and ends. Whatever fails must not keep the editor open.
function both.start(run)
  vim.schedule(function()
    local well, why = xpcall(run, debug.traceback)
    if not well then
      io.stderr:write(tostring(why) .. "\n")
    end
    vim.cmd(well and "qall!" or "cquit 1")
  end)
end

return both
