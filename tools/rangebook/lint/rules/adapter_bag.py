"""Seals or terminals in the bag of a lead that is ready made.

A kit whose ``joins`` is ``plug_in`` or ``splice`` has its terminals and seals in its plug already: ``seals``, ``blanks``, ``wire_seals``,
``terminal`` and ``terminals`` are of kits for a plug that is crimped on.

Why it matters: one of the two is wrong. What is said of the bag of a ready lead is not looked at: if wires are to be crimped after all,
nobody is told which seal, and that the old plug is cut off.

Fails:

    kind: kit
    joins: plug_in

Mended:

    kind: kit
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Kit
from rangebook.fitting.mating import READY_MADE
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule

IN_A_BAG = ("seals", "blanks", "wire_seals", "terminal", "terminals")


def check_kit(kit: Kit, context: Context) -> Iterator[Problem]:
    """Yield a finding at each thing in the bag of a ready lead; that there is none of it is no contradiction."""
    if kit.joins not in READY_MADE:
        return
    for key in IN_A_BAG:
        if getattr(kit, key):
            yield problem(kit, (key,), "in_the_bag", key=True, what=key, joins=kit.joins)


MESSAGES = {
    "in_the_bag": Told(
        "the lead joins by `{joins}`, so its plug is ready made, and `{what}` is stated of its bag",
        "take `{what}` out; where wires are crimped into the new plug, correct `joins`",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Kit, Context, check_kit), messages=MESSAGES)
