"""Powered outputs, compared wire by wire: what is measured, how much, and where supply and ground come in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from rangebook.book.model import NOT_CONNECTED, Part, Signal
from rangebook.electrics.behaviour import signal_at
from rangebook.reasons.codes import (
    SignalEndDiffers,
    SignalEndNotStated,
    SignalKindDiffers,
    SignalKindNotStated,
    SignalNotStated,
    SignalOfOneOnly,
    SignalValue,
    SignalValueDiffers,
    SignalValueNotStated,
    SupplyDiffers,
)
from rangebook.reasons.reason import Detail, Of, Reason, Side, Subject

PinOn = Mapping[str, str | None]
"""Terminal -> the pin that it meets."""


class SignalDisagreement(NamedTuple):
    """Two parts do not certainly give the same on one terminal; ``reason`` says how, or what is not known."""

    terminal: str
    reason: Reason


def compare_signals(
    original: Part, original_pins: PinOn, candidate: Part, candidate_pins: PinOn, positions: Iterable[str]
) -> list[SignalDisagreement]:
    """Where the powered outputs on the wires differ, and where supply or ground do not meet the same wire.

    An output on a pin without a wire does not count; that its supply meets a wire does, for current would flow there.
    """
    positions = list(positions)
    found = []
    feeds = [_feeds(original, original_pins), _feeds(candidate, candidate_pins)]
    for terminal in original_pins:
        one, other = signal_at(original, original_pins[terminal]), signal_at(candidate, candidate_pins[terminal])
        if one and other:
            found += [
                SignalDisagreement(terminal, reason) for reason in _compare(terminal, one, other, original_pins, candidate_pins, positions)
            ]
        elif one or other:
            part, pins = (candidate, candidate_pins) if one else (original, original_pins)
            found.append(SignalDisagreement(terminal, _one_sided(terminal, part, pins[terminal], bool(one), positions)))
        here = [terminal in side for side in feeds]
        if here[0] != here[1] and not (one or other):
            has, lacks = _sides(here[0])
            found.append(SignalDisagreement(terminal, _on(terminal, Side.PLUG, SupplyDiffers(terminal, has, lacks))))
    return found


def _feeds(part: Part, pin_of: PinOn) -> set[str]:
    supplies = {signal.supply for signal in part.signals if signal.supply}
    return {terminal for terminal, pin in pin_of.items() if pin in supplies}


def _sides(original_has: bool) -> tuple[Side, Side]:
    """Who has something, and who has not."""
    return (Side.ORIGINAL, Side.CANDIDATE) if original_has else (Side.CANDIDATE, Side.ORIGINAL)


def _on(terminal: str, side: Side, detail: Detail, count: int = 1) -> Reason:
    return Reason(detail, Subject(side, Of.WIRE, (terminal,)), count)


def _one_sided(terminal: str, part: Part, pin: str | None, original_has: bool, positions: Sequence[str]) -> Reason:
    """One part gives a signal; ``part`` is the other one, with its pin there."""
    has, lacks = _sides(original_has)
    # Where nothing is stated about the other part's pin it may well be an output too.
    known = (
        pin is None
        or (part.pins is not None and pin not in part.pins)
        or any(pin in (contact.a, contact.b) for contact in part.contacts or ())
        or (part.pins or {}).get(pin) == NOT_CONNECTED
    )
    if known:
        return _on(terminal, Side.PLUG, SignalOfOneOnly(terminal, has, lacks))
    return _on(terminal, lacks, SignalNotStated(terminal, has), len(positions))


def _lacking(one: object | None, other: object | None) -> Side:
    """Which of two parts does not state something, where at least one does not."""
    return Side.BOTH if one is None and other is None else Side.ORIGINAL if one is None else Side.CANDIDATE


def _compare(
    terminal: str, one: Signal, other: Signal, original_pins: PinOn, candidate_pins: PinOn, positions: Sequence[str]
) -> Iterator[Reason]:
    count = len(positions)
    if one.kind is None or other.kind is None:
        yield _on(terminal, _lacking(one.kind, other.kind), SignalKindNotStated(terminal), count)
        return
    if one.kind != other.kind:
        yield _on(terminal, Side.CANDIDATE, SignalKindDiffers(terminal, one.kind, other.kind))
        return
    slack = (one.tolerance or 0) + 1e-9
    apart: list[SignalValue] = []
    missing: dict[Side, list[str]] = {}
    for position in positions:
        a, b = one.values.get(position), other.values.get(position)
        if a is None or b is None:
            missing.setdefault(_lacking(a, b), []).append(position)
        elif abs(a - b) > slack:
            apart.append(SignalValue(position, a, b))
    if apart:
        yield _on(terminal, Side.CANDIDATE, SignalValueDiffers(terminal, one.kind, tuple(apart), one.tolerance or None))
    for side, where in missing.items():
        yield _on(terminal, side, SignalValueNotStated(terminal, tuple(where)), count)
    for name, end, other_end in (("supply", one.supply, other.supply), ("ground", one.ground, other.ground)):
        if end is None or other_end is None:
            yield _on(terminal, _lacking(end, other_end), SignalEndNotStated(terminal, name), count)
        else:
            a_wire, b_wire = _terminal(original_pins, end), _terminal(candidate_pins, other_end)
            if a_wire != b_wire or a_wire is None:
                yield _on(terminal, Side.CANDIDATE, SignalEndDiffers(terminal, name, a_wire, b_wire))


def _terminal(pin_of: PinOn, pin: str) -> str | None:
    return next((terminal for terminal, met in pin_of.items() if met == pin), None)
