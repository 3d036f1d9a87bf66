"""Powered outputs, compared wire by wire: what is measured, how much, and where supply and ground come in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rangebook.book.model import Part, Signal
from rangebook.electrics.behaviour import signal_at

UNITS = {"volts": "V", "duty_percent": "% duty", "frequency_hz": "Hz"}
"""Kind of signal -> the unit behind its figures."""


@dataclass(frozen=True, slots=True)
class SignalDisagreement:
    """Two parts do not certainly give the same on one terminal; ``text`` says how, ``sure`` is false where it is not known."""

    terminal: str
    text: str
    sure: bool


def compare_signals(
    original: Part,
    original_pins: Mapping[str, str | None],
    candidate: Part,
    candidate_pins: Mapping[str, str | None],
    positions: Iterable[str],
) -> list[SignalDisagreement]:
    """Where the powered outputs on the wires differ, and where supply or ground do not meet the same wire.

    An output on a pin without a wire does not count; that its supply meets a wire does, for current would flow there.
    """
    positions = list(positions)
    found = []
    feeds = [_feeds(original, original_pins), _feeds(candidate, candidate_pins)]
    for terminal in original_pins:
        one, other = signal_at(original, original_pins[terminal]), signal_at(candidate, candidate_pins[terminal])
        if one or other:
            if not one or not other:
                found.append(_one_sided(terminal, original, original_pins, candidate, candidate_pins, bool(one)))
            else:
                found += _compare(terminal, one, other, original_pins, candidate_pins, positions)
        here = [terminal in side for side in feeds]
        if here[0] != here[1] and not (one or other):
            has, lacks = ("the original", "this one") if here[0] else ("this one", "the original")
            text = f"cavity {terminal} is the supply of {has}'s electronics and not of {lacks}'s"
            found.append(SignalDisagreement(terminal, text, sure=True))
    return found


def _feeds(part: Part, pin_of: Mapping[str, str | None]) -> set[str]:
    supplies = {signal.supply for signal in part.signals if signal.supply}
    return {terminal for terminal, pin in pin_of.items() if pin in supplies}


def _one_sided(
    terminal: str,
    original: Part,
    original_pins: Mapping[str, str | None],
    candidate: Part,
    candidate_pins: Mapping[str, str | None],
    original_has: bool,
) -> SignalDisagreement:
    part, pins = (candidate, candidate_pins) if original_has else (original, original_pins)
    pin = pins[terminal]
    # Where nothing is stated about the other part's pin it may well be an output too.
    known = (
        pin is None
        or (part.pins is not None and pin not in part.pins)
        or any(pin in (contact.a, contact.b) for contact in part.contacts or ())
        or (part.pins or {}).get(pin) == "not_connected"
    )
    has, lacks = ("the original", "this one") if original_has else ("this one", "the original")
    if known:
        return SignalDisagreement(terminal, f"on cavity {terminal} {has} gives a powered signal and {lacks} does not", True)
    return SignalDisagreement(terminal, f"on cavity {terminal} {has} gives a powered signal; what {lacks} gives is not stated", False)


def _compare(
    terminal: str,
    one: Signal,
    other: Signal,
    original_pins: Mapping[str, str | None],
    candidate_pins: Mapping[str, str | None],
    positions: list[str],
) -> Iterable[SignalDisagreement]:
    where = f"signal on cavity {terminal}"
    if one.kind is None or other.kind is None:
        yield SignalDisagreement(terminal, f"{where}: what kind of signal it is, is not stated", False)
        return
    if one.kind != other.kind:
        yield SignalDisagreement(terminal, f"{where}: the original gives {_kind(one.kind)}, this one {_kind(other.kind)}", True)
        return
    unit = UNITS[one.kind]
    slack = (one.tolerance or 0) + 1e-9
    apart, missing = [], []
    for position in positions:
        a, b = one.values.get(position), other.values.get(position)
        if a is None or b is None:
            missing.append(position)
        elif abs(a - b) > slack:
            apart.append(f"{position} {a:g} against {b:g} {unit}")
    if apart:
        allowed = f"; {one.tolerance:g} {unit} either way would do" if one.tolerance else ""
        yield SignalDisagreement(terminal, f"{where}: {', '.join(apart)}{allowed}", True)
    if missing:
        yield SignalDisagreement(terminal, f"{where}: its value in {', '.join(missing)} is not stated for both", False)
    for name, end, other_end in (("supply", one.supply, other.supply), ("ground", one.ground, other.ground)):
        if end is None or other_end is None:
            yield SignalDisagreement(terminal, f"{where}: its {name} pin is not stated for both", False)
        else:
            a, b = _terminal(original_pins, end), _terminal(candidate_pins, other_end)
            if a != b or a is None:
                yield SignalDisagreement(
                    terminal, f"{where}: its {name} is on {_cavity(a)} in the original and on {_cavity(b)} in this one", True
                )


def _kind(kind: str) -> str:
    return {"volts": "volts", "duty_percent": "a duty cycle", "frequency_hz": "a frequency"}[kind]


def _terminal(pin_of: Mapping[str, str | None], pin: str) -> str | None:
    return next((terminal for terminal, met in pin_of.items() if met == pin), None)


def _cavity(terminal: str | None) -> str:
    return "a pin without a wire" if terminal is None else "the housing" if terminal == "case" else f"cavity {terminal}"
