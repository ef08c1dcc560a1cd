"""pytest-lsp at work on a copy of the demo, with what several editors say that they can take. Started by `run`.

Each message of the server is made an object of lsprotocol's types, which are made from the protocol's meta model: one that
does not fit fails the test, and so does one that the editor did not say it could take.
"""

import asyncio
import time
from importlib.metadata import version
from pathlib import Path

import pytest
import pytest_lsp
from lsprotocol import types as lsp

PATIENCE = 30
SHELF = Path.cwd()
EDITORS = ["visual-studio-code", "neovim@v0.11", "neovim@v0.6", "emacs"]

pytestmark = [pytest.mark.asyncio, pytest.mark.filterwarnings("error::pytest_lsp.LspSpecificationWarning")]


@pytest_lsp.fixture(
    params=EDITORS, config=pytest_lsp.ClientServerConfig(server_command=["gridsetter", "serve"])
)
async def client(request, lsp_client: pytest_lsp.LanguageClient):
    lsp_client.editor = request.param
    lsp_client.feature(lsp.CLIENT_REGISTER_CAPABILITY)(lambda params: None)
    answer = await lsp_client.initialize_session(
        lsp.InitializeParams(
            capabilities=pytest_lsp.client_capabilities(request.param),
            workspace_folders=[lsp.WorkspaceFolder(uri=SHELF.as_uri(), name="shelf")],
        )
    )
    lsp_client.promised = answer.capabilities
    yield
    await lsp_client.shutdown_session()


class Open:
    """An open text, changed as an editor changes it; columns are UTF-16 units unless the server chose others."""

    def __init__(self, client, name):
        self.client, self.version = client, 1
        self.uri = (SHELF / name).as_uri()
        self.text = (SHELF / name).read_text()
        self.unit = "utf-8" if client.promised.position_encoding == "utf-8" else "utf-16-le"
        item = lsp.TextDocumentItem(uri=self.uri, language_id="gridsetter", version=1, text=self.text)
        client.text_document_did_open(lsp.DidOpenTextDocumentParams(text_document=item))

    @property
    def id(self):
        return lsp.TextDocumentIdentifier(uri=self.uri)

    def at(self, words, behind=0):
        before = self.text[: self.text.index(words) + behind].split("\n")
        column = len(before[-1].encode(self.unit)) // (1 if self.unit == "utf-8" else 2)
        return lsp.Position(line=len(before) - 1, character=column)

    def offset(self, position):
        lines = self.text.split("\n")
        line = lines[position.line].encode(self.unit) if position.line < len(lines) else b""
        column = line[: position.character * (1 if self.unit == "utf-8" else 2)].decode(self.unit)
        return sum(len(one) + 1 for one in lines[: position.line]) + len(column)

    def with_edits(self, edits):
        """The text as these edits make it."""
        text = self.text
        for edit in sorted(edits, key=lambda it: self.offset(it.range.start), reverse=True):
            text = text[: self.offset(edit.range.start)] + edit.new_text + text[self.offset(edit.range.end) :]
        return text

    def type(self, words, behind, length, new):
        """Writes `new` in place of `length` characters behind the beginning of `words`."""
        where = lsp.Range(start=self.at(words, behind), end=self.at(words, behind + length))
        change = lsp.TextDocumentContentChangePartial(range=where, text=new)
        self.version += 1
        document = lsp.VersionedTextDocumentIdentifier(uri=self.uri, version=self.version)
        self.text = self.with_edits([lsp.TextEdit(range=where, new_text=new)])
        self.client.text_document_did_change(
            lsp.DidChangeTextDocumentParams(text_document=document, content_changes=[change])
        )

    async def findings(self):
        """What is found by now: an editor that can ask does, where the server takes questions."""
        can_ask = self.client.capabilities.text_document.diagnostic is not None
        if not (can_ask and self.client.promised.diagnostic_provider):
            return self.client.diagnostics.get(self.uri, [])
        return (
            await self.client.text_document_diagnostic_async(lsp.DocumentDiagnosticParams(text_document=self.id))
        ).items

    async def until(self, fits):
        """The findings, once they are as they should be."""
        end = time.monotonic() + PATIENCE
        while True:
            found = await self.findings()
            if fits([it.code for it in found]):
                return found
            assert time.monotonic() < end, found
            await asyncio.sleep(0.001)


def edits_of(edit, uri):
    """The edits of a text, in whichever of the two ways they come."""
    if edit.document_changes is not None:
        return [one for change in edit.document_changes if change.text_document.uri == uri for one in change.edits]
    return edit.changes[uri]


async def test_a_day(client):
    seen = [f"client\tpytest-lsp {version('pytest-lsp')} as {client.editor}"]
    start = time.monotonic()
    mistakes = Open(client, "mistakes/back-from-the-printer.gset")
    await mistakes.until(lambda codes: "givens-clash" in codes)
    seen.append(f"first\t{(time.monotonic() - start) * 1000:.1f}")

    book = Open(client, "volume/01-up-the-hill.gset")
    whole = book.text
    seen.append("opened\tvolume/01-up-the-hill.gset")

    # A second 9 in row 1: the finding comes, and goes with the slip, however often.
    times = []
    for _ in range(21):
        start = time.monotonic()
        book.type("givens\n", 13, 1, "9")
        findings = await book.until(lambda codes: "givens-clash" in codes)
        times.append((time.monotonic() - start) * 1000)
        book.type("givens\n", 13, 1, ".")
        await book.until(lambda codes: "givens-clash" not in codes)
    finding = next(it for it in findings if it.code == "givens-clash")
    assert finding.range.start == book.at("givens\n", 13)
    seen += [f"keystroke\t{sorted(times)[10]:.1f}", f"found\t{finding.message}"]

    # A finding behind a sign of two UTF-16 units stands where it should.
    book.type("{ql-02} to", 1, 5, "ql-20")
    [finding] = await book.until(lambda codes: "id-unknown" in codes)
    assert finding.range == lsp.Range(start=book.at("{ql-20} to", 1), end=book.at("{ql-20} to", 6))
    book.type("{ql-20} to", 1, 5, "ql-02")
    assert book.text == whole

    cell = book.at("givens\n", 13)
    told = await client.text_document_hover_async(lsp.HoverParams(text_document=book.id, position=cell))
    assert "9 is out: r1c1 holds it" in told.contents.value
    seen.append(f"hovered\t{told.contents.value}")

    actions = await client.text_document_code_action_async(
        lsp.CodeActionParams(
            text_document=book.id,
            range=lsp.Range(start=cell, end=cell),
            context=lsp.CodeActionContext(diagnostics=[]),
        )
    )
    step = next(it for it in actions if it.title == "take the next step")
    if step.edit is None:
        step = await client.code_action_resolve_async(step)
    stepped = book.with_edits(edits_of(step.edit, book.uri)).split("\n")
    assert stepped[cell.line + 9] == "work"
    # The givens of row 5 leave only its 8 open.
    assert stepped[cell.line + 14] == "  6   1   4   9   8   2   5   3   7"
    seen.append(f"stepped\t{stepped[cell.line + 14]}")

    book.type("  9 3 .  6 7 .  . . 4\n  . . 6  . 4 .  . . .", 0, 43, " 93. 67. ..4\n..6|.4.|...")
    edits = await client.text_document_formatting_async(
        lsp.DocumentFormattingParams(
            text_document=book.id, options=lsp.FormattingOptions(tab_size=2, insert_spaces=True)
        )
    )
    formatted = book.with_edits(edits)
    assert formatted == whole
    seen.append(f"formatted\t{formatted.split(chr(10))[cell.line]}")
    book.type(" 93. 67. ..4\n..6|.4.|...", 0, 24, "  9 3 .  6 7 .  . . 4\n  . . 6  . 4 .  . . .")

    tram = book.at("{ql-02} to", 3)
    named = lsp.RenameParams(text_document=book.id, position=tram, new_name="rope-walk")
    edit = await client.text_document_rename_async(named)
    renamed = book.with_edits(edits_of(edit, book.uri))
    assert renamed == whole.replace("ql-02", "rope-walk")
    assert len(edits_of(edit, (SHELF / "volume/04-answers.gset").as_uri())) == 1
    seen.append(f"renamed\t{renamed.split(chr(10))[tram.line]}")
    print("\n" + "\n".join(one.replace("\n", " / ") for one in seen))


async def test_what_is_promised_is_answered_as_the_protocol_says(client):
    book = Open(client, "volume/01-up-the-hill.gset")
    where = {"text_document": book.id, "position": book.at("{ql-02} to", 3)}
    range_ = {"text_document": book.id, "range": lsp.Range(start=lsp.Position(0, 0), end=lsp.Position(90, 0))}
    options = lsp.FormattingOptions(tab_size=2, insert_spaces=True)

    assert await client.text_document_definition_async(lsp.DefinitionParams(**where))
    context = lsp.ReferenceContext(include_declaration=True)
    assert await client.text_document_references_async(lsp.ReferenceParams(**where, context=context))
    assert await client.text_document_prepare_rename_async(lsp.PrepareRenameParams(**where))
    assert await client.text_document_linked_editing_range_async(lsp.LinkedEditingRangeParams(**where))
    assert await client.text_document_document_highlight_async(lsp.DocumentHighlightParams(**where))
    assert await client.text_document_completion_async(lsp.CompletionParams(**where))
    assert await client.text_document_document_link_async(lsp.DocumentLinkParams(text_document=book.id))
    assert await client.text_document_folding_range_async(lsp.FoldingRangeParams(text_document=book.id))
    assert await client.text_document_selection_range_async(
        lsp.SelectionRangeParams(text_document=book.id, positions=[where["position"]])
    )
    assert await client.text_document_document_symbol_async(lsp.DocumentSymbolParams(text_document=book.id))
    assert await client.workspace_symbol_async(lsp.WorkspaceSymbolParams(query="rope"))
    assert await client.text_document_inlay_hint_async(lsp.InlayHintParams(**range_)) is not None
    tokens = await client.text_document_semantic_tokens_full_async(
        lsp.SemanticTokensParams(text_document=book.id)
    )
    assert tokens.data
    assert await client.text_document_semantic_tokens_full_delta_async(
        lsp.SemanticTokensDeltaParams(text_document=book.id, previous_result_id=tokens.result_id)
    )
    assert await client.text_document_semantic_tokens_range_async(lsp.SemanticTokensRangeParams(**range_))
    lenses = await client.text_document_code_lens_async(lsp.CodeLensParams(text_document=book.id))
    assert (await client.code_lens_resolve_async(lenses[0])).command
    await client.text_document_range_formatting_async(lsp.DocumentRangeFormattingParams(**range_, options=options))
    await client.text_document_on_type_formatting_async(
        lsp.DocumentOnTypeFormattingParams(**where, ch="\n", options=options)
    )
