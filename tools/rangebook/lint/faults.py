"""Whether the rules of one entry have nothing against the facts that a verdict was computed from.

A rule that goes by verdicts is silent where one of those facts is known to be wrong: what follows from it is not a second
fault, and goes away when the first one is mended. What an entry allows does not count against it.
"""

from __future__ import annotations

from collections.abc import Iterable

from rangebook.book.model import Family, KeyPath, Part
from rangebook.fitting.premises import Premise, Premises
from rangebook.fitting.seats import Seat
from rangebook.lint.context import Chains
from rangebook.reading.located import Map, Mark, Seq, steps
from rangebook.schema.fields import fields_at

_FACTS = frozenset({"positions", "parts", "plugs", "mounts"})
"""What of a family a verdict is computed from; of the last three only the parts, plugs and mounts that take part in it."""


class Faults:
    """Answers for one book."""

    def __init__(self, context: Chains) -> None:
        self._errors_in, self._premises = context.errors_in, Premises(context.book)
        self._silent = {
            (place, key)
            for place in _FACTS
            for key, field in fields_at(context.schemas, "switch", place).items()
            if not field.feeds_a_verdict
        }

    def are_in(self, seat: Seat, parts: Iterable[Part]) -> bool:
        """Whether anything is held against what parts were judged by on a seat, the seat's own part included."""
        judged = {seat.original, *parts}
        return not self._premises.are_known(seat, judged) or any(map(self._touch, self._premises.of(seat, judged)))

    def _touch(self, premise: Premise) -> bool:
        owner, errors = premise.owner, self._errors_in(premise.owner)
        if not errors or not isinstance(owner, Family):
            return bool(errors)
        front = owner.entry.front
        assert front is not None
        return any(self._concerns(front, mark, premise.paths) for mark in errors)

    def _concerns(self, front: Map, mark: Mark, paths: tuple[KeyPath, ...]) -> bool:
        """Whether a place in a family's entry lies in its positions, or in one of the parts, plugs and mounts at ``paths``, in what is said
        there that a verdict goes by."""
        key = _before(front, mark)
        if key not in _FACTS:
            return False
        if key == "positions":
            return True
        item = _before(front[key], mark)
        return (key, item) in paths and (key, _before(front[key][item], mark)) not in self._silent


def _before(node: Map | Seq, mark: Mark) -> str | int | None:
    """The last key or item that begins at or before a place."""
    found: str | int | None = None
    for step, _, (begins, *_) in steps(node):
        if begins <= mark:
            found = step
    return found
