"""Spaces where nobody sees them.

No line ends in a space or tab, and the file ends with one line end and no blank lines. In the prose two spaces before a line that goes
on are a line break in Markdown and may stay, and what is inside code is left alone.

Why it matters: editors take such spaces out without asking. Then a change of one word shows as a change of thirty lines, and the reviewer
cannot see which of them says something new.

Fails: there is a space behind `[{kind: seen}]`.

    # entries/kits/oval-9-renewal.md
    ---
    kind: kit
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal, nine-way oval to thirteen-way oval
    from: oval-9
    to: oval-13
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
    sources: [{kind: seen}]\x20
    ---
    Crimp, do not solder.

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
    sources: [{kind: seen}]
    ---
    Crimp, do not solder.
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.finding import Hit, Severity
from rangebook.lint.fixing.hints import hits
from rangebook.lint.fixing.menders import trailing_space
from rangebook.reading.entry import Entry

SEVERITY = Severity.HINT


def check_text(entry: Entry, context: TextContext) -> Iterator[Hit]:
    """Yield a hit behind the last sign of each such line."""
    if entry.source and trailing_space.may_have_any(entry.source):
        yield from hits(entry, context, trailing_space.find, "take them out")
