"""Rear seals that cannot be right.

A rear seal has no more wire holes than the plug that the kit supplies has cavities, and no seal is listed twice.

Why it matters: the seal to take is picked from this list by the number of wires. One that cannot be in the bag sends somebody
looking for it with the plug already cut off.

Fails:

    kind: kit
    seals: [4, 14]

Mended:

    kind: kit
    seals: [4, 6]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Kit
from rangebook.fitting.contradictions import seals_beyond
from rangebook.lint.context import Housings
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_kit(kit: Kit, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each seal with too many holes, and at each that is listed already."""
    beyond = set()
    for path, (holes,) in seals_beyond(kit, context.connectors):
        beyond.add(path)
        supplied = context.connectors[kit.new]
        yield problem(kit, path, "too_many_holes", holes=holes, connector=supplied.id, cavities=len(supplied.cavities))
    for index, number in enumerate(kit.seals or ()):
        if ("seals", index) not in beyond and number in (kit.seals or ())[:index]:
            yield problem(kit, ("seals", index), "twice", holes=number)


MESSAGES = {
    "too_many_holes": Told(
        "a rear seal with {holes} wire holes, but {connector} has only {cavities} cavities",
        "count the holes again, or correct `to`",
        beside=("cavities",),
    ),
    "twice": Told(
        "the rear seal with {holes} wire holes is listed twice; expected each once",
        "take one out; if there really are two in the bag say so in `note`",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Kit, Housings, check_kit), messages=MESSAGES)
