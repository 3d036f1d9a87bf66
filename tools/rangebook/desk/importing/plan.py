"""What the rows of a table do to the entries of a book: new families, parts and vehicles added to families that are there.

Nothing that is in the book is changed. A row that says what the book says already does nothing, so the same table can be taken again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from rangebook.book.book import Book
from rangebook.book.load import Loaded
from rangebook.book.model import Family, Part
from rangebook.book.numbers import normalise
from rangebook.desk.importing.columns import CONTACTS, FITTED
from rangebook.desk.importing.mapping import ColumnMapping, MappingError
from rangebook.desk.importing.rows import RowError, RowFacts
from rangebook.desk.new.checking import file_of, id_from, problems_of
from rangebook.desk.writing import yaml_text
from rangebook.desk.writing.insertion import NotInsertedError, with_items
from rangebook.reading.entry import read_entry
from rangebook.reading.located import plain
from rangebook.schema.check import Checker
from rangebook.schema.fields import ordered, value_of
from rangebook.schema.store import Schemas
from rangebook.words.problems import problem_fix, problem_words

FileBytes = Callable[[str], bytes]
"""A file relative to the root -> its bytes."""


@dataclass(frozen=True)
class Plan:
    """``files`` are new entries and entries with lines added, by path relative to the root; ``added`` are the lines (of the table) of
    rows that bring something, each with what; ``known`` of those that say nothing new; ``refused`` those that cannot be taken,
    each with the reason. ``origin`` maps a file, ``parts``, ``applications`` or ``mounts`` and the item's index there to the lines that it
    is from."""

    files: Mapping[str, bytes]
    added: Mapping[int, str]
    known: Mapping[int, str]
    refused: Mapping[int, str]
    origin: Mapping[tuple[str, str, int], tuple[int, ...]]


@dataclass
class _Target:
    """What is to become of one family. ``family`` is ``None`` for one that is begun."""

    file: str
    family: Family | None
    title: str = ""
    parts: dict[str, dict[str, Any]] = field(default_factory=dict)
    links: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    vehicles: list[dict[str, Any]] = field(default_factory=list)
    gearboxes: dict[str, None] = field(default_factory=dict)
    hubs: dict[str, dict[str, Any]] = field(default_factory=dict)
    hub_lines: dict[str, list[int]] = field(default_factory=dict)
    loops: dict[str, list[list[str]]] = field(default_factory=dict)
    """The jumpers in the plugs of a family that is begun, by the plugs' names."""
    part_lines: dict[str, list[int]] = field(default_factory=dict)
    vehicle_lines: list[list[int]] = field(default_factory=list)


def plan(loaded: Loaded, mapping: ColumnMapping, rows: Sequence[RowFacts], bytes_of: FileBytes) -> Plan:
    """What the rows do. Each is taken whole or not at all."""
    return _Planner(loaded, mapping, bytes_of).run(rows)


_BY_HAND = "nothing is written into a part that is there, add it by hand"


def check_new_family(mapping: ColumnMapping, schemas: Schemas) -> None:
    """Whether what the mapping gives a new family fits the schema. Raises ``MappingError``."""
    bare: dict[str, Any] = {"number": "x1"}
    sourced = {**bare, "sources": [dict(mapping.source)]} if mapping.source else bare
    front: dict[str, Any] = {"kind": "switch", "id": "row", "title": "row", "positions": ["P", "R"]}
    # Each by itself, so that it is plain which of the two will not do.
    checker = Checker(schemas)
    for where, tried in (("`source`", {"parts": [sourced]}), ("`new_family`", {**plain(mapping.new_family), "parts": [bare]})):
        problems = problems_of(_entry_text(schemas, {**front, **tried}), "mapping", checker)
        if problems:
            raise MappingError(f"{where} in the mapping: {problem_words(problems[0])}; {problem_fix(problems[0])}")


class _Planner:
    def __init__(self, loaded: Loaded, mapping: ColumnMapping, bytes_of: FileBytes) -> None:
        self.loaded, self.mapping, self.bytes_of = loaded, mapping, bytes_of
        self.book: Book = loaded.book
        self.schemas: Schemas = loaded.schemas
        self.checker = Checker(loaded.schemas)
        self.by_title = {family.title.casefold(): family for family in self.book.families.values()}
        self.kits = {kit.key: kit for kit in self.book.kits.values()}
        self.targets: dict[str, _Target] = {}
        self.of_number: dict[str, str] = {}
        self.files: dict[str, bytes] = {}
        self.added: dict[int, str] = {}
        self.known: dict[int, str] = {}
        self.refused: dict[int, str] = {}
        self.origin: dict[tuple[str, str, int], tuple[int, ...]] = {}

    def run(self, rows: Iterable[RowFacts]) -> Plan:
        for row in rows:
            try:
                self._take(row)
            except RowError as error:
                self.refused[row.line] = str(error)
        for target in self.targets.values():
            self._write(target)
        return Plan(self.files, self.added, self.known, self.refused, self.origin)

    def _take(self, row: RowFacts) -> None:
        key = normalise(row.number)
        problems = problems_of(self._alone(row), "row.md", self.checker)
        if problems:
            raise RowError("; ".join(f"{problem_words(one)} ({problem_fix(one)})" for one in problems[:3]))
        target = self._target(row, key)
        if row.gearbox and target.family and row.gearbox not in target.family.gearboxes:
            raise RowError(
                f"{target.file} is not for the gearbox {row.gearbox}; it is for {', '.join(target.family.gearboxes) or 'none stated'}"
            )
        part = self._part(row, key, target)
        vehicles = [vehicle for vehicle in row.vehicles if not self._is_known_vehicle(vehicle, target)]
        hub = self._hub(row, target)
        jumpers = self._jumpers(row, target)
        # Nothing was changed so far, so that a row which is refused leaves no trace.
        said = []
        if part is not None:
            links = target.links.setdefault(key, [])
            more = [dict(link) for link in row.links if not any(_same_number(link, one) for one in links)]
            if part or more:
                said.append(f"part {row.number}")
            target.parts.setdefault(key, {}).update(part)
            links += more
            target.part_lines.setdefault(key, []).append(row.line)
            self.of_number[key] = target.file
        for vehicle in vehicles:
            target.vehicles.append(dict(vehicle))
            target.vehicle_lines.append([row.line])
            said.append(f"vehicle {vehicle['vehicle']}")
        if row.hub and target.family is None:
            mount = row.part["mount"]
            target.hubs.setdefault(mount, {}).update(hub)
            target.hub_lines.setdefault(mount, []).append(row.line)
            if hub:
                said.append(f"hub of the mount {mount}")
        if jumpers is not None and row.plug is not None:
            target.loops[row.plug] = jumpers
            said.append(f"jumpers of the plug {row.plug}")
        if row.gearbox:
            target.gearboxes[row.gearbox] = None
        if said or target.family is None:
            self.targets[target.file] = target
        if said:
            self.added[row.line] = f"{' and '.join(said)} in {target.file}"
        else:
            self.known[row.line] = f"{row.number}: {target.file} says all of it already"

    def _alone(self, row: RowFacts) -> str:
        """The row as an entry of its own, for the schema to look at."""
        part = _with_links(row.part, row.links)
        front: dict[str, Any] = {"kind": "switch", "id": "row", "title": "row", "positions": ["P", "R"], "parts": [part]}
        if row.hub:
            front["mounts"] = {row.part["mount"]: {"hub": row.hub}}
        if row.vehicles:
            front["applications"] = list(row.vehicles)
        return _entry_text(self.schemas, front)

    def _target(self, row: RowFacts, key: str) -> _Target:
        """The family that a row belongs to. Raises :class:`RowError` where that is not clear."""
        if key in self.kits:
            raise RowError(f"{row.number} is the number of the kit in {self.kits[key].entry.file}")
        part = self.book.by_number.get(key)
        if part is None and key in self.book.lost_numbers:
            raise RowError(f"an entry that cannot be read seems to hold {row.number}: mend it first, see `rangebook lint`")
        named = self._named(row.family) if row.family else None
        if part is not None:
            family = self.book.family_of(part)
            if named is not None and named.family is not family:
                raise RowError(f"{part.number} is in {family.entry.file}; the row says it is of the family {row.family}")
            return self._existing(family)
        if key in self.of_number and named is not None and self.of_number[key] != named.file:
            raise RowError(f"another row puts {row.number} into {self.of_number[key]}; this one says it is of the family {row.family}")
        if named is not None:
            return named
        if key in self.of_number:
            return self.targets[self.of_number[key]]
        raise RowError(f"which family {row.number} is of is not said, and it is not in the book: name it in a column `family`")

    def _named(self, name: str) -> _Target:
        family = self.book.families.get(name) or self.by_title.get(name.casefold()) or self.book.families.get(id_from(name))
        if family is not None:
            return self._existing(family)
        new = id_from(name)
        if not new:
            raise RowError(f"no file can be called after the family {name!r}: it needs letters or figures")
        if new in self.book.lost_ids:
            raise RowError(f"the entry {new} cannot be read: mend it first, see `rangebook lint`")
        if "positions" not in self.mapping.new_family:
            raise RowError(
                f"the family {name} is not in the book; to begin one the lever's positions are needed: state them in the mapping, as in "
                "`new_family: {positions: [P, R, N, D, 2, 1]}`"
            )
        file = file_of("switch", new)
        return self.targets.get(file) or _Target(file, None, name)

    def _existing(self, family: Family) -> _Target:
        return self.targets.get(family.entry.file) or _Target(family.entry.file, family)

    def _part(self, row: RowFacts, key: str, target: _Target) -> Mapping[str, Any] | None:
        """What the row adds to a part that is not in the book; ``None`` for one that is and that says the same."""
        part = self.book.by_number.get(key)
        if part is not None:
            self._compare_with_book(row, part)
            return None
        known = target.parts.get(key, {})
        for name, value in row.part.items():
            if name in known and not _says_the_same(name, known[name], value) and name not in ("number", FITTED):
                first = target.part_lines[key][0]
                raise RowError(f"{name} is {_shown(value)} here and {_shown(known[name])} in line {first}: which is right?")
        for link in row.links:
            for one in target.links.get(key, ()):
                if _same_number(link, one) and link != one:
                    raise RowError(
                        f"line {target.part_lines[key][0]} says something else of its successor {link['number']}: which is right?"
                    )
        more = {name: value for name, value in row.part.items() if name not in known}
        if new := [one for one in row.part.get(FITTED, ()) if one not in known.get(FITTED, ())]:
            more[FITTED] = [*known.get(FITTED, ()), *new]
        return more

    def _hub(self, row: RowFacts, target: _Target) -> Mapping[str, Any]:
        """What the row adds to the hub of a mount of a family that is begun; of one in the book it has to say the same."""
        if not row.hub:
            return {}
        name = row.part["mount"]
        if target.family is None:
            mount = self.mapping.new_family.get("mounts", {}).get(name, {})
            known, where = {**self._stated_hub(mount), **target.hubs.get(name, {})}, "another row or `new_family`"
        else:
            assert target.family.entry.front is not None
            mounts = target.family.entry.front.get("mounts", {})
            if name not in mounts:
                others = f"it has {', '.join(mounts)}" if mounts else "it has none"
                raise RowError(f"the family has no mount {name!r} ({others}): state it in the entry")
            known, where = self._stated_hub(mounts[name]), target.file
        for key, value in row.hub.items():
            if key not in known and target.family is not None:
                raise RowError(f"{where} has the mount {name} without `hub.{key}`, the row says {_shown(value)}: add it by hand")
            if key in known and known[key] != value:
                said = f"`hub.{key}` {_shown(known[key])}, the row says {_shown(value)}"
                raise RowError(f"{where} has the mount {name} with {said}: see which is right")
        return {key: value for key, value in row.hub.items() if key not in known}

    def _stated_hub(self, mount: Mapping[str, Any]) -> dict[str, Any]:
        stated = plain(mount.get("hub", {}))
        return {one.key: value_of(self.schemas, one, stated[one.key]) for one in self.mapping.can_be.hub.values() if one.key in stated}

    def _jumpers(self, row: RowFacts, target: _Target) -> list[list[str]] | None:
        """What the row adds of the jumpers in a plug of a family that is begun; of one in the book it has to say the same."""
        if row.loops is None or row.plug is None:
            return None
        front = self.mapping.new_family if target.family is None else target.family.entry.front or {}
        plugs = front.get("plugs", {})
        if row.plug not in plugs:
            raise RowError(f"the family has no plug {row.plug!r} (it has {', '.join(plugs) or 'none'})")
        stated = plain(plugs[row.plug]).get("loops", target.loops.get(row.plug))
        where = "another row or `new_family`" if target.family is None else target.file
        if stated is None and target.family is not None:
            raise RowError(f"{where} has the plug {row.plug} without `loops`, the row says {_shown_loops(row.loops)}: add it by hand")
        if stated is not None and _alike(stated) != _alike(row.loops):
            said = f"`loops` {_shown_loops(stated)}, the row says {_shown_loops(row.loops)}"
            raise RowError(f"{where} has the plug {row.plug} with {said}: see which is right")
        return None if stated is not None else row.loops

    def _compare_with_book(self, row: RowFacts, part: Part) -> None:
        family = self.book.family_of(part)
        assert family.entry.front is not None
        node: Mapping[str, Any] = family.entry.front["parts"][part.path[1]]
        where = f"{family.entry.file} has {part.number}"
        for name, value in row.part.items():
            if name == "number":
                continue
            if name == FITTED:
                if any(one not in plain(node.get(FITTED) or []) for one in value):
                    raise RowError(f"{where} without this record of the bay, {_shown(value)}: {_BY_HAND}")
                continue
            if name not in node:
                raise RowError(f"{where} without `{name}`, the row says {_shown(value)}: {_BY_HAND}")
            if not _says_the_same(name, plain(node[name]), value):
                raise RowError(f"{where} with `{name}` {_shown(plain(node[name]))}, the row says {_shown(value)}: see which is right")
        for link in row.links:
            at = next((at for at, one in enumerate(part.superseded_by) if normalise(one.number) == normalise(link["number"])), None)
            if at is None:
                raise RowError(f"{where} not superseded by {link['number']}: {_BY_HAND}")
            stated = part.superseded_by[at]
            written = {**plain(node["superseded_by"][at]), "needs": [need.kit for need in stated.needs or ()]}
            for name, value in link.items():
                if name != "number" and value != written.get(name):
                    said = f"`{name}` {_shown(written.get(name))}, the row says {_shown(value)}"
                    raise RowError(f"{where} superseded by {stated.number} with {said}: see which is right")

    def _is_known_vehicle(self, vehicle: Mapping[str, Any], target: _Target) -> bool:
        stated: list[Mapping[str, Any]] = [one.stated for one in target.family.applications] if target.family else []
        for one in (*stated, *target.vehicles):
            if all(_same_value(name, value, one.get(name)) for name, value in vehicle.items()):
                return True
        plugs = target.family.plugs if target.family else self.mapping.new_family.get("plugs", {})
        if "plug" in vehicle and vehicle["plug"] not in plugs:
            known = f"it has {', '.join(plugs)}" if plugs else "it has none"
            how = "state its connector and wires in the entry, or for new families under `new_family`"
            raise RowError(f"the family has no plug {vehicle['plug']!r} ({known}): {how}")
        return False

    def _write(self, target: _Target) -> None:
        if not target.parts and not target.vehicles:
            return
        parts = [self._finished(part, target.links[key]) for key, part in target.parts.items()]
        try:
            data = self._new_entry(target, parts) if target.family is None else self._longer_entry(target, target.family, parts)
        except NotInsertedError as error:
            for line in {line for lines in (*target.part_lines.values(), *target.vehicle_lines) for line in lines}:
                self.added.pop(line, None)
                self.refused[line] = f"{target.file}: {error}; add it by hand"
            return
        self.files[target.file] = data
        before: Mapping[str, Any] = (target.family.entry.front or {}) if target.family else {}
        for index, lines in enumerate(target.part_lines.values(), len(before.get("parts", ()))):
            self.origin[target.file, "parts", index] = tuple(lines)
        if target.family is None:
            mounts = list(self._mounts(target))
            self.origin |= {(target.file, "mounts", mounts.index(name)): tuple(lines) for name, lines in target.hub_lines.items()}
        for index, lines in enumerate(target.vehicle_lines, len(before.get("applications", ()))):
            self.origin[target.file, "applications", index] = tuple(lines)

    def _finished(self, part: Mapping[str, Any], links: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
        node = _with_links(part, links)
        if self.mapping.source:
            node["sources"] = [dict(self.mapping.source)]
        top = self.schemas.of("switch")
        part_node: dict[str, Any] = ordered(self.schemas, top["properties"]["parts"]["items"], "switch", node)
        return part_node

    def _new_entry(self, target: _Target, parts: Sequence[Mapping[str, Any]]) -> bytes:
        front = {
            "kind": "switch",
            "id": target.file.rsplit("/", 1)[-1].removesuffix(".md"),
            "title": target.title,
            **plain(self.mapping.new_family),
            "parts": parts,
        }
        if mounts := self._mounts(target):
            front["mounts"] = mounts
        if target.loops:
            plugs = plain(front["plugs"])
            front["plugs"] = {
                name: {**plug, **({"loops": target.loops[name]} if name in target.loops else {})} for name, plug in plugs.items()
            }
        if target.gearboxes:
            front["gearboxes"] = list(target.gearboxes)
        if target.vehicles:
            front["applications"] = target.vehicles
        return _entry_text(self.schemas, front).encode("utf-8")

    def _mounts(self, target: _Target) -> dict[str, Any]:
        """The mounts of a family that is begun: those of the mapping, with the hubs of the rows."""
        mounts: dict[str, Any] = plain(self.mapping.new_family.get("mounts", {}))
        for name, hub in target.hubs.items():
            mount = mounts.setdefault(name, {})
            mount["hub"] = {**mount.get("hub", {}), **hub}
        return mounts

    def _longer_entry(self, target: _Target, family: Family, parts: Sequence[Mapping[str, Any]]) -> bytes:
        data = self.bytes_of(target.file)
        order = list(self.schemas.of("switch")["properties"])
        # The later list first: the marks of the entry stay true for what stands above.
        if target.vehicles:
            data = with_items(family.entry.own(self.book.own_layer), data, "applications", target.vehicles, order)
        return with_items(read_entry(target.file, data), data, "parts", parts, order) if parts else data


def _entry_text(schemas: Schemas, front: Mapping[str, Any]) -> str:
    node = ordered(schemas, schemas.of("switch"), "switch", front)
    lines = ["---"]
    for key, value in node.items():
        if key == "parts":
            lines += ["parts:", *(line for part in value for line in yaml_text.item_lines(part, 2, whole=True))]
        else:
            lines += yaml_text.lines(key, value)
    return "\n".join([*lines, "---", ""])


def _with_links(part: Mapping[str, Any], links: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    return {**part, "superseded_by": [dict(link) for link in links]} if links else dict(part)


def _same_number(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    return bool(normalise(one["number"]) == normalise(other["number"]))


def _same_value(name: str, value: Any, other: Any) -> bool:
    if name == "came_with" and isinstance(other, str):
        return bool(normalise(value) == normalise(other))
    return bool(value == other)


def _says_the_same(name: str, one: Any, other: Any) -> bool:
    """Of contacts neither their order counts nor that of their pins."""
    if name == CONTACTS and all(contact.keys() <= {"pins", "closed"} for contact in one):
        return _by_pins(one) == _by_pins(other)
    return bool(one == other)


def _by_pins(contacts: Iterable[Mapping[str, Any]]) -> dict[frozenset[str], frozenset[str] | None]:
    return {frozenset(one["pins"]): frozenset(one["closed"]) if "closed" in one else None for one in contacts}


def _alike(loops: Iterable[Iterable[str]]) -> set[frozenset[str]]:
    return {frozenset(one) for one in loops}


def _shown_loops(loops: Iterable[Iterable[str]]) -> str:
    return ", ".join("+".join(one) for one in loops) or "none"


def _shown(value: Any) -> str:
    return yaml_text.flow(value) if value not in (None, "", [], {}) else "not stated"
