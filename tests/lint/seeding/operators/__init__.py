"""The kinds of slips that are sown: of the pen, of the keyboard, of the eye on the bench, of the maker's list."""

from __future__ import annotations

from tests.lint.seeding.operators import (
    files,
    format_slips,
    kits,
    names,
    pins,
    positions,
    references,
    supersessions,
    texts,
    vehicles,
    yaml_slips,
)
from tests.lint.seeding.operators.entering import OPERATORS

GROUPS = (files, yaml_slips, format_slips, names, references, pins, positions, kits, supersessions, vehicles, texts)
"""In the order of the table."""

__all__ = ["GROUPS", "OPERATORS"]
