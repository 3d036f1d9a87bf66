"""A line that a merge left behind.

No line of an entry begins with `<<<<<<<`, `|||||||` or `>>>>>>>` and a space, and none between such is `=======`: with them git marks what
two branches say differently. A heading underlined with `=======` is none.

Why it matters: one of the two was to be chosen and both stand there. In the prose nothing else stops it, and the page shows
"do not solder" and "solder" one below the other.

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
    <<<<<<< HEAD
    Crimp, do not solder.
    =======
    Crimp or solder.
    >>>>>>> seals

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

import re
from collections.abc import Iterator
from itertools import islice

from rangebook.lint.context import TextContext
from rangebook.lint.prose import MOST
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, problem_at, rule
from rangebook.reading.entry import Entry
from rangebook.reading.located import Mark

# A label may be missing: then the sign stands alone. Alone, `|||||||` is an empty row of a table.
_MARKER = re.compile(r"^(?P<sign><{7}|>{7}|={7}|\|{7})(?P<label>[ \t].*)?$")


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at each such line, the first :data:`MOST` of them."""
    # Nearly every entry has none of these; then its lines are not looked through.
    if any(sign in entry.source for sign in ("<<<<<<<", ">>>>>>>", "|||||||")):
        yield from islice(_markers(entry), MOST)


def _markers(entry: Entry) -> Iterator[Problem]:
    inside = False
    for number, line in enumerate(entry.source.split("\n"), start=1):
        match = _MARKER.match(line)
        if not match:
            continue
        sign = match["sign"]
        if inside or sign[0] in "<>" or (sign[0] == "|" and match["label"]):
            yield problem_at(entry, Mark(number, 1), "marker", sign=sign)
        if sign[0] in "<|":
            inside = inside or sign[0] == "<" or bool(match["label"])
        elif sign[0] == ">":
            inside = False


MESSAGES = {
    "marker": Told(
        "a merge left the line `{sign}` behind: what two branches say stands here one below the other",
        "keep the one that is right, and take out the other and the lines of the merge",
    )
}

RULE = rule(__name__, __doc__, Severity.ERROR, TextCheck(TextContext, check_text), messages=MESSAGES)
