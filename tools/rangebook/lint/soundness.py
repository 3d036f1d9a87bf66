"""Whether the entry rules have nothing against the facts that a verdict was computed from.

A rule that goes by verdicts is silent where one of those facts is known to be wrong: what follows from it is not a second
fault, and goes away when the first one is mended. What an entry allows does not count against it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from rangebook.book import build
from rangebook.book.model import Family, Kit, Part, Path
from rangebook.fitting.judge import original_goes_on
from rangebook.fitting.mating import ways
from rangebook.fitting.seats import Seat
from rangebook.lint.context import Context
from rangebook.lint.finding import Owner, Severity
from rangebook.lint.registry import all_rules
from rangebook.reading.entry import Entry
from rangebook.reading.located import Map, Mark, Seq

_FACTS = frozenset({"positions", "parts", "plugs", "mounts"})
"""What of a family a verdict is computed from; of the last three only the parts, plugs and mounts that take part in it."""

_WORDS = frozenset({"status", "stamped", "note", "sources"})
"""What is said of a part, plug or mount that no verdict goes by."""


class Soundness:
    """Answers for one book. Each entry's rules are run only when it is asked about."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._faults: dict[str, list[Mark]] = {}
        book = context.book
        counts = Counter([*(part.key for part in book.parts), *(kit.key for kit in book.kits.values())])
        self._doubled = {key for key, count in counts.items() if count > 1}
        named = [*(name for kit in book.kits.values() for name in (kit.old, kit.new))]
        named += [name for connector in book.connectors.values() for name in connector.mates]
        self._ways_are_known = all(name in book.connectors for name in named) and not any(map(_may_be_kit, book.lost))

    def of_claim(self, seat: Seat, parts: Iterable[Part]) -> bool:
        """Whether nothing is held against what parts were judged by on a seat, the seat's own part included."""
        allowed = any(one.rule == "original-misfit" for one in build.allowances(seat.family.entry))
        return (allowed or original_goes_on(self._context.book, seat)) and self.of_facts(seat, parts)

    def of_facts(self, seat: Seat, parts: Iterable[Part]) -> bool:
        """The same, whether the seat's own part goes straight on or not."""
        return (
            set(seat.positions) <= set(seat.family.positions)
            and self._clear(seat.family, (seat.plug.path,))
            and self._of_connector(seat.plug.connector)
            and all(self._of_part(part) and self._of_ways(seat, part) for part in {seat.original, *parts})
        )

    def _of_part(self, part: Part) -> bool:
        family = self._context.book.family_of(part)
        paths = [part.path]
        if part.mount in family.mounts:
            paths.append(family.mounts[part.mount].path)
        return part.key not in self._doubled and self._clear(family, paths) and self._of_connector(part.connector)

    def _of_connector(self, name: str | None) -> bool:
        connector = self._context.book.connectors.get(name or "")
        return connector is None or self._clear(connector, ())

    def _of_ways(self, seat: Seat, part: Part) -> bool:
        if part.connector is None:
            return True
        found = ways(self._context.book, seat.plug.connector, part.connector)
        if not found and not self._ways_are_known:
            return False  # the way there may be over a kit that could not be read or a connector that is misspelt
        kits: dict[str, Kit] = {kit.id: kit for way in found for kit in way.kits}
        return all(self._clear(kit, ()) for kit in kits.values())

    def _clear(self, owner: Owner, paths: Iterable[Path]) -> bool:
        faults = self._faults_of(owner)
        if not faults or not isinstance(owner, Family):
            return not faults
        return not any(_concerns(owner.entry, mark, set(paths)) for mark in faults)

    def _faults_of(self, owner: Owner) -> list[Mark]:
        found = self._faults.get(owner.entry.file)
        if found is None:
            check = {"Family": "check_family", "Connector": "check_connector", "Kit": "check_kit"}[type(owner).__name__]
            allowed = {one.rule for one in build.allowances(owner.entry)}
            found = self._faults[owner.entry.file] = [
                hit.mark
                for rule in all_rules().values()
                if rule.severity is Severity.ERROR and rule.name not in allowed and hasattr(rule.module, check)
                for hit in getattr(rule.module, check)(owner, self._context)
                if hit.entry is owner.entry
            ]
        return found


def _may_be_kit(entry: Entry) -> bool:
    return entry.folder == "kits" or entry.front is None or entry.front.get("kind") not in ("switch", "connector")


def _concerns(entry: Entry, mark: Mark, paths: set[Path]) -> bool:
    """Whether a place in a family's entry lies in its positions, or in one of the parts, plugs and mounts at ``paths``."""
    front = entry.front
    assert front is not None
    key = _before(front, mark)
    if key not in _FACTS:
        return False
    if key == "positions":
        return True
    item = _before(front[key], mark)
    if (key, item) not in paths:
        return False
    return _before(front[key][item], mark) not in _WORDS


def _before(node: Map | Seq, mark: Mark) -> str | int | None:
    """The last key or item that begins at or before a place."""
    found: str | int | None = None
    for step in node if isinstance(node, Map) else range(len(node)):
        if (node.key_mark(step) if isinstance(node, Map) else node.item_mark(step)) <= mark:
            found = step
    return found
