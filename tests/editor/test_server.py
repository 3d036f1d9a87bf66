"""The language server as an editor meets it: started as a command, spoken to by a client that is not ours (pygls' own) over a pipe."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

from lsprotocol import types
from pygls import uris
from pygls.lsp.client import LanguageClient
from tests.making import application, connector, family, part, plug, texts

PINS = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out"}
SECONDS = 30


class Editor(LanguageClient):
    """A client that keeps what it is told."""

    def __init__(self) -> None:
        super().__init__("editor", "1")
        self.found: dict[str, list[types.Diagnostic]] = {}
        self.told = asyncio.Event()

        @self.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
        def published(params: types.PublishDiagnosticsParams) -> None:
            self.found[params.uri] = list(params.diagnostics)
            self.told.set()

    async def until(self, uri: str, so: Callable[[list[types.Diagnostic]], bool]) -> list[types.Diagnostic]:
        async with asyncio.timeout(SECONDS):
            while uri not in self.found or not so(self.found[uri]):
                self.told.clear()
                await self.told.wait()
        return self.found[uri]


def in_editor(root: Path, use: Callable[[Editor], Awaitable[None]], encodings: list[str] | None = None) -> types.InitializeResult:
    async def whole() -> types.InitializeResult:
        editor = Editor()
        await editor.start_io(sys.executable, "-m", "rangebook", "language-server", "--stdio")
        folder = types.WorkspaceFolder(uris.from_fs_path(str(root)) or "", root.name)
        capabilities = types.ClientCapabilities(general=types.GeneralClientCapabilities(position_encodings=encodings))
        began = await editor.initialize_async(types.InitializeParams(capabilities=capabilities, workspace_folders=[folder]))
        editor.initialized(types.InitializedParams())
        try:
            await use(editor)
        finally:
            await editor.shutdown_async(None)
            editor.exit(None)
            await editor.stop()
        return began

    return asyncio.run(asyncio.wait_for(whole(), SECONDS * 2))


def book(root: Path) -> None:
    contacts = [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}]
    switch = family(
        "f",
        [part("NB-1", pins=PINS, contacts=contacts, superseded_by=[{"number": "NB-2"}]), part("NB-2", pins=PINS, contacts=contacts)],
        plugs={"p": plug(PINS)},
        applications=[application("p", "NB-1")],
    )
    for file, data in texts(connector("c", 4), switch).items():
        (root / file).parent.mkdir(parents=True, exist_ok=True)
        (root / file).write_bytes(data)
    (root / "entries/switches/f.md").write_text(FAMILY, "utf-8")


FAMILY = """---
kind: switch
id: f
title: Tamblin switch 😀
gearboxes: [Tamblin Short]
positions: [P, R, N, D]
mounts: {boss: {shaft: {shape: double-flat, across_mm: 9}}}
parts:
  - number: NB-1
    connector: c
    mount: boss
    status: superseded
    pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out}
    contacts:
      - {pins: [1, 2], closed: [P, N]}
      - {pins: [3, 4], closed: [R]}
    superseded_by: [{number: NB-2, needs: []}]
  - number: NB-2
    connector: c
    mount: boss
    status: current
plugs:
  p:
    connector: c
    wires: {1: {circuit: start_feed}, 2: {circuit: start_out}}
applications:
  - {vehicle: Corran Delver, years: 2007-2012, gearbox: Tamblin Short, plug: p, came_with: NB-1}
---
"""


def place(text: str, before: str) -> types.Position:
    """The place behind some words, as this protocol counts (UTF-16)."""
    at = text.index(before) + len(before)
    line = text.count("\n", 0, at)
    return types.Position(line, len(text[text.rfind("\n", 0, at) + 1 : at].encode("utf-16-le")) // 2)


def test_an_entry_is_written_in_an_editor(tmp_path: Path) -> None:
    book(tmp_path)
    uri = uris.from_fs_path(str(tmp_path / "entries/switches/f.md")) or ""
    doc = types.TextDocumentIdentifier(uri)
    broken = FAMILY.replace(
        "connector: c\n    mount: boss\n    status: current", "connector: nowhere\n    mount: boss\n    status: current"
    )
    broken = broken.replace("closed: [R]}", "closed: [R]}   ")

    async def change(editor: Editor, text: str, version: int) -> None:
        whole = types.TextDocumentContentChangeWholeDocument(text)
        editor.text_document_did_change(types.DidChangeTextDocumentParams(types.VersionedTextDocumentIdentifier(version, uri), [whole]))

    async def work(editor: Editor) -> None:
        item = types.TextDocumentItem(uri, types.LanguageKind.Markdown, 1, broken)
        editor.text_document_did_open(types.DidOpenTextDocumentParams(item))
        found = await editor.until(uri, lambda found: any(one.code == "unknown-connector" for one in found))
        one = next(one for one in found if one.code == "unknown-connector")
        assert one.severity is types.DiagnosticSeverity.Error and one.source == "rangebook" and "nowhere" in one.message
        assert one.range.start == place(broken, "- number: NB-2\n    connector: ") and one.range.end == place(broken, "nowhere")

        # The fix that the rule has: what is left is the same text without the blanks.
        blanks = next(one for one in found if one.code == "trailing-space")
        context = types.CodeActionContext([blanks])
        actions = await editor.text_document_code_action_async(types.CodeActionParams(doc, blanks.range, context))
        quick = next(one for one in actions or () if isinstance(one, types.CodeAction) and one.kind == types.CodeActionKind.QuickFix)
        assert quick.edit and quick.edit.changes and list(quick.diagnostics or ()) == [blanks]
        (edit,) = quick.edit.changes[uri]
        assert (
            edit.new_text == ""
            and edit.range.start == place(broken, "closed: [R]}")
            and edit.range.end.character - edit.range.start.character == 3
        )

        def at(before: str, text: str = broken) -> dict[str, Any]:
            return {"text_document": doc, "position": place(text, before)}

        offers = await editor.text_document_completion_async(types.CompletionParams(**at("connector: nowhere")))
        assert isinstance(offers, list) and [one.label for one in offers] == ["c"]
        hover = await editor.text_document_hover_async(types.HoverParams(**at("    con", broken)))
        assert hover and isinstance(hover.contents, types.MarkupContent) and "A verdict goes by it: mating." in hover.contents.value
        there = await editor.text_document_definition_async(types.DefinitionParams(**at("superseded_by: [{number: NB")))
        assert isinstance(there, types.Location) and there.uri == uri and there.range.end == place(broken, "- number: NB-2")
        there = await editor.text_document_definition_async(types.DefinitionParams(**at("connector: c")))
        assert isinstance(there, types.Location) and there.uri.endswith("entries/connectors/c.md")

        # Half typed, it cannot be read: that is told at its line, and help goes on.
        half = broken.replace("positions: [P, R, N, D]", "positions: [P, R, N, D")
        await change(editor, half, 2)
        await editor.until(uri, lambda found: any(one.code == "yaml-syntax" for one in found))
        offers = await editor.text_document_completion_async(types.CompletionParams(**at("status: ", half)))
        assert isinstance(offers, list) and "withdrawn" in [one.label for one in offers]

        await change(editor, FAMILY, 3)
        await editor.until(uri, lambda found: not {"unknown-connector", "yaml-syntax", "trailing-space"} & {one.code for one in found})
        # What is closed without being saved is as it is on the disk.
        await change(editor, broken, 4)
        await editor.until(uri, lambda found: any(one.code == "unknown-connector" for one in found))
        editor.text_document_did_close(types.DidCloseTextDocumentParams(doc))
        await editor.until(uri, lambda found: not any(one.code == "unknown-connector" for one in found))
        # A file that another program has changed.
        (tmp_path / "entries/switches/f.md").write_text(broken, "utf-8")
        event = types.FileEvent(uri, types.FileChangeType.Changed)
        editor.workspace_did_change_watched_files(types.DidChangeWatchedFilesParams([event]))
        await editor.until(uri, lambda found: any(one.code == "unknown-connector" for one in found))
        (tmp_path / "entries/switches/f.md").unlink()
        event = types.FileEvent(uri, types.FileChangeType.Deleted)
        editor.workspace_did_change_watched_files(types.DidChangeWatchedFilesParams([event]))
        await editor.until(uri, lambda found: not found)

    began = in_editor(tmp_path, work)
    told = began.capabilities
    assert told.completion_provider and told.hover_provider and told.definition_provider and told.code_action_provider


def test_the_book_is_looked_at_before_a_file_is_opened_and_columns_are_counted_in_bytes_where_the_editor_does(tmp_path: Path) -> None:
    book(tmp_path)
    text = FAMILY.replace("😀", "😀 {a: b} ").replace("came_with: NB-1", "came_with: NB-9")
    (tmp_path / "entries/switches/f.md").write_text(text, "utf-8")
    uri = uris.from_fs_path(str(tmp_path / "entries/switches/f.md")) or ""

    async def work(editor: Editor) -> None:
        found = await editor.until(uri, bool)
        line = next(one for one in text.splitlines() if one.startswith("title"))
        assert found[0].range.start.character <= len(line.encode())

    began = in_editor(tmp_path, work, ["utf-8", "utf-16"])
    assert began.capabilities.position_encoding == "utf-8"


def test_a_file_of_no_book_is_let_be(tmp_path: Path) -> None:
    uri = uris.from_fs_path(str(tmp_path / "notes.md")) or ""

    async def work(editor: Editor) -> None:
        item = types.TextDocumentItem(uri, types.LanguageKind.Markdown, 1, "---\nkind: switch\n---\n")
        editor.text_document_did_open(types.DidOpenTextDocumentParams(item))
        doc, start = types.TextDocumentIdentifier(uri), types.Position(1, 2)
        assert not await editor.text_document_completion_async(types.CompletionParams(doc, start))
        assert await editor.text_document_hover_async(types.HoverParams(doc, start)) is None
        assert await editor.text_document_definition_async(types.DefinitionParams(doc, start)) is None

    in_editor(tmp_path, work)
