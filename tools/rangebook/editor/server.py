"""What an editor is told, in the Language Server Protocol. The only module that knows the protocol; what is said comes from the others."""

from __future__ import annotations

import asyncio
import logging
import os
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from lsprotocol import types
from pygls import uris
from pygls.lsp.server import LanguageServer

from rangebook import __version__
from rangebook.editor.open_book import Marked, Mending, OpenBook, severity_of
from rangebook.editor.text import UTF_16, Span, Spot
from rangebook.schema.errors import SchemaError
from rangebook.words.catalogue import say

PAUSE_SECONDS = 0.2
"""Somebody who types is let finish the word before the book is looked at."""

SEVERITIES = (types.DiagnosticSeverity.Error, types.DiagnosticSeverity.Warning, types.DiagnosticSeverity.Information)

_log = logging.getLogger(__name__)


class Books:
    """The books of all files that an editor has open, each looked at by one thread beside the one that answers."""

    def __init__(self, server: LanguageServer) -> None:
        self._server = server
        self._books: dict[Path, OpenBook] = {}
        self._told: dict[Path, set[str]] = {}
        self._looking: dict[Path, asyncio.Task[None]] = {}
        self._one = ThreadPoolExecutor(1)

    def of(self, uri: str) -> tuple[OpenBook, str] | None:
        """The book that a file is in, and the file's path in it; ``None`` for a file that is in none."""
        name = uris.to_fs_path(uri)
        if name is None:
            return None
        path = Path(os.path.normpath(name))
        for root in path.parents:
            if (root / "entries").is_dir():
                if root not in self._books:
                    self._books[root] = OpenBook(root, types.PositionEncodingKind(self._server.workspace.position_encoding or UTF_16).value)
                return self._books[root], path.relative_to(root).as_posix()
        return None

    def look(self, book: OpenBook) -> None:
        """Look at a book as soon as nobody has typed for a moment, and tell what was found."""
        waiting = self._looking.get(book.root)
        if waiting is not None:
            waiting.cancel()
        task = self._looking[book.root] = asyncio.get_running_loop().create_task(self._look(book))
        task.add_done_callback(_log_failure)

    async def _look(self, book: OpenBook) -> None:
        await asyncio.sleep(PAUSE_SECONDS)
        try:
            await asyncio.get_running_loop().run_in_executor(self._one, book.settle)
            self._tell(book)
        except SchemaError as error:
            self._server.window_show_message(types.ShowMessageParams(types.MessageType.Error, str(error)))

    def _tell(self, book: OpenBook) -> None:
        marked = book.marked()
        for file in sorted(self._told.get(book.root, set()) | set(marked)):
            found = [_diagnostic(one) for one in marked.get(file, ())]
            self._server.text_document_publish_diagnostics(types.PublishDiagnosticsParams(_uri(book, file), found))
        self._told[book.root] = set(marked)

    def end(self) -> None:
        """Nothing more is looked at."""
        for task in self._looking.values():
            task.cancel()
        self._one.shutdown(wait=False, cancel_futures=True)


def make() -> LanguageServer:
    """The server, ready to be started."""
    server = LanguageServer("rangebook", __version__, text_document_sync_kind=types.TextDocumentSyncKind.Incremental)
    books = Books(server)

    @server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    async def opened(params: types.DidOpenTextDocumentParams) -> None:
        put(params.text_document.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    async def changed(params: types.DidChangeTextDocumentParams) -> None:
        put(params.text_document.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_SAVE)
    async def saved(params: types.DidSaveTextDocumentParams) -> None:
        put(params.text_document.uri)

    @server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    async def closed(params: types.DidCloseTextDocumentParams) -> None:
        if (found := books.of(params.text_document.uri)) is not None:
            found[0].close(found[1])
            books.look(found[0])

    @server.feature(types.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    async def changed_on_disk(params: types.DidChangeWatchedFilesParams) -> None:
        for one in params.changes:
            if (found := books.of(one.uri)) is not None:
                found[0].look_again(found[1])
                books.look(found[0])

    def put(uri: str) -> None:
        if (found := books.of(uri)) is not None:
            found[0].put(found[1], server.workspace.get_text_document(uri).source)
            books.look(found[0])

    @server.feature(types.TEXT_DOCUMENT_COMPLETION, types.CompletionOptions(trigger_characters=[":", " ", "[", "{", ","]))
    def complete(params: types.CompletionParams) -> list[types.CompletionItem]:
        found = books.of(params.text_document.uri)
        at = found[0].at(found[1]) if found else None
        if at is None:
            return []
        offers = at.offers(Spot(params.position.line, params.position.character))
        return [
            types.CompletionItem(
                label=one.label,
                kind=types.CompletionItemKind.Property if one.is_key else types.CompletionItemKind.Value,
                detail=one.brief or None,
                documentation=_markdown(one.means) if one.means else None,
                sort_text=f"{number:05}",
                filter_text=one.label,
                text_edit=types.TextEdit(_range(one.span), one.text),
            )
            for number, one in enumerate(offers)
        ]

    @server.feature(types.TEXT_DOCUMENT_HOVER)
    def hover(params: types.HoverParams) -> types.Hover | None:
        found = books.of(params.text_document.uri)
        at = found[0].at(found[1]) if found else None
        hint = at.hint(Spot(params.position.line, params.position.character)) if at else None
        return types.Hover(_markdown(hint.words), _range(hint.span)) if hint else None

    @server.feature(types.TEXT_DOCUMENT_DEFINITION)
    def definition(params: types.DefinitionParams) -> types.Location | None:
        found = books.of(params.text_document.uri)
        at = found[0].at(found[1]) if found else None
        target = at.target(Spot(params.position.line, params.position.character)) if at else None
        return types.Location(_uri(found[0], target.file), _range(target.span)) if found and target else None

    @server.feature(
        types.TEXT_DOCUMENT_CODE_ACTION,
        types.CodeActionOptions([types.CodeActionKind.QuickFix, types.CodeActionKind.SourceFixAll]),
    )
    def actions(params: types.CodeActionParams) -> list[types.CodeAction]:
        found = books.of(params.text_document.uri)
        if found is None:
            return []
        mendings = found[0].mendings(found[1], params.range.start.line, params.range.end.line)
        return [_action(found[0], found[1], params, one) for one in mendings]

    @server.feature(types.INITIALIZED)
    async def begin(_: types.InitializedParams) -> None:
        """The whole book is looked at where the editor was opened on one, before any of its files is."""
        for folder in server.workspace.folders.values() or ():
            root = uris.to_fs_path(folder.uri)
            if root and (found := books.of(uris.from_fs_path(str(Path(root) / "entries")) or "")) is not None:
                books.look(found[0])

    @server.feature(types.SHUTDOWN)
    def end(_: Any) -> None:
        books.end()

    return server


def _log_failure(task: asyncio.Task[None]) -> None:
    """A server that ends takes all help with it: what went wrong is logged, and the next change is looked at afresh."""
    if not task.cancelled() and (error := task.exception()) is not None:
        _log.error("the book could not be looked at", exc_info=error)


def _action(book: OpenBook, file: str, params: types.CodeActionParams, one: Mending) -> types.CodeAction:
    edits = list(_edits(book, file, one.text))
    about = [found for found in params.context.diagnostics if one.rule and found.code == one.rule]
    return types.CodeAction(
        title=say("editor.mend", what=one.title) if one.rule else say("editor.mend_all"),
        kind=types.CodeActionKind.QuickFix if one.rule else types.CodeActionKind.SourceFixAll,
        diagnostics=about or None,
        edit=types.WorkspaceEdit(changes={params.text_document.uri: edits}),
    )


def _edits(book: OpenBook, file: str, after: str) -> Iterator[types.TextEdit]:
    """From what an editor has to another text: what is alike before and behind stays."""
    text = book.text(file)
    before = text.text
    start = next((at for at, (one, other) in enumerate(zip(before, after, strict=False)) if one != other), min(len(before), len(after)))
    most = min(len(before), len(after)) - start
    end = next((count for count in range(most) if before[-1 - count] != after[-1 - count]), most)
    yield types.TextEdit(_range(text.span(start, len(before) - end)), after[start : len(after) - end])


def _diagnostic(marked: Marked) -> types.Diagnostic:
    one = marked.finding
    return types.Diagnostic(
        _range(marked.span),
        f"{one.message}\n{one.fix}" if one.fix else one.message,
        severity=SEVERITIES[severity_of(one)],
        code=one.rule,
        source="rangebook",
    )


def _range(span: Span) -> types.Range:
    return types.Range(types.Position(*span.start), types.Position(*span.end))


def _markdown(words: str) -> types.MarkupContent:
    return types.MarkupContent(types.MarkupKind.Markdown, words)


def _uri(book: OpenBook, file: str) -> str:
    return uris.from_fs_path(str(book.root / file)) or ""
