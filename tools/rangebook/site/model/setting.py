"""How the switches of a family are set, in words."""

from __future__ import annotations

from typing import Any

from rangebook.book.model import Family
from rangebook.site.shared.measures import torque


def setting(family: Family) -> dict[str, Any]:
    """``set_in`` (a lever position), ``method``, ``torque`` in both units, ``cautions``; a value is ``None`` or empty where the
    entry does not say."""
    fitting = family.fitting
    if fitting is None:
        return {"set_in": None, "method": None, "torque": None, "cautions": []}
    return {
        "set_in": fitting.set_in,
        "method": fitting.method,
        "torque": torque(fitting.torque_nm) if fitting.torque_nm is not None else None,
        "cautions": list(fitting.cautions),
    }
