"""Supersession as a picture: from a part down to every end of the chain, with the dates and what is needed on the way.

It runs from top to bottom, so that it reads on a phone. Where a chain forks, each way is set in under the fork.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from xml.etree.ElementTree import Element

from rangebook.book.model import Need, Part, Succession
from rangebook.book.numbers import normalise
from rangebook.fitting.check_needs import other_things
from rangebook.fitting.supersession import End
from rangebook.site.drawings.canvas import add, drawing, figure, path, render, write
from rangebook.site.drawings.lettering import wrap
from rangebook.words.book import also_words, when_words

WIDTH = 360
_RAIL = 18
_INSET = 26
_AFTER_RAIL = 22
_NUMBER = 20
_TEXT = 16
_LINE = 21

_STATUS = {
    "current": "current: the maker sells it",
    "superseded": "superseded",
    "discontinued": "discontinued: no longer made",
    "withdrawn": "withdrawn: taken back, do not fit it",
    None: "status not stated",
}
_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def chain_svg(
    ends: Sequence[End], part: Part, kits: Mapping[str, str] | None = None, parts: Mapping[str, Part] = MappingProxyType({})
) -> str:
    """The chain from ``part`` to its ``ends`` (``fitting.supersession.chain_ends``), as SVG text.

    ``kits`` gives the words for a kit's id, such as its number; the id itself stands where it is left out. ``parts`` are those of the book
    by their keys: a number on the way that its maker has withdrawn is warned of, of any other there stands only that another one takes
    its place. A number that two ways lead to is drawn in full once; the second time it refers to the first.
    """
    return render(_Chain(ends, part, kits or {}, parts).draw())


def month_words(since: str | None) -> str:
    """A date as it stands in an entry in words: ``2009-05`` -> ``since May 2009``."""
    if not since:
        return "date not stated"
    year, _, month = since.partition("-")
    return f"since {_MONTHS[int(month) - 1]} {year}" if month else f"since {year}"


def needs_words(needs: Iterable[Need] | None, kits: Mapping[str, str]) -> list[str]:
    """What has to be ordered, a line for each; ``None`` is "not stated", nothing at all is "nothing else"."""
    if needs is None:
        return ["what else it takes is not stated"]
    lines = []
    for need in needs:
        words = [
            f"kit {kits.get(need.kit, need.kit)}" if need.kit else "",
            f"rear seal for {_count(need.seal, 'wire')}" if need.seal else "",
            _count(need.blanks, "blanking plug") if need.blanks else "",
            *map(also_words, other_things(need)),
        ]
        text = ", ".join(filter(None, words))
        note = f" ({need.note})" if need.note and text else need.note or ""
        lines.append(text + note)
    return [line for line in lines if line] or ["nothing else needed"]


def _count(count: int, word: str) -> str:
    return f"{count}\u00a0{word}" if count == 1 else f"{count}\u00a0{word}s"


@dataclass(frozen=True, slots=True)
class _Step:
    """One link and what follows it: further steps, or the end of the chain."""

    link: Succession
    end: End | None
    steps: tuple[_Step, ...]


def _tree(ends: Sequence[End], depth: int = 0) -> tuple[_Step, ...]:
    """The ends as a tree: those that share a link share its step."""
    groups: dict[int, list[End]] = {}
    for end in ends:
        groups.setdefault(id(end.links[depth]), []).append(end)
    found = []
    for group in groups.values():
        link = group[0].links[depth]
        last = next((end for end in group if len(end.links) == depth + 1), None)
        found.append(_Step(link, last, () if last else _tree(group, depth + 1)))
    return tuple(found)


class _Chain:
    """One drawing while it is laid out, from the top down; ``y`` is how far it has come."""

    def __init__(self, ends: Sequence[End], part: Part, kits: Mapping[str, str], parts: Mapping[str, Part]) -> None:
        self.parts = parts
        self.part, self.kits, self.steps = part, kits, _tree(ends)
        self.rails = Element("g", {"class": "rb-rails"})
        self.body = Element("g")
        self.y = 6.0
        self.width = float(WIDTH)
        self.drawn: set[str] = set()
        self.said: list[str] = []

    def draw(self) -> Element:
        mark = self._stop(self.part.number, "start", _STATUS.get(self.part.status, self.part.status or ""), 0)
        if self.steps:
            self._follow(self.steps, 0, mark)
            self.y += 10
            self._lines("This is what the makers say. Whether it fits a vehicle is in its verdict.", 0)
        else:
            self._lines("The book has nothing that takes its place.", 0)
        title = f"What takes the place of {self.part.number}"
        root = drawing("rb-chain", title, " ".join(self.said), self.width, self.y + 6)
        root.extend([self.rails, self.body])
        return root

    def _follow(self, steps: Sequence[_Step], column: int, above: float) -> None:
        """What follows the stop whose mark is at ``above``: one way straight on, or several, each set in under the fork."""
        if len(steps) == 1:
            self.y += 8
            self._step(steps[0], column, path(["M", _rail(column), above, "V"]))
            return
        self._lines(f"{len(steps)} ways from here:", column, "rb-strong")
        for step in steps:
            self.y += 10
            x, inner, bend = _rail(column), _rail(column + 1), self.y + 4
            turn: list[str | float] = ["M", x, above, "V", bend - 10, "Q", x, bend, x + 10, bend]
            turn += ["H", inner - 10, "Q", inner, bend, inner, bend + 10, "V"]
            self._step(step, column + 1, path(turn))

    def _step(self, step: _Step, column: int, rail: str) -> None:
        """One link with what it takes, then the number that it leads to. ``rail`` is the line there, its end left open."""
        link = step.link
        self._lines(month_words(link.since), column)
        self._needs(link.needs, column)
        if link.when:
            self._lines(when_words(link.when), column)
        if link.note:
            self._lines(f"\u201c{link.note}\u201d", column)
        self.y += 10
        mark, status = self._what(step)
        at = self._stop(link.number, mark, status, column)
        x, tip = _rail(column), at - 15
        add(self.rails, "path", "rb-rail", d=f"{rail} {figure(tip - 2)}")
        add(self.rails, "path", "rb-arrow", d=path(["M", x - 6, tip - 7, "L", x, tip, "L", x + 6, tip - 7]))
        if step.end is not None and len(step.end.links) > 1 and step.end.needs:
            self._lines(f"In all, from {self.part.number}:", column)
            self._needs(step.end.needs, column)
            if any(one.needs is None for one in step.end.links):
                self._lines("and what a step on the way takes, which is not stated", column)
        if mark == "step":
            self._follow(step.steps, column, at)

    def _needs(self, needs: Sequence[Need] | None, column: int) -> None:
        for words in needs_words(needs, self.kits):
            if needs:
                self._lines(f"+\u00a0{words}", column, "rb-need")
            else:
                self._lines(words, column)

    def _what(self, step: _Step) -> tuple[str, str]:
        """The mark of the stop that a step leads to, and its status in words."""
        end = step.end
        if end is not None and end.loops:
            return "loop", "the chain comes back here: it has no end"
        if normalise(step.link.number) in self.drawn:
            return "again", "see above"
        if end is None:
            part = self.parts.get(normalise(step.link.number))
            return "step", _STATUS["withdrawn"] if part and part.status == "withdrawn" else "superseded in its turn"
        if end.part is None:
            return "missing", "not in the book"
        status = end.part.status
        return (status if status in ("current", "withdrawn", "discontinued") else "unsure"), _STATUS.get(status, status or "")

    def _stop(self, number: str, mark: str, status: str, column: int) -> float:
        """A number with its mark on the rail; the height of the mark is given back."""
        x, size = _rail(column), _NUMBER
        room = WIDTH - x - _AFTER_RAIL - 4
        middle = self.y + size * 0.7
        self.drawn.add(normalise(number))
        stop = add(self.body, "g", f"rb-stop rb-stop--{mark}", data_number=number)
        _draw_mark(stop, mark, x, middle)
        for line in wrap(number, room, size, bold=True):
            write(stop, x + _AFTER_RAIL, self.y + size * 0.7, line, size, "rb-strong")
            self.y += size * 1.35
        for line in wrap(status, room, _TEXT):
            write(stop, x + _AFTER_RAIL, self.y + _LINE / 2, line, _TEXT)
            self.y += _LINE
        self.said.append(f"{number}: {status}.")
        return middle

    def _lines(self, text: str, column: int, classes: str = "rb-soft") -> None:
        x = _rail(column) + _AFTER_RAIL
        for line in wrap(text, WIDTH - x - 4, _TEXT, bold=classes in ("rb-strong", "rb-need")):
            write(self.body, x, self.y + _LINE / 2, line, _TEXT, classes)
            self.y += _LINE
        self.said.append(text.replace("\u00a0", " ") + ("" if text.endswith((".", ":")) else "."))


def _rail(column: int) -> float:
    """The place of a column's rail. However deep the forks, the words keep more than half of the width."""
    return _RAIL + min(column, 5) * _INSET


def _draw_mark(group: Element, mark: str, x: float, y: float) -> None:
    """Each kind of stop by a shape of its own, so that it does not hang on colour."""
    if mark == "current":
        add(group, "circle", "rb-mark rb-mark--full", cx=x, cy=y, r=11)
        # Not a tick: that would look as if it had been found to fit.
        add(group, "circle", "rb-mark-core", cx=x, cy=y, r=4)
    elif mark == "step":
        add(group, "circle", "rb-mark rb-mark--full", cx=x, cy=y, r=5)
    elif mark in ("start", "again"):
        add(group, "circle", "rb-mark", cx=x, cy=y, r=8)
    elif mark == "discontinued":
        add(group, "rect", "rb-mark", x=x - 9, y=y - 9, width=18, height=18)
        add(group, "path", "rb-mark", d=path(["M", x - 5, y, "H", x + 5]))
    elif mark in ("withdrawn", "loop"):
        add(group, "rect", "rb-mark rb-mark--bad", x=x - 9, y=y - 9, width=18, height=18)
        add(group, "path", "rb-mark rb-mark--bad", d=path(["M", x - 5, y - 5, "L", x + 5, y + 5, "M", x + 5, y - 5, "L", x - 5, y + 5]))
    else:
        add(group, "circle", "rb-mark rb-not-stated", cx=x, cy=y, r=10)
        write(group, x, y, "?", _TEXT, "rb-strong", "middle")
