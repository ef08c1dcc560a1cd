// The notation in CodeMirror: findings, hover, completion, formatting and ids by its client of the Language Server Protocol, and
// beside them what this client leaves out, the list of what can be done at a place.

import { LSPClient, LSPPlugin, languageServerExtensions } from "@codemirror/lsp-client";
import { EditorState } from "@codemirror/state";
import { EditorView, keymap, showDialog } from "@codemirror/view";

/** A client of the server behind a WebSocket, for the files of a folder. */
export async function connect(address, folder, settings = {}) {
  const socket = new WebSocket(address);
  await new Promise((open, fail) => {
    socket.onopen = open;
    socket.onerror = () => fail(new Error(`nobody answers at ${address}`));
  });
  const heard = new Map();
  const transport = {
    send: (message) => socket.send(message),
    subscribe(handler) {
      heard.set(handler, ({ data }) => handler(data));
      socket.addEventListener("message", heard.get(handler));
    },
    unsubscribe: (handler) => socket.removeEventListener("message", heard.get(handler)),
  };
  return new LSPClient({
    rootUri: folder,
    initializationOptions: settings,
    sanitizeHTML: harmless,
    extensions: [...languageServerExtensions(), { clientCapabilities: { textDocument: { codeAction } } }],
  }).connect(transport);
}

const codeAction = {
  codeActionLiteralSupport: { codeActionKind: { valueSet: ["quickfix", "refactor", "source"] } },
};

const HARMLESS = new Set("p br h1 h2 h3 h4 h5 h6 ul ol li strong em code pre a table thead tbody tr th td".split(" "));

/** What is told of a place may hold words of a file, and a file may come from a stranger: text and its shape are kept. */
function harmless(html) {
  const { body } = new DOMParser().parseFromString(html, "text/html");
  for (const element of body.querySelectorAll("*")) {
    if (!HARMLESS.has(element.localName)) element.remove();
    for (const { name, value } of [...element.attributes]) {
      if (name !== "href" || !/^https?:/i.test(value)) element.removeAttribute(name);
    }
  }
  return body.innerHTML;
}

/** What an editor of a file needs. */
export function notation(client, file) {
  return [
    client.plugin(file, "gridsetter"),
    // An id is one word.
    EditorState.languageData.of(() => [{ wordChars: "-.", commentTokens: { line: "#" } }]),
    // Each keystroke is sent at once: the server keeps up, and otherwise the client waits for half a second.
    EditorView.updateListener.of((update) => {
      if (update.docChanged) LSPPlugin.get(update.view)?.client.sync();
    }),
    keymap.of([{ key: "Mod-.", run: chooseAction, preventDefault: true }]),
  ];
}

/** Lists what can be done at the cursor: fixes, the next step, marks, the solution. */
export function chooseAction(view) {
  const plugin = LSPPlugin.get(view);
  if (!plugin) return false;
  plugin.client.sync();
  const { from, to } = view.state.selection.main;
  const text = view.state.doc;
  const asked = {
    textDocument: { uri: plugin.uri },
    range: { start: plugin.toPosition(from), end: plugin.toPosition(to) },
    context: { diagnostics: [] },
  };
  plugin.client.request("textDocument/codeAction", asked).then(
    (actions) => {
      showDialog(view, {
        class: "gridsetter-actions",
        focus: true,
        content: (view, close) => {
          const form = document.createElement("form");
          for (const action of actions ?? []) {
            const button = form.appendChild(document.createElement("button"));
            button.type = "button";
            button.textContent = action.title;
            button.onclick = () => {
              close();
              // An action is for the text that it was offered for.
              if (view.state.doc.eq(text)) take(plugin, action);
            };
          }
          return form;
        },
      });
    },
    (why) => plugin.reportError("No actions", why),
  );
  return true;
}

function take({ client, view, uri }, { edit, command }) {
  const changes = (edit?.changes?.[uri] ?? []).map(({ range, newText }) => ({
    from: LSPPlugin.get(view).fromPosition(range.start),
    to: LSPPlugin.get(view).fromPosition(range.end),
    insert: newText,
  }));
  if (changes.length > 0) view.dispatch({ changes, userEvent: "input.action" });
  if (typeof command === "object") client.request("workspace/executeCommand", command);
  view.focus();
}
