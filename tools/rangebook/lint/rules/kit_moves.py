"""A kit that takes a wire from nowhere, or to nowhere, or two wires to one place.

The keys of a kit's ``moves`` are cavities of the connector in ``from``, the values cavities of the one in ``to``, as are
those of its ``loops``, and no two wires go to the same cavity.
A kit may have the same connector on both sides, with its wires in other places.

Why it matters: the kit's map is what somebody crimps a new plug by. A wire in the wrong cavity may put the backup feed on the
start contact.

Fails:

    kind: kit
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 5}

Mended:

    kind: kit
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Kit
from rangebook.fitting.contradictions import loops_to_nowhere, moves_from_nowhere, moves_to_nowhere
from rangebook.lint.context import Housings
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule
from rangebook.words.lists import enumerated


def check_kit(kit: Kit, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each cavity of the map that is not there, and at the second of two wires that go to one cavity."""
    known = context.connectors
    for path, (here,) in moves_from_nowhere(kit, known):
        old = known[kit.old]
        yield finding(
            kit,
            path,
            f"a wire is taken from cavity {here}, which {old.id} does not have (it has {enumerated(old.cavities)})",
            "correct the cavity of the old plug, or `from`",
            key=True,
        )
    nowhere = set()
    for path, (here, there) in moves_to_nowhere(kit, known):
        nowhere.add(here)
        new = known[kit.new]
        yield finding(
            kit,
            path,
            f"the wire from cavity {here} goes to cavity {there}, which {new.id} does not have (it has {enumerated(new.cavities)})",
            "correct the cavity of the new plug, or `to`",
        )
    for path, (cavity,) in loops_to_nowhere(kit, known):
        new = known[kit.new]
        yield finding(
            kit,
            path,
            f"a jumper ends in cavity {cavity}, which {new.id} does not have (it has {enumerated(new.cavities)})",
            "correct the cavity of the new plug, or `to`",
        )
    taken: dict[str, str] = {}
    for here, there in kit.moves.items():
        if here not in nowhere and there in taken:
            yield finding(
                kit,
                ("moves", here),
                f"the wires from cavities {taken[there]} and {here} both go to cavity {there}; expected a cavity for each",
                "follow both wires through the kit's sheet and correct the one that is wrong",
            )
        taken.setdefault(there, here)


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Kit, Housings, check_kit))
