"""A link in the prose to an entry that is not there.

Links within the book are relative to the entry's own file and end in ``.md``, as in ``[the kit](../kits/a-kit.md)``. The
file they lead to is an entry of the book. Links to the web, to a place on the same page, and to pictures are not looked
at.

Why it matters: someone in the bay follows the link with the switch in one hand. What is written there was the rest of
the sentence.

Fails:

    # entries/kits/oval-9-renewal.md
    ---
    kind: kit
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal, nine-way oval to thirteen-way oval
    from: oval-9
    to: oval-13
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
    seals: [6]
    sources: [{kind: seen}]
    ---
    It goes with [the thirteen-way](../connectors/oval13.md).

Mended:

    # entries/kits/oval-9-renewal.md
    ---
    kind: kit
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal, nine-way oval to thirteen-way oval
    from: oval-9
    to: oval-13
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
    seals: [6]
    sources: [{kind: seen}]
    ---
    It goes with [the thirteen-way](../connectors/oval-13.md).
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Container, Iterator
from itertools import islice
from urllib.parse import unquote

from rangebook.book.former_ids import Index, now_called
from rangebook.lint.context import WholeBook
from rangebook.lint.prose import MOST, place
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem_at, rule
from rangebook.lint.words import NEAR, Nearest
from rangebook.reading.entry import Entry
from rangebook.reading.files import FOLDERS
from rangebook.reading.prose_links import links

_ELSEWHERE = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:|//|#|\?")


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding at the target of each link that leads to no entry."""
    files = {entry.file for entry in context.entries}
    nearest = Nearest(context.files)
    indexes: dict[str, Index] = {"switch": context.book.families, "connector": context.book.connectors, "kit": context.book.kits}
    renamed = {
        f"entries/{FOLDERS[kind]}/{old}.md": f"entries/{FOLDERS[kind]}/{now}.md"
        for kind, index in indexes.items()
        for old, now in now_called(index).items()
    }
    for entry in context.entries:
        home = posixpath.dirname(entry.file)
        for target, offset, file in islice(_dead(entry, home, files), MOST):
            near = f"{file}.md" if f"{file}.md" in files else renamed.get(file) or nearest(file)
            yield problem_at(entry, place(entry, offset), "dead", target=target, near=near and posixpath.relpath(near, home))


def _dead(entry: Entry, home: str, files: Container[str]) -> Iterator[tuple[str, int, str]]:
    """Target, offset and the file that is not there, for each link into the book."""
    for target, offset in links(entry.prose):
        path = unquote(re.split(r"[?#]", target, maxsplit=1)[0])
        if _ELSEWHERE.match(target) or posixpath.splitext(path)[1].lower() not in ("", ".md"):
            continue
        file = posixpath.normpath(posixpath.join(home, path))
        if file not in files:
            yield target, offset, file


MESSAGES = {
    "dead": Told("the link leads to {target}, and no entry is there", [NEAR, "correct the link, or write the entry"]),
}

RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(WholeBook, check_book), messages=MESSAGES)
