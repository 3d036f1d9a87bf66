"""A trouble code of something else.

A trouble code that the standard gives a meaning is one of the range sensor, of the inputs that it gives (reverse, park/neutral, drive, the
display) or of the starter's relay. Codes of the makers' own are not known to this rule.

Why it matters: who reads that code at the vehicle finds this switch, and changes a part that is not to blame.

Fails: the second is that of the transmission fluid's temperature sensor.

    kind: switch
    trouble_codes: [P0705, P0710]

Mended:

    kind: switch
    trouble_codes: [P0705, P0706]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.book.trouble_codes import TEXTS, is_of_another
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.reading.nearest import nearest


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each such code."""
    for index, code in enumerate(family.trouble_codes):
        if is_of_another(code):
            yield problem(family, ("trouble_codes", index), "other", code=code, near=nearest(code, TEXTS))


MESSAGES = {
    "other": Told(
        "{code} is not a code of a range switch",
        ["take it out", {"given": "near", "yes": "; or is {near} meant?"}],
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Context, check_family), messages=MESSAGES)
