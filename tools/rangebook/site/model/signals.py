"""Powered outputs of a part, line by line, and what an end of a contact or output is for."""

from __future__ import annotations

from typing import Any

from rangebook.book.model import CASE, Family, Part, Signal
from rangebook.site.facts.computed import Computed
from rangebook.words.book import signal_words


def end_words(computed: Computed, part: Part, end: str) -> str:
    """What a pin, or the housing, is for."""
    if end == CASE:
        return "housing"
    return computed.circuit((part.pins or {}).get(end)) if end in (part.pins or {}) else "circuit not stated"


def signal_rows(computed: Computed, family: Family, part: Part) -> list[dict[str, Any]]:
    """The powered outputs of a part: between what, in which unit, and what to measure in each position."""
    return [_signal(computed, family, part, one) for one in part.signals]


def _signal(computed: Computed, family: Family, part: Part, signal: Signal) -> dict[str, Any]:
    ends = []
    if signal.ground:
        ends.append(f"measured against {'the housing' if signal.ground == CASE else signal.ground}")
    if signal.supply:
        ends.append(f"fed through {signal.supply}")
    within = f", within {signal.tolerance:g}" if signal.tolerance is not None else ""
    return {
        "pin": signal.pin,
        "name": end_words(computed, part, signal.pin),
        "ends": ", ".join(ends),
        "unit": signal_words(signal.kind) + within,
        "cells": [
            {"state": "ohms", "text": f"{signal.values[position]:g}"} if position in signal.values else {"state": "unknown", "text": "?"}
            for position in family.positions
        ],
    }
