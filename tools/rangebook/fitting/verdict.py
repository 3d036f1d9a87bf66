"""What a verdict is. The words in data are fixed; what people read is made in :mod:`rangebook.words`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from rangebook.book.model import Part
from rangebook.fitting.kit_contents import Needed
from rangebook.fitting.mating import Way
from rangebook.reasons.codes import Also
from rangebook.reasons.reason import Outcome, Reason


class VerdictKind(StrEnum):
    """The verdicts, best first."""

    STRAIGHT = "straight"
    WITH_PARTS = "with_parts"
    REWIRE = "rewire"
    UNKNOWN = "unknown"
    NO = "no"


RANK: Mapping[VerdictKind, int] = {kind: rank for rank, kind in enumerate(VerdictKind)}
"""Verdict -> its place, 0 the best."""

FITS = frozenset({VerdictKind.STRAIGHT, VerdictKind.WITH_PARTS})
"""The verdicts with which a part counts as fitting a seat."""

GOES_ON = FITS | {VerdictKind.REWIRE}
"""The verdicts with which somebody will fit the part, wires moved or not."""

DECIDES: Mapping[VerdictKind, Outcome] = {VerdictKind.NO: Outcome.AGAINST, VerdictKind.UNKNOWN: Outcome.MISSING}
"""Verdict -> the reasons that decide it, where it is not those that speak for the part."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a part can stand in on a seat.

    ``moves`` maps each cavity of the vehicle's plug whose wire has to be handled to the cavity that it goes to;
    ``unused_pins`` are the part's pins that get no wire. ``equal_answers`` is how many ways of moving the wires are as
    good as the one given. ``checked`` is everything that was looked at, in the order mount, mating, behaviour, safety.
    """

    part: Part
    kind: VerdictKind
    needs: tuple[Needed, ...] = ()
    moves: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    unused_pins: tuple[str, ...] = ()
    equal_answers: int = 1
    also: tuple[Also, ...] = ()
    """What is needed beside the kits: parts, pieces, work."""
    taken_back: tuple[str, ...] = ()
    """The numbers among it that their maker has withdrawn."""
    checked: tuple[Reason, ...] = ()
    way: Way | None = field(default=None, compare=False, repr=False)
    """How the plugs go on, where it is known that they do."""
    fans: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: MappingProxyType({}))
    """Each cavity of the vehicle's plug whose wire a lead brings to several of the plug that goes on -> all of these."""

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """What decides: all that is against it for ``no``, all that is missing for ``unknown``, else all that is for it."""
        wanted = DECIDES.get(self.kind, Outcome.FOR)
        return tuple(reason for reason in self.checked if reason.outcome is wanted)

    @property
    def measure_first(self) -> Reason | None:
        """Of what is missing, the one thing that settles most once it is found out; of several the first."""
        if self.kind is not VerdictKind.UNKNOWN:
            return None
        return max((one for one in self.checked if one.outcome is Outcome.MISSING), key=lambda one: one.weight, default=None)

    @property
    def fits(self) -> bool:
        """Whether the part fits as it is or with parts that can be ordered."""
        return self.kind in FITS

    @property
    def goes_on(self) -> bool:
        """Whether somebody will fit the part: it fits, or does once wires are moved."""
        return self.kind in GOES_ON


def settle(kind: VerdictKind, checked: Iterable[Reason]) -> VerdictKind:
    """The verdict that reasons come to, where all that is checked speaks for ``kind``: anything against makes it ``no``, else anything
    missing makes it ``unknown``, whatever else speaks for it. Reasons are not looked for further once one is against."""
    for reason in checked:
        if reason.outcome is Outcome.AGAINST:
            return VerdictKind.NO
        if reason.outcome is Outcome.MISSING:
            kind = VerdictKind.UNKNOWN
    return kind
