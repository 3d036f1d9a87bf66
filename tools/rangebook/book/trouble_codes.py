"""Trouble codes that go with range switches, with their texts.

Source: older wording of SAE J2012, as PyPI ``obd`` 0.7 carries it (``obd.codes.DTC``; a test compares the two). A scan tool
or a vehicle maker may word them otherwise, and the maker's text comes first.
"""

from __future__ import annotations

import re

TEXTS = {
    "P0615": "Starter relay circuit",
    "P0616": "Starter relay circuit low",
    "P0617": "Starter relay circuit high",
    "P0705": "Transmission range sensor circuit malfunction (PRNDL input)",
    "P0706": "Transmission range sensor circuit range/performance",
    "P0707": "Transmission range sensor circuit low",
    "P0708": "Transmission range sensor circuit high",
    "P0709": "Transmission range sensor circuit intermittent",
    "P0812": "Reverse input circuit",
    "P0813": "Reverse output circuit",
    "P0814": "Transmission range display circuit",
    "P0819": "Up and down shift switch to transmission range correlation",
    "P0850": "Park/neutral switch input circuit",
    "P0851": "Park/neutral switch input circuit low",
    "P0852": "Park/neutral switch input circuit high",
    "P0853": "Drive switch input circuit",
    "P0854": "Drive switch input circuit low",
    "P0855": "Drive switch input circuit high",
    "P0914": "Gear shift position circuit",
    "P0915": "Gear shift position circuit range/performance",
    "P0916": "Gear shift position circuit low",
    "P0917": "Gear shift position circuit high",
    "P0918": "Gear shift position circuit intermittent",
}
"""Code -> its text: the range sensor's own, those of the inputs that it gives, and those of the starter's relay that hangs on it."""

NEWER = frozenset(f"P{number}" for number in range(2800, 2807))
"""Those of a second range sensor, which the older wording does not have. From memory, so without a text."""

_STANDARD = re.compile(r"[PCBU][02][0-9A-F]{3}|P3[4-9A-F][0-9A-F]{2}|U3[0-9A-F]{3}")
"""Codes that the standard gives a meaning; all others are the vehicle makers' own. SAE J2012, from memory."""


def is_of_another(code: str) -> bool:
    """Whether the standard gives a code a meaning, and not one that a range switch has to do with."""
    return code not in TEXTS and code not in NEWER and _STANDARD.fullmatch(code) is not None
