"""Powered outputs of a part, line by line, and what an end of a contact or output is for."""

from __future__ import annotations

from typing import Any

from rangebook.book.model import CASE, Family, Part, Signal
from rangebook.electrics.signals import FACTS, typed
from rangebook.site.facts.computed import Computed
from rangebook.words.book import signal_words
from rangebook.words.catalogue import say
from rangebook.words.lists import listed


def end_words(computed: Computed, part: Part, end: str) -> str:
    """What a pin, or the housing, is for."""
    if end == CASE:
        return say("family_page.the_housing")
    return computed.circuit((part.pins or {}).get(end)) if end in (part.pins or {}) else say("page.no_circuit")


def signal_rows(computed: Computed, family: Family, part: Part) -> list[dict[str, Any]]:
    """The powered outputs of a part: between what, in which unit, and what to measure in each position."""
    return [_signal(computed, family, part, one) for one in part.signals]


def _drive(signal: Signal) -> list[str]:
    """What drives it, as far as it is stated."""
    return [say("family_page.drive", fact=fact, value=typed(value)) for fact in FACTS if (value := getattr(signal, fact)) is not None]


def _signal(computed: Computed, family: Family, part: Part, signal: Signal) -> dict[str, Any]:
    ends = (
        say("family_page.measured_against", ground=signal.ground) if signal.ground else None,
        say("family_page.fed_through", supply=signal.supply) if signal.supply else None,
    )
    return {
        "pin": signal.pin,
        "name": end_words(computed, part, signal.pin),
        "ends": listed(filter(None, (*ends, *_drive(signal))), "comma"),
        "unit": say("family_page.signal_unit", kind=signal_words(signal.kind), tolerance=signal.tolerance),
        "cells": [
            {"state": "ohms", "text": f"{signal.values[position]:g}"} if position in signal.values else {"state": "unknown", "text": "?"}
            for position in family.positions
        ],
    }
