"""Line ends of several kinds, or a byte order mark.

Each line of a file ends in the same way, in a line feed or in carriage return and line feed, and no byte order mark stands in front.

Why it matters: an editor that makes them all alike changes every line of the file, and what was meant to be changed is not to be
found among them. Some tools take the mark for a part of the first line and then see no front matter.

Fails: the second line ends in carriage return and line feed, the others in a line feed.

    # entries/kits/oval-9-renewal.md
    ---
    kind: kit\r
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal, nine-way oval to thirteen-way oval
    from: oval-9
    to: oval-13
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
    seals: [6]
    sources: [{kind: seen}]
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
    seals: [6]
    sources: [{kind: seen}]
    ---
    Crimp, do not solder.
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.hints import FIX
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, problem_at, rule
from rangebook.reading.entry import Entry
from rangebook.reading.located import Mark


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at the beginning of the file for each."""
    for what in entry.form.oddities:
        yield problem_at(entry, Mark(1, 1), what)


_FIX = [FIX, "; or save the file with line feeds and as UTF-8 without a mark"]

MESSAGES = {
    "bom": Told("a byte order mark stands in front", _FIX),
    "mixed": Told("line ends are of several kinds", _FIX),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.HINT,
    TextCheck(TextContext, check_text),
    messages=MESSAGES,
    fixer=Fixer("line-ends", Safety.FORM, Turn.LINES, None),
)
