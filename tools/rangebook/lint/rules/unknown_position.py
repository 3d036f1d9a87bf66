"""A lever position that the family's lever does not have.

Positions in ``contacts`` (``closed``, ``ohms``), in the ``values`` of ``signals``, in every ``set_in`` and in an
application's ``lever`` are among the family's ``positions``.

Why it matters: a contact that closes in a position that is never reached is compared with nothing; the position that was
meant stays open in every answer.

Fails:

    kind: switch
    fitting: {set_in: M, method: "pin the lever, then tighten", torque_nm: 9}

Mended:

    kind: switch
    fitting: {set_in: N, method: "pin the lever, then tighten", torque_nm: 9}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family, KeyPath, Mount, Part
from rangebook.lint.context import Context
from rangebook.lint.mentions import as_stated
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule
from rangebook.words.lists import enumerated


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each mention of a position that is not among the family's."""
    known = frozenset(family.positions)
    for path, key, position, who in _strange(family, known):
        yield finding(
            family,
            path,
            f"{who} the position {position}, which this lever does not have (`positions`: {enumerated(family.positions)})",
            f"correct the position, or add {position} to `positions` in its place if the lever has it",
            key=key,
        )


def _strange(family: Family, known: frozenset[str]) -> Iterator[tuple[KeyPath, bool, str, str]]:
    """The way to it, whether it is the key that is meant, position, and the words that lead up to it."""
    for part in family.parts:
        for contact in part.contacts or ():
            who = f"contact {contact.a}-{contact.b} of {part.number} is stated for"
            if contact.closed is not None and not contact.closed <= known:
                for index, position in enumerate(as_stated(family, (*contact.path, "closed"))):
                    if position not in known:
                        yield (*contact.path, "closed", index), False, position, who
            for position in contact.ohms or ():
                if position not in known:
                    yield (*contact.path, "ohms", position), True, position, who
        for signal in part.signals:
            for position in signal.values:
                if position not in known:
                    yield (*signal.path, "values", position), True, position, f"the signal of {part.number} is stated for"
    if family.fitting and family.fitting.set_in is not None and family.fitting.set_in not in known:
        yield ("fitting", "set_in"), False, family.fitting.set_in, "the switch is said to be set in"
    owners: tuple[Mount | Part, ...] = (*family.mounts.values(), *family.parts)
    for owner in owners:
        if owner.set_in is not None and owner.set_in not in known:
            yield (*owner.path, "set_in"), False, owner.set_in, "the switch is said to be set in"
    for one in family.applications:
        for index, position in enumerate(one.lever or ()):
            if position not in known:
                yield (*one.path, "lever", index), False, position, f"the lever of {one.vehicle} is said to have"


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family))
