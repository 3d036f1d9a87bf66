"""What a meter's readings tell: which single fault explains them, or that the part is good.

Common practice, no source: a closed contact reads under 1 ohm, an open one over 1 megohm, with nothing else connected.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from rangebook.book.model import CASE, Part
from rangebook.electrics.behaviour import PinOf, behaviour
from rangebook.electrics.bundles import bundles_of
from rangebook.electrics.insulation import (
    OTHERS,
    Insulation,
    Known,
    insulation,
    met_pins,
    outputs_of,
    powered_pins,
    read_against,
    read_in,
    tied_to,
)
from rangebook.electrics.proof import READ, Pair, read_alone, stuck_in
from rangebook.electrics.relation import JOINED, OPEN, PathKind, Relation, agree

CLOSED_BELOW_OHMS = 1.0
OPEN_ABOVE_OHMS = 1_000_000.0

Row = tuple[Relation | None, ...]
"""What is read between two terminals, by position; ``None`` where that is not known."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A meter's reading between two terminals in one position; ``ohms`` infinite for no path. ``b`` may be ``OTHERS``: all others tied."""

    a: str
    b: str
    position: str
    ohms: float


@dataclass(frozen=True, slots=True)
class Explanation:
    """One thing that explains all readings. ``kind`` is ``good``, ``stuck_open``, ``stuck_closed``, ``detent`` (``about``:
    how many positions the switch is ahead of the lever), ``swapped``, ``leak`` (an output has a path that no contact is) or
    ``not_proved``: good as far as it was read, which is not all of the insulation. ``about`` are the ends or wires that it concerns."""

    kind: str
    about: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Signature:
    """What would be read if ``explanation`` were so. ``healthy`` are the rows of a good part by pair of terminals; of those ``changed``
    are not as they were, ``place`` says which terminal another one's reading is found at, ``shift`` by how many positions the switch
    is ahead of the lever. ``against`` are the rows of a terminal against all others tied together."""

    explanation: Explanation
    healthy: Mapping[Pair, Row]
    changed: Mapping[Pair, Row] = field(default_factory=dict)
    place: Mapping[str, str] = field(default_factory=dict)
    shift: int = 0
    against: Mapping[str, Row] = field(default_factory=dict)

    def row(self, a: str, b: str) -> Row:
        """What would be read between two terminals, by position. ``b`` may be ``OTHERS``."""
        a, b = self.place.get(a, a), self.place.get(b, b)
        if b == OTHERS:
            row = self.against[a]
        else:
            pair = (a, b) if (a, b) in self.healthy else (b, a)
            row = self.changed.get(pair) or self.healthy[pair]
        return (*row[1:], None) if self.shift > 0 else (None, *row[:-1]) if self.shift < 0 else row

    def shows(self) -> bool:
        """Whether something between these terminals reads otherwise than on a good part."""
        if self.shift:
            return any(self.row(a, b) != row for (a, b), row in self.healthy.items())
        concerned = self.changed or [pair for pair in self.healthy if pair[0] in self.place or pair[1] in self.place]
        return any(self.row(a, b) != self.healthy[a, b] for a, b in concerned)


def signatures(part: Part, pin_of: PinOf, positions: tuple[str, ...], circuits: Known) -> list[Signature]:
    """What a good part reads, then what each single fault of it would: a contact stuck, one detent off, two wires swapped.

    A fault that nothing between these terminals would show is not among them. ``circuits`` as for ``proof_sheet``.
    """
    healthy = _healthy(part, pin_of, positions)
    against = _against(part, pin_of, positions) if outputs_of(pin_of, circuits) else {}
    asked = {one.terminal: _known(one.expected) for one in insulation(part, pin_of, positions, circuits)[0]}
    faults = (
        *_stuck_contacts(part, pin_of, healthy, against, positions),
        *_detents(healthy, against),
        *_swapped(pin_of, healthy, against),
    )
    good = Signature(Explanation("good"), healthy, against={**against, **asked})
    return [good, *(one for one in faults if one.shows())]


def _against(part: Part, pin_of: PinOf, positions: tuple[str, ...]) -> dict[str, Row]:
    """Each terminal against all others tied together."""
    met = dict(met_pins(part, pin_of))
    powered = powered_pins(part)
    rows: dict[str, Row] = dict.fromkeys((one for one, _ in pin_of), (None,) * len(positions))
    for one, pin in met.items():
        if pin not in powered:
            rows[one] = _known(read_against(part, pin, frozenset(met[other] for other in tied_to(part, met, one)), positions))
    return rows


def _healthy(part: Part, pin_of: PinOf, positions: tuple[str, ...]) -> dict[Pair, Row]:
    """Two terminals at a time: a meter sees all that lies between its probes, whatever other terminals there are."""
    together = behaviour(part, pin_of, positions)
    pins = dict(pin_of)
    of = bundles_of(part).of
    met = Counter(id(of[pin]) for pin in pins.values() if pin is not None and pin in of)
    rows = {}
    for a, b in combinations(pins, 2):
        bundle = of.get(pins[a] or "")
        if bundle is not None and bundle is of.get(pins[b] or "") and met[id(bundle)] > 2:
            alone = behaviour(part, ((a, pins[a]), (b, pins[b])), positions)
        else:
            alone = together  # no third terminal has a part in it
        rows[a, b] = _known(alone.between(a, b))
    return rows


def _known(row: Sequence[Relation]) -> Row:
    return tuple(one if one.path in READ else None for one in row)


def _stuck_contacts(
    part: Part, pin_of: PinOf, healthy: Mapping[Pair, Row], against: Mapping[str, Row], positions: tuple[str, ...]
) -> Iterator[Signature]:
    pins = dict(met_pins(part, pin_of))
    of = bundles_of(part).of
    listed = bundles_of(part).listed
    tied = {one: frozenset(pins[other] for other in tied_to(part, pins, one)) for one in pins if against}
    for contact in part.contacts or ():
        bundle = of.get(contact.a)
        if bundle is None or contact.a == contact.b:
            continue
        # Only between pins of its own bundle can a contact change anything.
        near = [pair for pair in healthy if all(of.get(pins.get(end, "")) is bundle for end in pair)]
        beside = [one for one, others in tied.items() if of.get(pins[one]) is bundle and others <= listed and not part.signals]
        place = bundle.contacts.index(contact)
        for closed, kind in ((False, "stuck_open"), (True, "stuck_closed")):
            flipped = stuck_in(bundle, place, closed)
            changed = {(a, b): _known(read_alone(flipped, (pins[a], pins[b]), positions)) for a, b in near}
            tie = {one: _known(read_in(flipped, pins[one], tied[one], positions)) for one in beside}
            if changed:
                yield Signature(Explanation(kind, (contact.a, contact.b)), healthy, changed, against={**against, **tie})


def _detents(healthy: Mapping[Pair, Row], against: Mapping[str, Row]) -> Iterator[Signature]:
    for shift in (1, -1):
        yield Signature(Explanation("detent", (str(shift),)), healthy, shift=shift, against=against)


def _swapped(pin_of: PinOf, healthy: Mapping[Pair, Row], against: Mapping[str, Row]) -> Iterator[Signature]:
    for one, other in combinations([terminal for terminal, _ in pin_of if terminal != CASE], 2):
        yield Signature(Explanation("swapped", (one, other)), healthy, place={one: other, other: one}, against=against)


def diagnose(part: Part, pin_of: PinOf, positions: tuple[str, ...], readings: Sequence[Reading], circuits: Known) -> list[Explanation]:
    """Every single fault that explains all the readings, or that the part is good; empty if no single one does.

    It is ``good`` only with every insulation reading taken; until then it is ``not_proved``. ``circuits`` as for ``proof_sheet``.
    """
    at = {position: place for place, position in enumerate(positions)}
    known = signatures(part, pin_of, positions, circuits)

    def fits(one: Signature, reading: Reading) -> bool:
        return reading_fits(one.row(reading.a, reading.b)[at[reading.position]], reading.ohms)

    found = [one.explanation for one in known if all(fits(one, reading) for reading in readings)]
    probes = insulation(part, pin_of, positions, circuits)[0]
    if found and found[0].kind == "good":
        left = _not_taken(probes, positions, readings)
        return [Explanation("not_proved", left), *found[1:]] if left else found
    return found or _leaks(known[0], probes, at, [reading for reading in readings if not fits(known[0], reading)])


def _not_taken(probes: Sequence[Insulation], positions: tuple[str, ...], readings: Sequence[Reading]) -> tuple[str, ...]:
    """The outputs of whose insulation some reading is left to take."""
    taken = {(one.a, one.position) for one in readings if one.b == OTHERS}
    return tuple(
        one.terminal
        for one in probes
        if any(row.path in READ and (one.terminal, position) not in taken for row, position in zip(one.expected, positions, strict=True))
    )


def _leaks(good: Signature, probes: Sequence[Insulation], at: Mapping[str, int], wrong: Sequence[Reading]) -> list[Explanation]:
    """The outputs that have a path too many, if that is all that is wrong: where they have one end, and should be open."""
    leaking = [one.terminal for one in probes if any((bad.a, bad.b) == (one.terminal, OTHERS) for bad in wrong)]
    explained = all((bad.a in leaking or bad.b in leaking) and good.row(bad.a, bad.b)[at[bad.position]] == OPEN for bad in wrong)
    return [Explanation("leak", (one,)) for one in leaking if explained]


def reading_fits(expected: Relation | None, ohms: float) -> bool:
    """Whether a meter's reading can be what is expected; any can where that is not known."""
    return expected is None or reading_agrees(expected, ohms)


def reading_agrees(expected: Relation, ohms: float) -> bool:
    """Whether a meter's reading is what is expected. Between a good contact and no path there is neither."""
    if expected.path is PathKind.OHMS:
        return agree(expected, Relation(PathKind.OHMS, ohms)) or (expected.ohms or 0) < CLOSED_BELOW_OHMS > ohms
    if expected == JOINED:
        return ohms < CLOSED_BELOW_OHMS
    return ohms > OPEN_ABOVE_OHMS
