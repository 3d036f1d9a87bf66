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
from rangebook.lint.context import Context
from rangebook.lint.finding import Hit, Severity, hit

SEVERITY = Severity.ERROR


def check_kit(kit: Kit, context: Context) -> Iterator[Hit]:
    """Yield a hit at each seal with too many holes, and at each that is listed already."""
    supplied = context.book.connectors.get(kit.new)
    for index, holes in enumerate(kit.seals or ()):
        if supplied is not None and holes > len(supplied.cavities):
            yield hit(
                kit,
                ("seals", index),
                f"a rear seal with {holes} wire holes, but {supplied.id} has only {len(supplied.cavities)} cavities",
                "count the holes again, or correct `to`",
            )
        elif holes in (kit.seals or ())[:index]:
            yield hit(
                kit,
                ("seals", index),
                f"the rear seal with {holes} wire holes is listed twice; expected each once",
                "take one out; if there really are two in the bag say so in `note`",
            )
