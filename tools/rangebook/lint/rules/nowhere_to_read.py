"""A condition of which nobody knows where to read it.

A ``when`` that asks for a serial number, that of the gearbox, or a mark says in ``stamped_at`` where that is stamped.

Why it matters: the answer tells people to read it before they fit anything, and they look for it lying under the vehicle.

Fails:

    kind: switch
    applications:
      - vehicle: Corran Delver 2.4
        years: 2007-2012
        when: {gearbox_serial: {from: 104418}}
        gearbox: Tamblin Short
        plug: six-wire
        came_with: TB-20417

Mended:

    kind: switch
    applications:
      - vehicle: Corran Delver 2.4
        years: 2007-2012
        when: {gearbox_serial: {from: 104418}, stamped_at: "on the bell housing, above the starter"}
        gearbox: Tamblin Short
        plug: six-wire
        came_with: TB-20417
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.lint.conditions import WHO, conditions_in
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule

_STAMPED = ("serial", "gearbox_serial", "marked")


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each condition that asks for something stamped and does not say where."""
    for path, when, owner, of, instead_of in conditions_in(family):
        asked = [key for key in _STAMPED if getattr(when, key) is not None]
        if asked and when.stamped_at is None:
            yield problem(family, path, asked[0], owner=owner, of=of, instead_of=instead_of)


MESSAGES = {
    code: Told([WHO, f": where the {what} is stamped is not stated"], "look where it is stamped, and write it down as `stamped_at`")
    for code, what in {"serial": "serial number", "gearbox_serial": "serial number of the gearbox", "marked": "mark"}.items()
}

RULE = rule(__name__, __doc__, Severity.HINT, EntryCheck(Family, Context, check_family), messages=MESSAGES)
