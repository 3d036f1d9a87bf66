"""An id, a file name and a folder that do not agree.

An entry's ``id`` is its file's name without ``.md``, its ``kind`` is that of the folder it stands in (``switches``,
``connectors``, ``kits``), and no two entries of a kind have the same id. It is none of the few names that Windows keeps for
devices, as `con` and `aux`.

Why it matters: other entries name this one by its id, and people open it by its file name. Of two entries with one id
only one is in the book. And a checkout on Windows stops at a file that is called as a device is.

Fails:

    kind: switch
    id: tamblin-post

Mended:

    kind: switch
    id: tamblin-gate
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.context import WholeBook
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule
from rangebook.reading.entry import Entry
from rangebook.reading.files import FOLDERS, is_reserved


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding for each id that is not the file's name, each file in the wrong folder, each id that is there again."""
    read = [(entry, head["kind"], head["id"]) for entry in context.entries if (head := entry.head) is not None and not entry.problems]
    # Where two have one id, the one whose file is called so is in the right; else the first of them.
    holder: dict[tuple[str, str], Entry] = {}
    for entry, kind, name in read:
        key = kind, name
        if key not in holder or (_in_place(entry) and not _in_place(holder[key])):
            holder[key] = entry
    for entry, kind, name in read:
        folder = FOLDERS[kind]
        if entry.folder != folder:
            yield problem(entry, ("kind",), "folder", kind=kind, found=entry.folder, folder=folder)
        other = holder[kind, name]
        taken = other.file if other is not entry else None
        if name != entry.stem:
            yield problem(entry, ("id",), "name", id=name, stem=entry.stem, taken=taken)
        elif taken:
            yield problem(entry, ("id",), "taken", id=name, kind=kind, taken=taken)
        elif is_reserved(name):
            yield problem(entry, ("id",), "reserved", id=name)


def _in_place(entry: Entry) -> bool:
    assert entry.head is not None
    return entry.stem == entry.head["id"] and entry.folder == FOLDERS[entry.head["kind"]]


MESSAGES = {
    "folder": Told(
        "a {kind} stands in the folder {found}; it belongs in {folder}",
        "move the file to entries/{folder}/, or correct `kind`",
    ),
    "name": Told(
        ["the id is {id} but the file is called {stem}.md", {"given": "taken", "yes": ", and {id} is the id of {taken}"}],
        ["write `id: {stem}`", {"given": "taken", "no": ", or call the file {id}.md"}],
    ),
    "reserved": Told(
        "Windows keeps the name {id} for a device, so that no file can be called so there", "choose a longer id and file name"
    ),
    "taken": Told("{id} is already the id of the {kind} in {taken}", "give one of the two another id and file name"),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(WholeBook, check_book), messages=MESSAGES)
