"""Measures side by side in the units of both kinds of workshop, from the one stored value.

Exact by definition: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s2 (from memory).
"""

from __future__ import annotations

MM_PER_INCH = 25.4
NM_PER_LBF_FT = 0.45359237 * 9.80665 * 0.3048


def millimetres(mm: float) -> str:
    """A length, as in ``38 mm (1.496 in)``."""
    return f"{mm:g} mm ({mm / MM_PER_INCH:.3f} in)"


def torque(nm: float) -> str:
    """A torque, as in ``8 N·m (5.9 lbf·ft)``."""
    return f"{nm:g} N·m ({nm / NM_PER_LBF_FT:.1f} lbf·ft)"


def ohms(value: float) -> str:
    """A resistance as short as it can be read, as in ``4.7k`` or ``180``."""
    return f"{value / 1000:g}k" if value >= 10000 or (value >= 1000 and value % 100 == 0) else f"{value:g}"
