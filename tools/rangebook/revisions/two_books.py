"""Two states of one book side by side: what is computed for the one is not computed again for the other."""

from __future__ import annotations

from collections.abc import Mapping

from rangebook.book.book import Book
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.jumpers import jumpers_in
from rangebook.fitting.mating import MAX_KITS


class _Beside(Fitter):
    """A fitter that knows every verdict of another one, by the facts from which it was computed."""

    def __init__(self, book: Book, other: Fitter) -> None:
        super().__init__(book)
        self._verdicts, self._numbers = other._verdicts, other._numbers  # noqa: SLF001 - two fitters share what they have computed
        self._part_facts, self._fits = other._part_facts, other._fits  # noqa: SLF001 - two fitters share what they have computed


def beside(book: Book, other: Fitter) -> Fitter:
    """A fitter of ``book`` beside ``other``, which is of an earlier or later state of it.

    Beside the facts of seat and part a verdict goes by connectors and kits alone, by which of them could not be read, by the numbers that
    are there twice, by the jumpers that plugs may have and by the list of circuits. So they share what they compute where these are the
    very same in both books; else nothing is shared.
    """
    connectors = _are_the_same(book.connectors, other.book.connectors)
    same = connectors and _are_the_same(book.kits, other.book.kits) and book.hidden_ways == other.book.hidden_ways
    same = same and book.doubled == other.book.doubled and book.circuits == other.book.circuits
    same = same and jumpers_in(book) == jumpers_in(other.book)
    return _Beside(book, other) if same else Fitter(book)


def _are_the_same(one: Mapping[str, object], other: Mapping[str, object]) -> bool:
    return len(one) == len(other) and all(other.get(name) is item for name, item in one.items())


def differing(old: Mapping[str, object], new: Mapping[str, object]) -> frozenset[str]:
    """The names that do not lead to the very same object in both."""
    return frozenset(name for name in {**old, **new} if old.get(name) is not new.get(name))


class ChangedWays:
    """The connectors and kits that are not the same in both books, and whose plugs they may bring onto another housing."""

    def __init__(self, old: Book, new: Book) -> None:
        self._books = old, new
        self.connectors = differing(old.connectors, new.connectors)
        doubled = old.doubled ^ new.doubled
        kits = {**old.kits, **new.kits} if doubled else {}
        self.kits = differing(old.kits, new.kits) | {name for name, kit in kits.items() if kit.key in doubled}
        self._met: dict[str, bool] = {}

    def are_met_by(self, plug: str) -> bool:
        """Whether anything on the ways of a plug (its connector's id) is not the same in both."""
        if not self.connectors and not self.kits:
            return False
        found = self._met.get(plug)
        if found is None:
            hidden = any(book.hidden_ways.kits or book.hidden_ways.housings for book in self._books)
            found = self._met[plug] = hidden or any(self._on_way(book, plug) for book in self._books)
        return found

    def _on_way(self, book: Book, plug: str) -> bool:
        plugs, kits = _onward(book, plug)
        switches = {switch for one in plugs for switch in (one, *book.switches_for_plug.get(one, ()))}
        return bool((plugs | switches) & self.connectors or kits & self.kits)


def _onward(book: Book, plug: str) -> tuple[set[str], set[str]]:
    """The plugs that a plug can become, and the kits on the way."""
    plugs, kits, level = {plug}, set(), {plug}
    for _ in range(MAX_KITS):
        found = [kit for one in level for kit in book.kits_from.get(one, ())]
        kits |= {kit.id for kit in found}
        level = {kit.new for kit in found} - plugs
        plugs |= level
    return plugs, kits
