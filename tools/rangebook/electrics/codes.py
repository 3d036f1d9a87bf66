"""Range codes: several lines that are grounded or not in each position, read by a module as a word.

A line reads 1 where it is joined to ground (the housing, or a pin that is a ground or the codes' return), else 0.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from rangebook.book.model import CASE, Part
from rangebook.electrics.behaviour import behaviour
from rangebook.electrics.relation import PathKind

GROUNDS = frozenset({"ground", "code_return", "signal_ground"})
"""Circuits that count as ground for a code line."""

_LINE = re.compile(r"code_(\d+|parity)\Z")

Code = tuple[int | None, ...]
"""One bit for each line, ``None`` where it is not known."""


@dataclass(frozen=True, slots=True)
class CodeTable:
    """``lines`` are circuit names, numbered lines first, parity last; ``pins`` their pins; ``words`` the code by position."""

    lines: tuple[str, ...]
    pins: tuple[str, ...]
    words: Mapping[str, Code]

    @property
    def known(self) -> bool:
        """Whether every bit is known."""
        return all(None not in word for word in self.words.values())

    @property
    def alike(self) -> list[tuple[str, str]]:
        """Pairs of positions with the same, known word."""
        return [(a, b) for a, b in combinations(self.words, 2) if None not in self.words[a] and self.words[a] == self.words[b]]

    @property
    def distance(self) -> int | None:
        """The smallest Hamming distance between two positions' words; ``None`` if some bit is not known or there is one word."""
        if not self.known or len(self.words) < 2:
            return None
        return min(hamming(self.words[a], self.words[b]) for a, b in combinations(self.words, 2))

    @property
    def parity(self) -> str | None:
        """``even`` or ``odd`` if every word has it; ``None`` if they differ or are not known."""
        if not self.known or not self.words:
            return None
        odd = {sum(bit or 0 for bit in word) % 2 for word in self.words.values()}
        return None if len(odd) != 1 else "odd" if odd == {1} else "even"


def hamming(a: Code, b: Code) -> int:
    """In how many bits two words differ."""
    return sum(x != y for x, y in zip(a, b, strict=True))


def code_table(part: Part, positions: Sequence[str]) -> CodeTable | None:
    """The codes of a part, or ``None`` if it has no code lines."""
    pins = {circuit: pin for pin, circuit in (part.pins or {}).items() if _LINE.match(circuit)}
    if not pins:
        return None
    lines = sorted(pins, key=lambda name: (name.endswith("parity"), len(name), name))
    grounds = [CASE, *(pin for pin, circuit in (part.pins or {}).items() if circuit in GROUNDS)]
    rows = []
    for line in lines:
        to_ground = [
            behaviour(part, ((pins[line], pins[line]), (ground, ground)), tuple(positions)).between(pins[line], ground)
            for ground in grounds
        ]
        rows.append([_bit({row[index].path for row in to_ground}) for index in range(len(positions))])
    words = {position: tuple(row[index] for row in rows) for index, position in enumerate(positions)}
    return CodeTable(tuple(lines), tuple(pins[line] for line in lines), words)


def _bit(seen: set[PathKind]) -> int | None:
    # A diode pulls the line down where it lets current through to ground.
    if PathKind.JOINED in seen or PathKind.ONE_WAY in seen:
        return 1
    # A resistor to ground is neither; what a module makes of it is not known.
    return 0 if seen <= {PathKind.OPEN, PathKind.ONE_WAY_BACK} else None


@dataclass(frozen=True, slots=True)
class Fault:
    """One wire open or shorted to ground, in one position.

    ``read`` is the word that the module gets. ``believed`` is the position that it takes it for, ``None`` where no
    position has that word, so that the fault is noticed. Where ``believed`` is the position itself nothing is amiss yet.
    """

    line: str
    shorted: bool
    position: str
    read: Code
    believed: str | None

    @property
    def misleads(self) -> bool:
        """Whether the module believes a position that the lever is not in."""
        return self.believed is not None and self.believed != self.position


def single_faults(table: CodeTable) -> list[Fault]:
    """Every single fault of the lines: each wire open, each shorted to ground, in each position. Needs all bits known."""
    if not table.known:
        raise ValueError("not every bit of the code is known")
    named: dict[Code, str] = {}
    for position, word in table.words.items():
        named.setdefault(word, position)
    found = []
    for index, line in enumerate(table.lines):
        for shorted in (False, True):
            for position, word in table.words.items():
                read = (*word[:index], int(shorted), *word[index + 1 :])
                believed = position if read == word else named.get(read)
                found.append(Fault(line, shorted, position, read, believed))
    return found
