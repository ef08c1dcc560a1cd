// CodeMirror in a browser without a window, by keys and pointer: `codemirror.mjs SHELF PAGE`, where PAGE is what the page of
// `editors/codemirror` says to write. Started by `run`.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import { join } from "node:path";
import { build } from "esbuild";
import { chromium } from "playwright-core";

const [shelf, page] = process.argv.slice(2);
const PATIENCE = 30000;
const say = (what, seen) => console.log(`${what}\t${String(seen).replaceAll("\n", " / ")}`);
const package_ = createRequire(import.meta.url)("@codemirror/lsp-client/package.json");

// A page and the texts that it opens.
const files = createServer(async (asked, answer) => {
  const { pathname, searchParams } = new URL(asked.url, "http://page");
  if (pathname.endsWith(".gset")) return answer.end(await readFile(join(shelf, pathname)));
  const bundle = searchParams.has("open") ? await bundled(searchParams.get("open")) : "";
  answer.setHeader("Content-Type", "text/html; charset=utf-8");
  answer.end(`<!doctype html><title>Shelf</title><body><script type="module">${bundle}</script>`);
});
await new Promise((listening) => files.listen(0, "127.0.0.1", listening));
const origin = `http://127.0.0.1:${files.address().port}`;

const bridge = spawn("node", ["bridge.mjs", "0", origin], { stdio: ["ignore", "pipe", "inherit"] });
const address = String(await new Promise((listening) => bridge.stdout.once("data", listening))).trim();

/** What a person is told to write, with a folder and a file of this shelf. */
async function bundled(file) {
  const told = (await readFile(page, "utf8"))
    .replace("file:///home/me/puzzles", `file://${shelf}`)
    .replace("book.gset", file)
    .replace("ws://127.0.0.1:7070", address);
  const contents = `${told}\nglobalThis.view = view;\nglobalThis.EditorView = EditorView;`;
  const made = await build({
    stdin: { contents, resolveDir: "." },
    bundle: true,
    write: false,
    format: "esm",
    logLevel: "error",
  });
  return made.outputFiles[0].text.replaceAll("</script", "<\\/script");
}

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox"],
});
try {
  await day(await browser.newPage());
} finally {
  await browser.close();
  bridge.kill();
  files.close();
}

/** What a person does. */
async function day(tab) {
  tab.setDefaultTimeout(PATIENCE);
  tab.on("pageerror", (why) => console.error(why));
  say("client", `CodeMirror lsp-client ${package_.version}, Chromium ${browser.version()}`);

  const finding = tab.locator(".cm-lintRange-error");
  const text = () => tab.evaluate(() => view.state.doc.toString());
  const line = (number) => tab.evaluate((number) => view.state.doc.line(number).text, number);
  /** Sets the cursor before the first of these words, behind so many characters, and selects some. */
  const go = (words, behind = 0, length = 0) =>
    tab.evaluate(
      ([words, behind, length]) => {
        const anchor = view.state.doc.toString().indexOf(words) + behind;
        view.focus();
        view.dispatch({
          selection: { anchor, head: anchor + length },
          effects: EditorView.scrollIntoView(anchor, { y: "center" }),
        });
        return view.state.doc.lineAt(anchor).number;
      },
      [words, behind, length],
    );
  const becomes = (whole) => tab.waitForFunction((whole) => view.state.doc.toString() === whole, whole);
  const changes = (whole) => tab.waitForFunction((whole) => view.state.doc.toString() !== whole, whole);
  const undo = async (whole) => {
    await tab.keyboard.press("Control+z");
    assert.equal(await text(), whole, "undo is not one step");
  };

  await tab.goto(`${origin}/?open=mistakes/back-from-the-printer.gset`);
  await finding.first().waitFor();
  // From when the page has come.
  const first = await tab.evaluate(() => performance.now() - performance.getEntriesByType("navigation")[0].responseEnd);
  say("first", first.toFixed(1));

  await tab.goto(`${origin}/?open=volume/01-up-the-hill.gset`);
  await tab.waitForFunction(() => globalThis.view);
  say("opened", "volume/01-up-the-hill.gset");
  const whole = await text();

  // A second 9 in row 1: the finding comes, and goes with the slip, however often.
  const row = await go("givens\n", 13);
  const times = [];
  for (let time = 0; time < 21; time++) {
    await go("givens\n", 13, 1);
    const taken = tab.evaluate(
      () =>
        new Promise((seen) => {
          let start;
          document.addEventListener("keydown", () => (start = performance.now()), { capture: true, once: true });
          const watch = new MutationObserver(() => {
            if (!document.querySelector(".cm-lintRange-error")) return;
            watch.disconnect();
            seen(performance.now() - start);
          });
          watch.observe(document.body, { childList: true, subtree: true, attributes: true });
        }),
    );
    await tab.keyboard.press("9");
    times.push(await taken);
    if (time === 0) {
      await finding.first().hover();
      say("found", await tab.locator(".cm-diagnostic").first().innerText());
      await tab.mouse.move(0, 0);
    }
    await undo(whole);
    await finding.first().waitFor({ state: "detached" });
  }
  say("keystroke", times.sort((one, other) => one - other)[10].toFixed(1));

  // A finding behind a sign of two UTF-16 units stands where it should.
  const tram = await go("🚋", 40);
  await go("{ql-02} to", 1, 5);
  await tab.keyboard.type("ql-20");
  await finding.first().waitFor();
  assert.equal(await finding.first().innerText(), "ql-20");
  await go("{ql-20} to", 1, 5);
  await tab.keyboard.type("ql-02");
  await becomes(whole);

  /** What is told where the pointer rests: before these words, behind so many characters. */
  const tooltip = tab.locator(".cm-lsp-hover-tooltip");
  const hover = async (words, behind) => {
    await go(words, behind);
    const at = await tab.evaluate(() => view.coordsAtPos(view.state.selection.main.head));
    await tab.mouse.move(at.left + 2, (at.top + at.bottom) / 2);
    return tooltip.innerText();
  };
  const told = await hover("givens\n", 13);
  assert.match(told, /9 is out: r1c1 holds it/);
  say("hovered", told);
  await tab.mouse.move(0, 0);

  // A title that a stranger wrote is told as it is, and nothing else comes of it.
  await go('"Rope Walk"', 1, 9);
  await tab.keyboard.insertText("<img src=x onerror=alert(1)>");
  assert.match(await hover("{ql-02} to", 3), /<img src=x onerror=alert\(1\)>/);
  assert.equal(await tooltip.locator("img").count(), 0);
  await tab.mouse.move(0, 0);
  await undo(whole);

  await go("givens\n", 13);
  await tab.keyboard.press("Control+.");
  await tab.locator(".gridsetter-actions button", { hasText: /^take the next step$/ }).click();
  await changes(whole);
  assert.equal(await line(row + 9), "work");
  // The givens of row 5 leave only its 8 open.
  assert.equal(await line(row + 14), "  6   1   4   9   8   2   5   3   7");
  say("stepped", await line(row + 14));
  await undo(whole);

  await tab.evaluate((row) => {
    const [from, to] = [view.state.doc.line(row).from, view.state.doc.line(row + 1).to];
    view.dispatch({ changes: { from, to, insert: " 93. 67. ..4\n..6|.4.|..." } });
  }, row);
  await tab.keyboard.press("Shift+Alt+f");
  await becomes(whole);
  say("formatted", await line(row));

  await go("{ql-02} to", 3);
  await tab.keyboard.press("F2");
  await tab.locator(".cm-lsp-rename-panel input").fill("rope-walk");
  await tab.keyboard.press("Enter");
  await becomes(whole.replaceAll("ql-02", "rope-walk"));
  say("renamed", await line(tram));
  await undo(whole);
}
