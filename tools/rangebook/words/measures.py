"""Measures side by side in the units of both kinds of workshop, from the one stored value.

Exact by definition: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s2 (from memory).
"""

from __future__ import annotations

from contextvars import ContextVar

from rangebook.schema.region import Units

_first: ContextVar[Units] = ContextVar("_first", default="metric")

MM_PER_INCH = 25.4
NM_PER_LBF_FT = 0.45359237 * 9.80665 * 0.3048


def put_first(units: Units) -> None:
    """Which figure stands first from here on, and the other in brackets: a book is read in one kind of workshop."""
    _first.set(units)


def millimetres(mm: float) -> str:
    """A length, as in ``38 mm (1.496 in)``."""
    return _both(f"{mm:g} mm", f"{mm / MM_PER_INCH:.3f} in")


def torque(nm: float) -> str:
    """A torque, as in ``8 N·m (5.9 lbf·ft)``."""
    return _both(f"{nm:g} N·m", f"{nm / NM_PER_LBF_FT:.1f} lbf·ft")


def _both(metric: str, us: str) -> str:
    return f"{us} ({metric})" if _first.get() == "us" else f"{metric} ({us})"


def ohms(value: float) -> str:
    """A resistance as short as it can be read, as in ``4.7k`` or ``180``."""
    return f"{value / 1000:g}k" if value >= 10000 or (value >= 1000 and value % 100 == 0) else f"{value:g}"
