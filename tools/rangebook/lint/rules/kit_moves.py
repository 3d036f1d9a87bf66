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
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_kit(kit: Kit, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each cavity of the map that is not there, and at the second of two wires that go to one cavity."""
    known = context.connectors
    for path, (here,) in moves_from_nowhere(kit, known):
        olds = [known[old] for old in kit.olds]
        cavities = dict.fromkeys(cavity for old in olds for cavity in old.cavities)
        yield problem(kit, path, "from_nowhere", key=True, here=here, connectors=tuple(old.id for old in olds), cavities=some(cavities))
    nowhere = set()
    for path, (here, there) in moves_to_nowhere(kit, known):
        nowhere.add(here)
        new = known[kit.new]
        yield problem(kit, path, "to_nowhere", here=here, there=there, connector=new.id, cavities=some(new.cavities))
    for path, (cavity,) in loops_to_nowhere(kit, known):
        new = known[kit.new]
        yield problem(kit, path, "jumper_to_nowhere", cavity=cavity, connector=new.id, cavities=some(new.cavities))
    taken: dict[str, str] = {}
    for here, there in ((old, one) for old in kit.moves for one in kit.places(old)):
        if here not in nowhere and there in taken:
            yield problem(kit, ("moves", here), "two_to_one", first=taken[there], here=here, there=there)
        taken.setdefault(there, here)


MESSAGES = {
    "from_nowhere": Told(
        "a wire is taken from cavity {here}, which {connectors|or} does not have (it has {cavities|some})",
        "correct the cavity of the old plug, or `from`",
        beside=("cavities",),
    ),
    "to_nowhere": Told(
        "the wire from cavity {here} goes to cavity {there}, which {connector} does not have (it has {cavities|some})",
        "correct the cavity of the new plug, or `to`",
        beside=("cavities",),
    ),
    "jumper_to_nowhere": Told(
        "a jumper ends in cavity {cavity}, which {connector} does not have (it has {cavities|some})",
        "correct the cavity of the new plug, or `to`",
        beside=("cavities",),
    ),
    "two_to_one": Told(
        "the wires from cavities {first} and {here} both go to cavity {there}; expected a cavity for each",
        "follow both wires through the kit's sheet and correct the one that is wrong",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Kit, Housings, check_kit), messages=MESSAGES)
