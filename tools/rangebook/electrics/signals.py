"""Powered outputs, compared wire by wire: what is measured, how much, and where supply and ground come in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from rangebook.book.model import Part, Signal, Volts
from rangebook.book.numbers import normalise
from rangebook.electrics.behaviour import inside_stated, signal_at
from rangebook.electrics.relation import DEFAULT_TOLERANCE_PERCENT
from rangebook.reasons.codes import (
    Overlap,
    ReadingsOverlap,
    SignalEndDiffers,
    SignalEndNotStated,
    SignalFactDiffers,
    SignalFactNotStated,
    SignalKindDiffers,
    SignalKindNotStated,
    SignalNotStated,
    SignalOfOneOnly,
    SignalTwice,
    SignalValue,
    SignalValueDiffers,
    SignalValueNotStated,
    SupplyBeyond,
    SupplyDiffers,
    SupplyNotStated,
    SupplyVoltsNotStated,
    SupplyWithoutWire,
)
from rangebook.reasons.reason import Detail, Of, Reason, Side, Subject

FACTS = ("supply_volts", "frequency_hz", "pull_up_ohms", "pull_up_volts", "polarity", "output", "ratiometric", "protocol")
"""What drives a powered output, by its keys. Figures are the same within the tolerance of a resistor of which none is stated."""

ALWAYS_ASKED = ("supply_volts", "protocol")
"""What has to be stated of serial data: nobody who hears them knows more than that they are there."""

Given = Mapping[str, Volts]
"""Terminal -> the volts that the vehicle feeds through its wire, where that is stated."""

PinOn = Mapping[str, str | None]
"""Terminal -> the pin that it meets."""


_NOTHING: Given = {}


class SignalDisagreement(NamedTuple):
    """Two parts do not certainly give the same on one terminal; ``reason`` says how, or what is not known."""

    terminal: str
    reason: Reason


def compare_signals(
    original: Part, original_pins: PinOn, candidate: Part, candidate_pins: PinOn, positions: Iterable[str], given: Given = _NOTHING
) -> list[SignalDisagreement]:
    """Where the powered outputs on the wires differ, and where supply or ground do not meet the same wire.

    An output on a pin without a wire does not count; that its supply meets a wire does, for current would flow there, and what the vehicle
    gives has to lie within what the electronics are made for.
    """
    if not original.signals and not candidate.signals:
        return []
    positions = list(positions)
    found = []
    feeds = [_feeds(original, original_pins), _feeds(candidate, candidate_pins)]
    for terminal in original_pins:
        sides = (original, original_pins[terminal]), (candidate, candidate_pins[terminal])
        one, other = (signal_at(part, pin) for part, pin in sides)
        twice = [_twice(part, pin) for part, pin in sides]
        if any(twice):
            side = Side.BOTH if all(twice) else Side.ORIGINAL if twice[0] else Side.CANDIDATE
            reasons = [_on(terminal, side, SignalTwice(terminal), len(positions))]
        elif one and other:
            fed = bool(other.supply) and _terminal(candidate_pins, other.supply or "") in given
            reasons = list(_compare(terminal, one, other, original_pins, candidate_pins, positions, fed))
        elif one or other:
            reasons = [_one_sided(terminal, *sides[1 if one else 0], bool(one), positions)]
        else:
            reasons = list(_supply(terminal, sides, feeds, positions))
        if terminal in given and sides[1][1]:
            reasons += _fed(terminal, given[terminal], candidate, sides[1][1], len(positions))
        found += [SignalDisagreement(terminal, reason) for reason in reasons]
    return found


def _fed(terminal: str, given: Volts, part: Part, pin: str, count: int) -> Iterator[Reason]:
    """What the vehicle gives against what the electronics behind a pin are made for."""
    for made_for in dict.fromkeys(one.supply_volts for one in part.signals if one.supply == pin):
        if made_for is None:
            yield _on(terminal, Side.CANDIDATE, SignalFactNotStated(terminal, "supply_volts"), count)
        elif not within(given, made_for):
            yield _on(terminal, Side.CANDIDATE, SupplyBeyond(terminal, typed(given), typed(made_for)))


def within(given: Volts, made_for: Volts) -> bool:
    """Whether electronics work with all that they may be given; what is made for a single voltage works that much about it which a resistor
    may be off, of which no tolerance is stated."""
    low, high = given if isinstance(given, tuple) else (given, given)
    least, most = _window(made_for)
    return least - 1e-9 <= low and high <= most + 1e-9


def _window(volts: Volts) -> tuple[float, float]:
    if isinstance(volts, tuple):
        return volts
    slack = volts * DEFAULT_TOLERANCE_PERCENT / 100
    return volts - slack, volts + slack


def _feeds(part: Part, pin_of: PinOn) -> set[str]:
    supplies = {signal.supply for signal in part.signals if signal.supply}
    return {terminal for terminal, pin in pin_of.items() if pin in supplies}


def _twice(part: Part, pin: str | None) -> bool:
    return pin is not None and sum(signal.pin == pin for signal in part.signals) > 1


def _supply(
    terminal: str, sides: Sequence[tuple[Part, str | None]], feeds: Sequence[set[str]], positions: Sequence[str]
) -> Iterator[Reason]:
    """Where a wire supplies one part only: a difference, unless nothing is stated of what it meets inside the other."""
    here = [terminal in side for side in feeds]
    if here[0] == here[1]:
        return
    has, lacks = _sides(here[0])
    if inside_stated(*sides[1 if here[0] else 0]):
        yield _on(terminal, Side.PLUG, SupplyDiffers(terminal, has, lacks))
    else:
        yield _on(terminal, lacks, SupplyNotStated(terminal, has), len(positions))


def _sides(original_has: bool) -> tuple[Side, Side]:
    """Who has something, and who has not."""
    return (Side.ORIGINAL, Side.CANDIDATE) if original_has else (Side.CANDIDATE, Side.ORIGINAL)


def _on(terminal: str, side: Side, detail: Detail, count: int = 1) -> Reason:
    return Reason(detail, Subject(side, Of.WIRE, (terminal,)), count)


def _one_sided(terminal: str, part: Part, pin: str | None, original_has: bool, positions: Sequence[str]) -> Reason:
    """One part gives a signal; ``part`` is the other one, with its pin there."""
    has, lacks = _sides(original_has)
    # Where nothing is stated about the other part's pin it may well be an output too.
    if inside_stated(part, pin):
        return _on(terminal, Side.PLUG, SignalOfOneOnly(terminal, has, lacks))
    return _on(terminal, lacks, SignalNotStated(terminal, has), len(positions))


def _lacking(one: object | None, other: object | None) -> Side:
    """Which of two parts does not state something, where at least one does not."""
    return Side.BOTH if one is None and other is None else Side.ORIGINAL if one is None else Side.CANDIDATE


def _compare(
    terminal: str, one: Signal, other: Signal, original_pins: PinOn, candidate_pins: PinOn, positions: Sequence[str], fed: bool
) -> Iterator[Reason]:
    """``fed``: it is stated what the vehicle gives the candidate, which is judged by itself."""
    count = len(positions)
    if one.kind is None or other.kind is None:
        yield _on(terminal, _lacking(one.kind, other.kind), SignalKindNotStated(terminal), count)
        return
    if one.kind != other.kind:
        yield _on(terminal, Side.CANDIDATE, SignalKindDiffers(terminal, one.kind, other.kind))
        return
    for fact in FACTS:
        a, b = getattr(one, fact), getattr(other, fact)
        if fact == "supply_volts" and fed:
            continue
        if a is not None and b is not None:
            if isinstance(a, tuple) or isinstance(b, tuple):
                yield from _ranges(terminal, a, b, _terminal(original_pins, one.supply or ""), count)
            elif not _same(fact, a, b):
                yield _on(terminal, Side.CANDIDATE, SignalFactDiffers(terminal, fact, typed(a), typed(b)))
        elif a is not None or b is not None or (one.kind == "serial" and fact in ALWAYS_ASKED):
            yield _on(terminal, _lacking(a, b), SignalFactNotStated(terminal, fact), count)
    yield from _values(terminal, one, other, positions)
    for name, end, other_end in (("supply", one.supply, other.supply), ("ground", one.ground, other.ground)):
        if end is None or other_end is None:
            yield _on(terminal, _lacking(end, other_end), SignalEndNotStated(terminal, name), count)
        else:
            a_wire, b_wire = _terminal(original_pins, end), _terminal(candidate_pins, other_end)
            if a_wire != b_wire:
                yield _on(terminal, Side.CANDIDATE, SignalEndDiffers(terminal, name, a_wire, b_wire))
            elif a_wire is None and end != other_end:
                yield _on(terminal, Side.BOTH, SupplyWithoutWire(terminal, name), count)


def _ranges(terminal: str, one: Volts, other: Volts, supply: str | None, count: int) -> Iterator[Reason]:
    """What two electronics are made for, where it is not stated what the vehicle gives: something that the original works with."""
    (least, most), (low, high) = _window(one), _window(other)
    if high < least - 1e-9 or most < low - 1e-9:
        yield _on(terminal, Side.CANDIDATE, SignalFactDiffers(terminal, "supply_volts", typed(one), typed(other)))
    elif not within((least, most), other):
        cavity = supply or terminal
        yield _on(cavity, Side.PLUG, SupplyVoltsNotStated(cavity, typed(one), typed(other)), count)


def _same(fact: str, a: float | str | bool, b: float | str | bool) -> bool:
    if fact == "protocol":
        return normalise(str(a)) == normalise(str(b))
    if isinstance(a, str | bool) or isinstance(b, str | bool):
        return a == b
    return abs(a - b) <= max(a, b) * (DEFAULT_TOLERANCE_PERCENT / 100 + 1e-9)


def typed(value: Volts | str | bool) -> str:
    """A fact as it would be typed, a range as ``9 to 16``."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return f"{value[0]:g} to {value[1]:g}"
    return value if isinstance(value, str) else f"{value:g}"


def _values(terminal: str, one: Signal, other: Signal, positions: Sequence[str]) -> Iterator[Reason]:
    """Values agree within the original's tolerance, as far as that is not half way to another of its values; and at the worst of each
    part's tolerance none may be beyond that. Of two outputs that go with their supply, each is what it is at its own supply."""
    assert one.kind is not None
    share = _share(one, other)
    apart: list[SignalValue] = []
    missing: dict[Side, list[str]] = {}
    wide: dict[Side, list[Overlap]] = {}
    for position in positions:
        a, b = one.values.get(position), other.values.get(position)
        if a is None and b is None and one.kind == "serial":
            continue  # what stands for a position is a matter of the protocol
        if a is None or b is None:
            missing.setdefault(_lacking(a, b), []).append(position)
            continue
        b *= share
        near = min((at for at in positions if one.values.get(at, a) != a), key=lambda at: abs(one.values[at] - a), default=None)
        half = float("inf") if near is None else abs(one.values[near] - a) / 2
        if abs(a - b) > min(one.tolerance or 0, half) + 1e-9:
            apart.append(SignalValue(position, a, b))
            continue
        for side, value, tolerance in ((Side.ORIGINAL, a, one.tolerance), (Side.CANDIDATE, b, other.tolerance)):
            if near is not None and abs(value - a) + (tolerance or 0) > half + 1e-9:
                wide.setdefault(side, []).append(Overlap(position, near))
    if apart:
        yield _on(terminal, Side.CANDIDATE, SignalValueDiffers(terminal, one.kind, tuple(apart), one.tolerance or None))
    for side, overlaps in wide.items():
        yield _on(terminal, side, ReadingsOverlap((terminal,), tuple(overlaps)), len(positions))
    for side, where in missing.items():
        yield _on(terminal, side, SignalValueNotStated(terminal, tuple(where)), len(positions))


def _share(one: Signal, other: Signal) -> float:
    """By how much the values of ``other`` are to be multiplied, so that both are at one supply."""
    a, b = one.supply_volts, other.supply_volts
    both = one.kind == "volts" and one.ratiometric and other.ratiometric
    return a / b if both and a and b and not isinstance(a, tuple) and not isinstance(b, tuple) else 1.0


def _terminal(pin_of: PinOn, pin: str) -> str | None:
    return next((terminal for terminal, met in pin_of.items() if met == pin), None)
