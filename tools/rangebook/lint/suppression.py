"""What entries allow: the findings that it takes away, and what of it cannot stand or is not needed.

Each line is for one finding, or for those of one rule in one place. A line that names no place is of the first form of an entry: it stands
where the rule finds one thing in the whole entry. Of an entry that several layers speak of a line is for findings in its own layer's lines
alone: nobody lets stand what others wrote.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto

from rangebook.book import build
from rangebook.book.model import Allowance, KeyPath
from rangebook.book.places import holds_several, name_of_path, path_at, path_named
from rangebook.lint.finding import Finding
from rangebook.reading.entry import Entry
from rangebook.reading.located import mark_at


class Standing(Enum):
    """How something that an entry allows stands."""

    NEEDED = auto()
    """It takes a finding away, or may when other errors are mended."""
    NO_SUCH_RULE = auto()
    NOT_ALLOWED = auto()
    """Findings of this rule keep an entry from being read, or are about what it allows."""
    TWICE = auto()
    NO_PLACE = auto()
    """The entry has no such place."""
    TOO_WIDE = auto()
    """It names all parts, plugs or the like at once."""
    SEVERAL = auto()
    """It names no place, and the rule finds more than one thing."""
    BELOW = auto()
    """What its rule finds there is in the lines of another layer."""
    UNNEEDED = auto()


@dataclass(frozen=True)
class Suppression:
    """One line of an entry's ``allow``. ``places`` are those of all that its rule finds in the entry, by their names."""

    entry: Entry
    stated: Allowance
    standing: Standing
    places: tuple[str, ...] = ()


class Suppressions:
    """What the entries of a book allow, and of what of it something was found. ``allowable`` are the rules that may be allowed."""

    def __init__(self, entries: Iterable[Entry], allowable: Iterable[str]) -> None:
        self._allowable = frozenset(allowable)
        self._stated = {entry.file: (entry, found) for entry in entries if entry.head is not None and (found := build.allowances(entry))}
        self._used: set[tuple[str, KeyPath]] = set()
        self._places: dict[tuple[str, str], tuple[str, ...]] = {}
        self._layers: dict[tuple[str, str], tuple[int, ...]] = {}

    def left(self, found: Iterable[Finding]) -> list[Finding]:
        """The findings that no entry allows, of all that there are. What was needed for the others is remembered."""
        return self._left(found, remember=True)

    def kept(self, found: Iterable[Finding]) -> list[Finding]:
        """The same of all that some rules find in an entry, and nothing is remembered."""
        return self._left(found, remember=False)

    def mentions(self, file: str, rule: str) -> bool:
        """Whether the entry in a file allows something that a rule finds in it, at whatever place."""
        return file in self._stated and any(one.rule == rule for one in self._stated[file][1])

    def alone(self) -> Iterator[tuple[Entry, Allowance, str]]:
        """Each line without a place that stands, with the place of the one finding that it takes away. To be asked after :meth:`left`."""
        for file, (entry, stated) in self._stated.items():
            for one in stated:
                if one.at is None and (file, one.path) in self._used:
                    yield entry, one, self._places[file, one.rule][0]

    def judged(self, rules: Iterable[str], may_be_silent: Callable[[str], bool]) -> Iterator[Suppression]:
        """Each with how it stands, once all was found that there is to find. ``may_be_silent`` says of a rule that found nothing whether
        something else may have kept it from that."""
        known = frozenset(rules)
        for entry, stated in self._stated.values():
            seen: set[tuple[str, str | None]] = set()
            for one in stated:
                standing = self._standing(entry, one, known, may_be_silent)
                if standing in (Standing.NEEDED, Standing.UNNEEDED, Standing.SEVERAL) and (one.rule, one.at) in seen:
                    standing = Standing.TWICE
                seen.add((one.rule, one.at))
                yield Suppression(entry, one, standing, self._places.get((entry.file, one.rule), ()))

    def _standing(self, entry: Entry, one: Allowance, known: frozenset[str], may_be_silent: Callable[[str], bool]) -> Standing:
        if one.rule not in known:
            return Standing.NO_SUCH_RULE
        if one.rule not in self._allowable:
            return Standing.NOT_ALLOWED
        if (entry.file, one.path) in self._used:
            return Standing.NEEDED
        if one.at is not None:
            path = path_named(entry.front, one.at)
            if path is None:
                return Standing.NO_PLACE
            if holds_several(entry.front, path) and self._places.get((entry.file, one.rule)):
                return Standing.TOO_WIDE
        elif len(self._places.get((entry.file, one.rule), ())) > 1:
            return Standing.SEVERAL
        own = mark_at(entry.front, one.path).layer if entry.pieces and entry.front is not None else 0
        if any(layer != own for layer in self._layers.get((entry.file, one.rule), ())):
            return Standing.BELOW
        return Standing.NEEDED if may_be_silent(one.rule) else Standing.UNNEEDED

    def _left(self, found: Iterable[Finding], remember: bool) -> list[Finding]:
        kept: list[Finding] = []
        touched: dict[tuple[str, str], list[Finding]] = {}
        for one in found:
            if one.rule in self._allowable and self.mentions(one.file, one.rule):
                touched.setdefault((one.file, one.rule), []).append(one)
            else:
                kept.append(one)
        for (file, rule), several in touched.items():
            entry, stated = self._stated[file]
            kept += self._not_allowed(entry, [line for line in stated if line.rule == rule], list(dict.fromkeys(several)), remember)
        return kept

    def _not_allowed(self, entry: Entry, lines: Sequence[Allowance], found: Sequence[Finding], remember: bool) -> Iterator[Finding]:
        """Of all that one rule finds in an entry what no line takes away."""
        front = entry.front
        assert front is not None, "a rule that may be allowed looks at what could be read"
        paths = [path_at(front, one.mark) if one.path is None else one.path for one in found]
        layers = [one.layer for one in found]
        names = [name_of_path(front, path) for path in paths]
        if remember:
            self._places[entry.file, found[0].rule] = tuple(names)
            self._layers[entry.file, found[0].rule] = tuple(layers)
        taken = set()
        for line in lines:
            own = mark_at(front, line.path).layer if entry.pieces else 0
            if line.at is None:
                of_layer = [at for at, layer in enumerate(layers) if layer == own]
                its = of_layer if len(of_layer) == 1 else []
            else:
                way = path_named(front, line.at)
                wide = way is not None and holds_several(front, way)
                its = [
                    at
                    for at, path in enumerate(paths)
                    if layers[at] == own and not wide and (names[at] == line.at or (way and path[: len(way)] == way))
                ]
            taken.update(its)
            if its and remember:
                self._used.add((entry.file, line.path))
        yield from (one for at, one in enumerate(found) if at not in taken)
