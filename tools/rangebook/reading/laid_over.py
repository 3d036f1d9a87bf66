"""One entry that several layers speak of: the front matter of an upper layer laid over that of the ones below.

What an upper layer adds is added. A key that is there with the same value says nothing new. One with another value contradicts, and so does
a pin, a wire or a move more in a list that is whole: the upper one is taken where it names a source for that, the lower one stays where it
does not, and either is remembered as a :class:`Clash`. Nothing is taken out: what an upper layer leaves out stays as it is.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from rangebook.reading.located import Map, Mark, Seq, plain
from rangebook.reading.spelling import normalise

KeyPath = tuple[str | int, ...]

NAMES = frozenset({"also_called", "gearboxes", "trouble_codes", "former_ids", "cautions", "stamped", "counterfeit_marks"})
"""Lists of names and texts, to which an upper layer adds some."""

RECORDS = frozenset({"sources", "fitted", "allow"})
"""Lists of what somebody says; an upper layer says more."""

KEYED: Mapping[str, str] = {
    "parts": "number",
    "superseded_by": "number",
    "also_numbered": "number",
    "photos": "file",
    "mates": "connector",
}
"""Lists of things -> the key by which one of a lower layer is meant."""

WHOLE = frozenset({"pins", "wires", "moves", "connectors", "mates", "means"})
"""What names all that there is: one more is said not to be there by the layer below."""

LEFT_OUT_SAYS = frozenset(
    {"cranks", "loops", "mates", "means", "optional_cavities", "lever", "when", "goes_with", "signals", "revisions", "connectors"}
)
"""Keys that say something where they are left out: the switch cranks the engine, there is no jumper, the lever is the family's. An answer
goes by that, so a layer that adds one says something else."""

OTHERWISE = {"connector": "connectors", "connectors": "connector"}
"""Keys of which one says what the other does."""

VEHICLE = ("vehicle", "years", "from", "to", "engine", "drive", "gearbox", "when")
"""The keys of an application that tell which vehicles are meant."""

PART_FACTS: Mapping[str, str] = {
    "connector": "connector",
    "connectors": "connector",
    "tail": "connector",
    "plating": "connector",
    "inside": "connector",
    "pins": "pins",
    "contacts": "contacts",
    "signals": "contacts",
    "mount": "mount",
    "superseded_by": "supersession",
    "status": "supersession",
}
"""A key of a part -> the fact that a source's ``for`` has it under."""

FAMILY_FACTS: Mapping[str, str] = {"mounts": "mount", "plugs": "plugs", "applications": "applications", "fitting": "fitting"}

LONGEST = 160
"""Characters that are told of a value."""

NO_SOURCE = "hearsay"
"""The kind of source that stands for nothing against another layer: nobody looked."""


@dataclass(frozen=True, slots=True)
class Clash:
    """Two layers that say different things of one fact. ``path`` leads to it in the entry as it is laid together; ``lower`` and ``upper``
    are the values, ``None`` for a lower one that is not there and by that denied; ``below`` and ``above`` the places of the two.
    ``sourced`` is whether the upper layer has a source for it, and so was taken."""

    path: KeyPath
    lower: Any
    upper: Any
    below: Mark
    above: Mark
    sourced: bool


def lay_over(lower: Map, upper: Map, name: str) -> tuple[Map, list[Clash]]:
    """An entry's front matter with that of the layer ``name`` over it, and what of the two contradicts. Neither is changed."""
    work = _Work(upper, name)
    return work.maps(lower, upper, ()), work.clashes


class _Work:
    def __init__(self, top: Map, name: str) -> None:
        self.top, self.name = top, name
        self.clashes: list[Clash] = []
        self.owners: list[Map] = []

    def maps(self, lower: Map, upper: Map, path: KeyPath) -> Map:
        """Two mappings laid together; ``path`` leads to both."""
        made = Map(lower.place, lower.first_line)
        self.owners.append(upper)
        before = len(self.clashes)
        whole = bool(path) and path[-1] in WHOLE
        for key, value in lower.items():
            if key in upper:
                self._both(made, lower, upper, key, path)
            else:
                made.take(key, value, lower)
        for key, value in upper.items():
            if key in lower:
                continue
            other = OTHERWISE.get(key, "") if not whole else ""
            if other in lower and other:
                taken = self._clash((*path, key), plain(lower[other]), value, lower.value_mark(other), upper.key_mark(key))
                if taken:
                    made.pop(other, None)
            elif whole or key in LEFT_OUT_SAYS:
                taken = self._clash((*path, key), None, value, lower.mark, upper.key_mark(key))
            else:
                taken = True
            if taken:
                made.take(key, value, upper)
        sourced = [one for one in self.clashes[before:] if one.sourced]
        if len(path) in (0, 2) and ("sources" in upper or sourced):
            _restrict(made, lower, upper, sourced, path)
        self.owners.pop()
        return made

    def _both(self, made: Map, lower: Map, upper: Map, key: str, path: KeyPath) -> None:
        below, above, here = lower[key], upper[key], (*path, key)
        if isinstance(below, Map) and isinstance(above, Map):
            made.take(key, self.maps(below, above, here), lower)
        elif isinstance(below, Seq) and isinstance(above, Seq) and _is_added_to(key, path):
            made.take(key, self._lists(key, below, above, here), lower)
        elif key == "note" and isinstance(below, str) and isinstance(above, str):
            made.take(key, below if above == below else f"{below} [{self.name}] {above}", lower)
        elif below == above or self._is_key_of_item(key, path, below, above):
            made.take(key, below, lower)
        elif self._clash(here, plain(below), above, lower.value_mark(key), upper.value_mark(key)):
            made.take(key, above, upper)
        else:
            made.take(key, below, lower)

    def _is_key_of_item(self, key: str, path: KeyPath, below: Any, above: Any) -> bool:
        """Whether it is the number by which the two were found to be one, in two spellings."""
        named = KEYED.get(str(path[-2])) if len(path) > 1 else None
        return key == named == "number" and normalise(str(below)) == normalise(str(above))

    def _lists(self, key: str, lower: Seq, upper: Seq, path: KeyPath) -> Seq:
        made = Seq(lower.place, lower.first_line)
        at: dict[Hashable, int] = {}
        for index, value in enumerate(lower):
            at.setdefault(_identity(key, value), index)
            made.take(value, lower, index)
        done: set[int] = set()
        for index, value in enumerate(upper):
            where = at.get(_identity(key, value))
            if where is None or where in done:
                # A list that is whole has no more, and one thing named twice stays twice: it is told of as in any entry.
                if key not in WHOLE or self._clash((*path, len(made)), None, value, lower.mark, upper.item_mark(index)):
                    made.take(value, upper, index)
                continue
            below = lower[where]
            if isinstance(below, Map) and isinstance(value, Map):
                if key not in RECORDS:
                    made[where] = self.maps(below, value, (*path, where))
            elif below != value and self._clash((*path, where), plain(below), value, lower.item_mark(where), upper.item_mark(index)):
                made[where] = value
            if key not in RECORDS:
                done.add(where)
        return made

    def _clash(self, path: KeyPath, lower: Any, upper: Any, below: Mark, above: Mark) -> bool:
        """Remember it; whether the upper layer is taken."""
        sourced = self._has_source(path)
        self.clashes.append(Clash(path, lower, plain(upper), below, above, sourced))
        return sourced

    def _has_source(self, path: KeyPath) -> bool:
        """Whether the upper layer names a source for what a path leads to: beside it, or for the whole entry."""
        if path[0] in ("kind", "id"):
            return False
        fact = FAMILY_FACTS.get(str(path[0]), "")
        if path[0] == "parts" and len(path) > 2:
            fact = PART_FACTS.get(str(path[2]), "")
        for depth, owner in enumerate(reversed(self.owners)):
            sources = owner.get("sources")
            top = depth == len(self.owners) - 1
            # As in one book: what an entry's own sources are for does not stand for its parts unless they name it.
            by_name = top and path[0] == "parts"
            if isinstance(sources, Seq) and any(_stands(one, fact, by_name) for one in sources):
                return True
        return False


def _stands(source: Any, fact: str, by_name: bool) -> bool:
    if not isinstance(source, Map) or not isinstance(source.get("kind"), str) or source["kind"] == NO_SOURCE:
        return False
    covers = source.get("for")
    if isinstance(covers, Seq):
        return bool(fact) and fact in covers
    return not by_name


def _is_added_to(key: str, path: KeyPath) -> bool:
    """Whether the items of a list are added one by one. Of what is said in a revision or a contact the whole is one fact."""
    at_top = len(path) == 0 and key in ("parts", "applications", "mates")
    in_part = len(path) == 2 and path[0] == "parts" and key in ("superseded_by", "also_numbered")
    return at_top or in_part or key in NAMES | RECORDS or key == "photos"


def _identity(key: str, value: Any) -> Hashable:
    """By what an item of a list is found in the other one."""
    if key == "applications" and isinstance(value, Map):
        return tuple(_frozen(value.get(one)) for one in VEHICLE)
    named = KEYED.get(key)
    if named is None:
        return _frozen(value)
    stated = value.get(named) if isinstance(value, Map) else value
    return normalise(stated) if named == "number" and isinstance(stated, str) else _frozen(stated)


def _frozen(value: Any) -> Hashable:
    if isinstance(value, dict):
        return tuple(sorted((key, _frozen(inner)) for key, inner in value.items()))
    return tuple(map(_frozen, value)) if isinstance(value, list) else value


def _restrict(made: Map, lower: Map, upper: Map, taken: list[Clash], path: KeyPath) -> None:
    """Let each source stand for what its own layer says: those below no longer for what was taken from above, and those above that do not
    say what they are for not for what is said below only."""
    facts = PART_FACTS if path[:1] == ("parts",) else FAMILY_FACTS if not path else {}
    if not facts or "sources" not in made:
        return
    every = tuple(dict.fromkeys(facts.values()))
    depth = len(path)
    gone = {facts[str(one.path[depth])] for one in taken if len(one.path) > depth and str(one.path[depth]) in facts}
    own = tuple(dict.fromkeys(facts[key] for key in upper if key in facts))
    listed = Seq(made["sources"].place, made["sources"].first_line)
    below = {id(one) for one in lower.get("sources", ())}
    for index, one in enumerate(made["sources"]):
        is_below = id(one) in below
        if not isinstance(one, Map) or (is_below and not gone) or (not is_below and (not own or "for" in one)):
            listed.take(one, made["sources"], index)
            continue
        stated = one["for"] if isinstance(one.get("for"), Seq) else every
        left = [fact for fact in stated if fact not in gone] if is_below else list(own)
        if left:
            listed.take(_for(one, left), made["sources"], index)
    if listed:
        made["sources"] = listed
    else:
        del made["sources"]


def _for(source: Map, facts: list[str]) -> Map:
    made = Map(source.place, source.first_line)
    for key, value in source.items():
        if key != "for":
            made.take(key, value, source)
    covers = Seq(source.place, source.first_line)
    covers.extend(facts)
    made["for"] = covers
    return made


def named_in(value: Any) -> Iterator[str]:
    """The circuits in a value of a clash: of a pin or a wire, or of several."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            if key == "circuit" or not isinstance(inner, str):
                yield from named_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from named_in(inner)


def written(value: Any) -> str:
    """A value as one writes it in an entry, cut where it is long."""
    if isinstance(value, Mapping):
        text = f"{{{', '.join(f'{key}: {written(inner)}' for key, inner in value.items())}}}"
    else:
        text = f"[{', '.join(map(written, value))}]" if isinstance(value, list) else str(value)
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 1]}…"
