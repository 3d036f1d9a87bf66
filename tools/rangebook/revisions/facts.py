"""The facts of entries that differ, as they are typed: what no verdict goes by, and what an edit changes in all answers alike.

Which of them touch a person is said by the place of a fact, never by how many verdicts go by it: a caution that is gone, a torque, how
the switch is set, what leaves ``withdrawn``, and every wire, pin and contact of a safety circuit.
"""

from __future__ import annotations

import difflib
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from rangebook.book.book import Book
from rangebook.book.numbers import normalise
from rangebook.reading.entry import Entry
from rangebook.reading.located import Map, Mark, Seq, mark_at
from rangebook.revisions.paired import items, paired, paired_vehicles, reaches_further
from rangebook.revisions.states import States

PROSE = "prose"
"""The place of the text below the front matter."""

SAFETY_RULES = frozenset(
    {
        "backup-lamp",
        "cranking",
        "lever-incomplete",
        "original-misfit",
        "position-meaning",
        "rating-below-load",
        "start-path",
        "status-and-links",
        "supersession-contradicted",
        "supply-beyond",
        "unsafe-loop",
        "wire-circuit-disagrees",
    }
)
"""The linter's rules whose findings can hurt somebody: to allow one is looked at first."""

_FITTING = ("torque_nm", "set_in", "method", "set_by", "hub", "shaft", "bolts", "needs", "goes_with")
_WAYS = ("cranks", "positions", "means", "rows", "moves", "loops", "mates", "joins")
_MADE_FOR = ("rated_a", "ohms", "signals", "plating")
_IN_THE_BAG = ("seals", "wire_seals", "blanks", "terminal", "terminals")
_TOUCHES = frozenset({*_FITTING, *_WAYS, *_MADE_FOR, *_IN_THE_BAG})
"""Keys of which any other value touches who fits the part or drives the vehicle, wherever they stand: how it is set, bolted on and
tightened and what with, what its positions are, how its cavities are called, which go where, what its contacts are made for and what a
module reads, and what a kit puts on the wires."""

_MEASURED = frozenset({"hub", "shaft", "bolts", *_MADE_FOR, *_IN_THE_BAG, "size_mm2", "carries_a", "gives_volts", "outer_mm", "colour"})
"""Keys of what is measured or seen: who states one that was not known before takes nothing back."""

_ASIDE = frozenset({"note", "sources", "photos", "stamped", "also_numbered"})
"""Keys of which nothing below is done by anybody."""

_LOST = frozenset({"cautions", "counterfeit_marks"})
"""Keys of which what is gone, or says something else, does."""

_WARNS = {"status": "withdrawn", "outcome": "fails"}
"""Keys that warn by one value."""

_VEHICLE = frozenset({"plug", "came_with", "lever", "when", "optional_cavities"})
"""What of a vehicle says which answers it gets."""

_REACH = frozenset({"years", "from", "to"})

_THINGS = frozenset({"parts", "plugs", "mounts", "applications"})
"""Keys under which stands one thing after the other: one more changes nothing of those that were there, and of one that is gone nobody
reads any more how it was fitted."""

_NAMES = {"parts": "number", "superseded_by": "number", "also_numbered": "number", "signals": "pin", "photos": "file"}
_SETS = frozenset({"closed", "overlaps", "optional_cavities", "also_called"})
_WORDS = re.compile(r"[-+]?\d+(?:[.,:/]\d+)*|\w+")

_LAW = frozenset({"safety", "joined_in", "feeds", "danger", "role"})
"""What the list of circuits says that verdicts and findings go by."""


@dataclass(frozen=True, slots=True)
class FactChange:
    """One fact. ``kind`` and ``entry`` are the entry's, or ``circuits`` and the name of a circuit of the list; ``at`` is its place by
    names, from the top of the entry down. ``old`` and ``new`` are what is typed, ``None`` where nothing is. ``line`` is where it stands, or
    would, in the new state. ``safety`` is whether it touches a person."""

    file: str
    kind: str
    entry: str
    at: tuple[str, ...]
    old: Any
    new: Any
    line: int
    safety: bool
    layer: int = 0
    """The number of the layer whose line it is."""

    @property
    def place(self) -> str:
        """``at`` in one word."""
        return ".".join(self.at)


def fact_changes(states: States) -> list[FactChange]:
    """Every fact that differs, entry by entry in the order of their files; entries that came or went, or could not be read, are told of
    elsewhere, but for what they warned of."""
    found: list[FactChange] = []
    for old, new in _couples(states):
        found += _of_entry(states, old, new)
    found += _of_circuits(states)
    return found


def _couples(states: States) -> Iterator[tuple[Entry, Entry | None]]:
    """Each entry that was and is not the same any more, with what it is now. One that has another id now is known by its former ids, or by
    its numbers."""
    old = [entry for entry in states.old.entries if entry.file in states.files and _is_sound(entry)]
    new = [entry for entry in states.new.entries if entry.file in states.files]
    by_id = {_id(entry): entry for entry in new if _is_sound(entry)}
    fronts = [(_id(entry)[0], entry.front, entry) for entry in by_id.values()]
    by_id = {(kind, str(old)): entry for kind, front, entry in fronts if front for old in front.get("former_ids") or ()} | by_id
    by_number = {number: entry for entry in by_id.values() for number in _numbers(entry)}
    unread = {entry.file for entry in new if not _is_sound(entry)} | states.new.book.lost_ids
    for entry in old:
        now = by_id.get(_id(entry)) or next((by_number[one] for one in _numbers(entry) if one in by_number), None)
        if now is not None or not (entry.file in unread or _id(entry)[1] in unread):
            yield entry, now


def _is_sound(entry: Entry) -> bool:
    return not entry.problems and entry.head is not None


def _id(entry: Entry) -> tuple[str, str]:
    assert entry.head is not None
    return str(entry.head.get("kind")), str(entry.head.get("id"))


def _numbers(entry: Entry) -> list[str]:
    front: Mapping[str, Any] = entry.front or {}
    listed = [front, *(front.get("parts") or [])]
    return [normalise(str(one["number"])) for one in listed if isinstance(one, dict) and one.get("number") is not None]


def _of_entry(states: States, old: Entry, new: Entry | None) -> Iterator[FactChange]:
    kind, name = _id(new or old)
    was, now = old.front, new.front if new else None
    file = (new or old).file
    if new is None:
        for part in filter(_warns, (was.get("parts") if was else None) or ()):
            yield FactChange(file, kind, name, ("parts", _called("parts", part, 0)), part, None, 0, True)
        return
    books = states.old.book, states.new.book
    for one in _Walk(books, _Front(was, now)).changes():
        mark = mark_at(now, one.path) if isinstance(now, (Map, Seq)) else Mark(0, 0)
        yield FactChange(file, kind, name, one.at, one.old, one.new, mark.in_file.line, one.safety, mark.layer)
    if old.prose.split() != new.prose.split():
        before, after = old.prose.splitlines(), new.prose.splitlines()
        told = list(difflib.ndiff(before, after)) if len(before) + len(after) < _MANY_LINES else []
        gone, come = ("\n".join(line[2:] for line in told if line[:2] == sign and line[2:].strip()) for sign in ("- ", "+ "))
        stated = [_gist(one) for one in _cautions(now)]
        warned = (gist for gist in _warnings(old.prose) if gist not in stated)
        safety = bool(Counter(warned) - Counter(_warnings(new.prose)))
        yield FactChange(file, kind, name, (PROSE,), gone or None, come or None, new.prose_mark(0).in_file.line, safety, new.layer)


_MANY_LINES = 2_000

_WARNING = re.compile(
    r"\b(?:chock|brake|batter(?:y|ies)\b|crank|starter|danger|caution|warn|hazard|never\b|must not|do not|don.t\b|scrap\b|injur|hurt"
    r"|burns?\b|live\b|before\b|only then|N ?m\b)",
    re.IGNORECASE,
)
"""What a sentence of the text below the front matter has in it that warns. English, common practice, no source."""
_FIGURES = re.compile(r"\b(?:[A-Z]|[0-9]+(?:[.,][0-9]+)*|(?i:no|not|nothing|nowhere|without))\b")
_PARAGRAPH = re.compile(r"\n[ \t]*\n|\n(?=[ \t]*(?:[-*+>|#]|[0-9]+[.)]))")
_SENTENCE = re.compile(r"(?<=[.!?])\s+")


def _warnings(prose: str) -> Iterator[tuple[str, ...]]:
    """The gist of each sentence of a text that warns: of those with a word that does, and of all below a heading with one."""
    below = False
    for paragraph in _PARAGRAPH.split(prose):
        if paragraph.lstrip().startswith("#"):
            heading, _, paragraph = paragraph.partition("\n")
            below = bool(_WARNING.search(heading))
        for sentence in _SENTENCE.split(paragraph):
            if below and (found := words(sentence)):
                yield tuple(found)
            elif _WARNING.search(sentence):
                yield _gist(sentence)


def _gist(sentence: str) -> tuple[str, ...]:
    """What a warning says, however it is worded: its words that warn or say no, its figures, and its positions."""
    rest = sentence.removeprefix("A ")
    return tuple(sorted([*(one.casefold() for one in _WARNING.findall(rest)), *(one.casefold() for one in _FIGURES.findall(rest))]))


def _cautions(node: Any) -> Iterator[str]:
    """Every caution of an entry, wherever it stands."""
    if isinstance(node, dict):
        for key, inner in node.items():
            yield from _list(inner) if key == "cautions" else _cautions(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from _cautions(inner)


class _Front(NamedTuple):
    old: Any
    new: Any


class _Found(NamedTuple):
    at: tuple[str, ...]
    path: tuple[str | int, ...]
    old: Any
    new: Any
    safety: bool


class _Step(NamedTuple):
    """One step down an entry: its name, the key or index in the new state, and what stands there on both sides."""

    name: str
    step: str | int
    old: Any
    new: Any


class _Walk:
    """Down both states of one entry at once."""

    def __init__(self, books: tuple[Book, Book], front: _Front) -> None:
        self.front = front
        self.guarded = frozenset(name for book in books for name, one in book.circuits.items() if one.safety)

    def changes(self) -> Iterator[_Found]:
        """What differs, each at the topmost place that only one side has, or where both have something else."""
        yield from self._below((), self.front.old, self.front.new)

    def _below(self, way: tuple[_Step, ...], old: Any, new: Any) -> Iterator[_Found]:
        if same(old, new):
            return
        if isinstance(old, dict) and isinstance(new, dict):
            for key in {**old, **new}:
                yield from self._below((*way, _Step(key, key, old.get(key), new.get(key))), old.get(key), new.get(key))
        elif _are_lists(old, new) and _is_listed(way[-1].name if way else "", (*(old or ()), *(new or ()))):
            yield from self._items(way, old or [], new or [])
        elif way and not (way[-1].name in _SETS and set(map(str, old or ())) == set(map(str, new or ()))):
            yield self._found(way, old, new)

    def _items(self, way: tuple[_Step, ...], old: Sequence[Any], new: Sequence[Any]) -> Iterator[_Found]:
        key = way[-1].name
        if key == "applications":
            pairs = paired_vehicles(old, new)
        elif key == "contacts":
            pairs = paired(old, new, (repr, _pins_of))
        elif key in _NAMES:
            pairs = paired(old, new, (repr, lambda one: _named(one, _NAMES[key])))
        else:
            pairs = paired(old, new, (repr,), loosely=True)
        for was, now, one, other in items(pairs, old, new):
            index = other if other is not None else len(new)
            name = _called(key, now if now is not None else was, other if other is not None else one or 0)
            yield from self._below((*way, _Step(name, index, was, now)), was, now)

    def _found(self, way: tuple[_Step, ...], old: Any, new: Any) -> _Found:
        path = [step.step for step in way]
        return _Found(tuple(step.name for step in way), tuple(path), old, new, self._touches(way, old, new))

    def _touches(self, way: tuple[_Step, ...], old: Any, new: Any) -> bool:
        """Whether a change touches a person; of what only one side has, whether anything in it does."""
        if not way or (len(way) == 2 and way[0].name in _THINGS):
            return new is None and _warns(old)
        key = next(step.name for step in reversed(way) if isinstance(step.step, str))
        if any(step.name in _ASIDE for step in way) or (key in _MEASURED and old is None):
            return False
        if self._is_guarded(way) or self._leaf(key, way, old, new):
            return True
        there = new if old is None else old if new is None else None
        inner = there.items() if isinstance(there, dict) else ()
        return any(self._touches((*way, step), step.old, step.new) for step in _one_sided(inner, gone=new is None))

    def _leaf(self, key: str, way: tuple[_Step, ...], old: Any, new: Any) -> bool:
        of_vehicle = way[0].name == "applications" and len(way) > 1
        if key == "allow":
            return any(one.get("rule") in SAFETY_RULES for one in _list(new) if isinstance(one, dict))
        if key in _LOST:
            return old is not None and words(old) != words(new)
        if key in _WARNS:
            return bool(old == _WARNS[key])
        if of_vehicle and key in _REACH:
            return reaches_further(way[1].old, way[1].new)
        if of_vehicle and key in _VEHICLE:
            return True
        return any(step.name in _TOUCHES for step in way if isinstance(step.step, str)) and words(old) != words(new)

    def _is_guarded(self, way: tuple[_Step, ...]) -> bool:
        """Whether a fact is one of a safety circuit: of its wire, of a part's pin of that name, or of a contact on such a pin."""
        names = [step.name for step in way]
        for key, look in (("wires", self._wire), ("pins", self._pin), ("contacts", self._contact)):
            if key in names and (at := names.index(key)) >= 2 and at + 1 <= len(way):
                return look(way, at)
        return False

    def _wire(self, way: tuple[_Step, ...], at: int) -> bool:
        if way[-1].name == "note":
            return False
        sides = [way[at + 1].old, way[at + 1].new] if at + 1 < len(way) else [*_values(way[at].old), *_values(way[at].new)]
        return any(one.get("circuit") in self.guarded for side in sides for one in _list(side) if isinstance(one, dict))

    def _pin(self, way: tuple[_Step, ...], at: int) -> bool:
        sides = [way[at + 1].old, way[at + 1].new] if at + 1 < len(way) else [*_values(way[at].old), *_values(way[at].new)]
        return any(one in self.guarded for one in sides if isinstance(one, str))

    def _contact(self, way: tuple[_Step, ...], at: int) -> bool:
        sides = [way[at + 1].old, way[at + 1].new] if at + 1 < len(way) else [*_list(way[at].old), *_list(way[at].new)]
        pins: dict[str, Any] = {}
        for step in way[:at]:
            for side in (step.old, step.new):
                if isinstance(side, dict) and isinstance(side.get("pins"), dict):
                    pins |= {pin: name for pin, name in side["pins"].items() if pins.get(pin) not in self.guarded}
        return any(pins.get(str(pin)) in self.guarded for one in sides if isinstance(one, dict) for pin in _list(one.get("pins")))


def _one_sided(inner: Iterable[tuple[str, Any]], gone: bool) -> Iterator[_Step]:
    return (_Step(key, key, value if gone else None, None if gone else value) for key, value in inner)


def _warns(node: Any) -> bool:
    """Whether a thing that is gone warned of itself."""
    if not isinstance(node, dict):
        return False
    return any(node.get(key) == value for key, value in _WARNS.items()) or any(
        _warns(one) for value in node.values() for one in (_list(value) if isinstance(value, list) else [value])
    )


def _of_circuits(states: States) -> Iterator[FactChange]:
    old, new = (loaded.schemas.files["circuits"]["circuits"] for loaded in (states.old, states.new))
    known_old, known_new = states.old.schemas.circuits, states.new.schemas.circuits
    for name in {**old, **new}:
        was, now = old.get(name), new.get(name)
        if same(was, now):
            continue
        guarded = any(name in known and known[name].safety for known in (known_old, known_new))
        if was is None or now is None:
            yield FactChange("schema/circuits.json", "circuits", name, (), was, now, 0, now is None and guarded)
            continue
        for key in {**was, **now}:
            if not same(was.get(key), now.get(key)):
                touches = guarded and key in _LAW
                yield FactChange("schema/circuits.json", "circuits", name, (key,), was.get(key), now.get(key), 0, touches)


def same(one: Any, other: Any) -> bool:
    """Whether two values are the same but for white space."""
    if isinstance(one, str) and isinstance(other, str):
        return one.split() == other.split()
    return bool(one == other)


def words(node: Any) -> Any:
    """A value without what does not matter to who reads it: white space, capitals and marks between words."""
    if isinstance(node, str):
        return [word.casefold() for word in _WORDS.findall(node)]
    if isinstance(node, list):
        return [words(one) for one in node]
    return node


def _are_lists(old: Any, new: Any) -> bool:
    return all(one is None or isinstance(one, list) for one in (old, new)) and isinstance(old, list) and isinstance(new, list)


def _is_listed(key: str, values: Sequence[Any]) -> bool:
    """Whether a list is looked at item by item: lists of records, and of sentences that each stand for themselves."""
    return key in _LOST or all(isinstance(one, dict) for one in values)


def _list(node: Any) -> list[Any]:
    return node if isinstance(node, list) else [] if node is None else [node]


def _values(node: Any) -> list[Any]:
    return list(node.values()) if isinstance(node, dict) else []


def _named(node: Mapping[str, Any], key: str) -> str | None:
    return normalise(str(node[key])) if node.get(key) is not None else None


def _pins_of(node: Mapping[str, Any]) -> str | None:
    pins = node.get("pins")
    return None if not isinstance(pins, list) else "-".join(sorted(map(str, pins)))


def _called(key: str, node: Any, index: int) -> str:
    """What an item of a list is called."""
    if isinstance(node, dict):
        if key == "applications":
            return " ".join(str(node[one]) for one in ("vehicle", "years") if node.get(one) is not None) or str(index + 1)
        if key == "contacts" and isinstance(node.get("pins"), list):
            return "-".join(map(str, node["pins"]))
        if key in _NAMES and node.get(_NAMES[key]) is not None:
            return str(node[_NAMES[key]])
    return str(index + 1)
