"""Trouble codes that go with range switches, with their texts.

Source: older wording of SAE J2012, as PyPI ``obd`` 0.7 carries it (``obd.codes.DTC``; a test compares the two). A scan tool
or a vehicle maker may word them otherwise, and the maker's text comes first.
"""

from __future__ import annotations

TEXTS = {
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
    "P0915": "Gear shift position circuit range/performance",
}
"""Code -> its text."""
