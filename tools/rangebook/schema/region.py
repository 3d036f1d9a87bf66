"""What goes by where a book is read: units and paper.

Source: Unicode CLDR 47, ``supplemental/measurementData``: ``measurementSystem`` and ``paperSize``. Where the system is that of the United
Kingdom, workshops measure in metric units (common practice, no source).
"""

from __future__ import annotations

from typing import Literal

Units = Literal["metric", "us"]
Paper = Literal["A4", "Letter"]

_US = frozenset({"US", "LR"})
_LETTER = frozenset({"BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"})


def units_of(region: str) -> Units:
    """The units of a region, a code of ISO 3166-1; metric ones where none is given."""
    return "us" if region in _US else "metric"


def paper_of(region: str) -> Paper:
    """The paper of a region, a code of ISO 3166-1; A4 where none is given."""
    return "Letter" if region in _LETTER else "A4"
