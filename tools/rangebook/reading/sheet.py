"""What is in the sheets of a workbook, whichever program saved it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Held:
    """What a cell holds that is no text. ``kind`` is ``number``, ``date``, ``time``, ``truth``, ``error`` or ``formula`` (one without
    its result); ``shown`` is how the program shows it, or the format that it goes by; empty where that is not known."""

    kind: str
    shown: str = ""


@dataclass(frozen=True, slots=True)
class SheetRow:
    """``number`` is the row's own, from 1. ``cells`` are texts by column from 0, empty ones left out; a number is written with as many
    figures as it needs, a date as 2009-05-01, or 2009-05 where the day is not shown. ``held`` has the cells that are no text."""

    number: int
    cells: Mapping[int, str]
    held: Mapping[int, Held] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Sheet:
    """``merged`` are the ranges of merged cells: first row, first column, last row, last column; rows from 1, columns from 0."""

    name: str
    hidden: bool
    rows: Sequence[SheetRow]
    merged: Sequence[tuple[int, int, int, int]] = ()
