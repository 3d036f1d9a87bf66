"""A kit that supplies a sealed plug, and no rear seal for it.

The rear seals in the bag are stated for a kit whose plug is sealed, and there is one. Common practice, no source: some plugs have a
seal on each wire instead; then the bag has ``wire_seals``, or ``allow`` says so.

Why it matters: while the seals are not stated the answer is "unknown". Without a seal the new plug fills with water, and what joins two
pins then is not in any diagram.

Fails: nobody has looked into the bag.

    kind: kit
    seals: []

Mended:

    kind: kit
    seals: [4, 6]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Kit
from rangebook.fitting.mating import READY_MADE
from rangebook.lint.context import Housings
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_kit(kit: Kit, context: Housings) -> Iterator[Problem]:
    """Yield a finding for a kit for a sealed plug whose seals are not stated, or are said to be none."""
    supplied = context.connectors.get(kit.new)
    if supplied is None or not supplied.sealed or kit.seals or kit.wire_seals or kit.joins in READY_MADE:
        return
    if kit.seals is None:
        yield problem(kit, ("to",), "not_stated", connector=supplied.id)
    else:
        yield problem(kit, ("seals",), "none", connector=supplied.id)


MESSAGES = {
    "not_stated": Told("{connector} is sealed, and which rear seals are in the bag is not stated", "open the bag and add `seals`"),
    "none": Told(
        "{connector} is sealed, and the bag is said to hold no rear seal",
        "look into the bag again; if each wire has a seal of its own, say so with `allow`",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Kit, Housings, check_kit), messages=MESSAGES)
