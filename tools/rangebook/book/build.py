"""Front matter that passed the schema -> typed model. Nothing is judged here; only shapes change."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from rangebook.book.model import (
    Allowance,
    Application,
    Bolt,
    Connector,
    Contact,
    Cranks,
    Family,
    Fitted,
    Fitting,
    Hub,
    KeyPath,
    Kit,
    Mate,
    Mount,
    Need,
    OtherNumber,
    Part,
    Photo,
    Plug,
    Range,
    Reads,
    Shaft,
    Signal,
    Socket,
    Sockets,
    Source,
    Succession,
    Tail,
    Terminal,
    Volts,
    When,
    Wire,
    WireSeals,
)
from rangebook.book.numbers import normalise
from rangebook.reading.entry import Entry
from rangebook.schema.errors import SchemaError

_NOTHING: Mapping[str, Any] = MappingProxyType({})


# A book says the same few things over and over; one object for each keeps it small.
@lru_cache(maxsize=10_000)
def _same(values: tuple[str, ...]) -> tuple[str, ...]:
    return values


@lru_cache(maxsize=10_000)
def _as_set(values: tuple[str, ...]) -> frozenset[str]:
    return frozenset(values)


Item = Family | Connector | Kit
"""What an entry is made into."""


def item(entry: Entry) -> Item | None:
    """What an entry says; ``None`` where it has problems or could not be read.

    Raises ``SchemaError`` where a book's own schema lets through what the model has no place for.
    """
    if entry.problems or entry.head is None:
        return None
    kind = entry.head["kind"]
    make: Callable[[Entry], Item] = _MAKERS[kind]
    try:
        return make(entry)
    except (TypeError, KeyError, AttributeError, ValueError) as error:
        why = f"{type(error).__name__}: {error}"
        looser = "is the book's own schema/ looser than the one that is shipped?"
        raise SchemaError(f"{entry.file} passes the schema, but no {kind} can be made of it ({why[:200]}): {looser}") from error


def connector(entry: Entry) -> Connector:
    """A connector from its entry."""
    front = _front(entry)
    return Connector(
        id=front["id"],
        title=front["title"],
        outline=front["outline"],
        rows=tuple(tuple(None if label == "-" else label for label in row) for row in front["rows"]),
        terminal=_terminal(front.get("terminal")),
        sealed=front.get("sealed"),
        seal_wire_mm2=_range(front.get("seal_wire_mm2")),
        mates=tuple(_mate(one, ("mates", index)) for index, one in enumerate(front.get("mates", ()))),
        note=front.get("note"),
        sources=_sources(front),
        entry=entry,
        photos=_photos(front, ()),
        terminals=_terminals(front),
        former_ids=tuple(front.get("former_ids", ())),
    )


def _terminal(node: Any) -> Terminal | None:
    if node is None:
        return None
    plain = {key: node.get(key) for key in ("style", "width_mm", "on_switch", "family", "wires", "plating")}
    return Terminal(**plain, wire_mm2=_range(node.get("wire_mm2")), seal_mm=_range(node.get("seal_mm")))


def _terminals(front: Mapping[str, Any]) -> Mapping[str, Terminal]:
    made = {cavity: _terminal(node) for cavity, node in front.get("terminals", _NOTHING).items()}
    return MappingProxyType({cavity: one for cavity, one in made.items() if one is not None})


def _range(node: Any) -> tuple[float, float] | None:
    if isinstance(node, dict):
        return node["min"], node["max"]
    return None if node is None else (node[0], node[1])


def _volts(node: Any) -> Volts | None:
    return _range(node) if isinstance(node, list | dict) else node


def _mate(node: Any, path: KeyPath) -> Mate:
    if isinstance(node, str):
        return Mate(node, None, path)
    cavities = node.get("cavities")
    return Mate(node["connector"], None if cavities is None else MappingProxyType(dict(cavities)), path)


def kit(entry: Entry) -> Kit:
    """A kit from its entry."""
    front = _front(entry)
    seals, old = front.get("seals"), front["from"]
    fans = {one: tuple(new) for one, new in front["moves"].items() if not isinstance(new, str)}
    wire_seals = front.get("wire_seals")
    return Kit(
        id=front["id"],
        number=front["number"],
        key=normalise(front["number"]),
        title=front["title"],
        olds=(old,) if isinstance(old, str) else _same(tuple(dict.fromkeys(old))),
        new=front["to"],
        moves=MappingProxyType({old: new if isinstance(new, str) else new[0] for old, new in front["moves"].items()}),
        fans=MappingProxyType(fans),
        seals=None if seals is None else tuple(seals),
        blanks=front.get("blanks"),
        note=front.get("note"),
        sources=_sources(front),
        entry=entry,
        photos=_photos(front, ()),
        loops=(*_loops(front), *fans.values()),
        terminal=_terminal(front.get("terminal")),
        terminals=_terminals(front),
        wire_seals=None
        if wire_seals is None
        else tuple(
            WireSeals(one["count"], one.get("colour"), _range(one.get("wire_mm2")), _range(one.get("outer_mm"))) for one in wire_seals
        ),
        joins=front.get("joins"),
        cautions=tuple(front.get("cautions", ())),
        former_ids=tuple(front.get("former_ids", ())),
    )


def family(entry: Entry) -> Family:
    """A switch family from its entry."""
    front = _front(entry)
    name = front["id"]
    fitting, positions = front.get("fitting"), tuple(front["positions"])
    return Family(
        id=name,
        title=front["title"],
        also_called=tuple(front.get("also_called", ())),
        gearboxes=tuple(front.get("gearboxes", ())),
        positions=positions,
        mounts=MappingProxyType({key: _mount(key, value, positions) for key, value in front.get("mounts", _NOTHING).items()}),
        parts=tuple(_part(value, name, ("parts", index)) for index, value in enumerate(front["parts"])),
        plugs=MappingProxyType({key: _plug(key, name, value) for key, value in front.get("plugs", _NOTHING).items()}),
        applications=tuple(_application(value, ("applications", index)) for index, value in enumerate(front.get("applications", ()))),
        fitting=fitting and Fitting(**_fitting(fitting)),
        trouble_codes=tuple(front.get("trouble_codes", ())),
        note=front.get("note"),
        sources=_sources(front),
        entry=entry,
        photos=_photos(front, ()),
        means=MappingProxyType(dict(front.get("means", _NOTHING))),
        former_ids=tuple(front.get("former_ids", ())),
    )


_MAKERS: Mapping[str, Callable[[Entry], Family | Connector | Kit]] = {"switch": family, "connector": connector, "kit": kit}


def allowances(entry: Entry) -> tuple[Allowance, ...]:
    """The findings that an entry of any kind says may stand; empty where it says so in a way that cannot be read."""
    stated: object = entry.head.get("allow") if entry.head else None
    if not isinstance(stated, list):
        return ()
    return tuple(
        Allowance(one["rule"], one["reason"], one.get("at"), ("allow", index))
        for index, one in enumerate(stated)
        if isinstance(one, dict) and all(isinstance(one.get(key), str) for key in ("rule", "reason")) and isinstance(one.get("at", ""), str)
    )


def _front(entry: Entry) -> Mapping[str, Any]:
    if entry.front is None:
        raise ValueError(f"{entry.file}: not read")
    return entry.front


def _sources(node: Mapping[str, Any]) -> tuple[Source, ...]:
    return tuple(
        Source(one["kind"], one.get("detail"), one.get("by"), one.get("on"), _same(tuple(one.get("for", ()))))
        for one in node.get("sources", ())
    )


def _photos(node: Mapping[str, Any], path: KeyPath) -> tuple[Photo, ...]:
    return tuple(
        Photo(one["file"], one.get("view"), one["shows"], (*path, "photos", index)) for index, one in enumerate(node.get("photos", ()))
    )


def _fitting(node: Mapping[str, Any]) -> dict[str, Any]:
    return {**{key: node.get(key) for key in ("set_in", "method", "torque_nm", "set_by")}, "cautions": tuple(node.get("cautions", ()))}


def _mount(name: str, node: Mapping[str, Any], positions: tuple[str, ...]) -> Mount:
    shaft, hub = node.get("shaft"), node.get("hub")
    return Mount(
        name=name,
        shaft=None if shaft is None else Shaft(shaft.get("shape"), shaft.get("across_mm")),
        bolts=tuple(
            Bolt(
                *(one["at_mm"], one["at_deg"], one.get("bolt_mm"), one.get("hole_mm"), one.get("slot_deg", 0), one.get("spacer_mm")),
                torque_nm=one.get("torque_nm"),
            )
            for one in node.get("bolts", ())
        ),
        note=node.get("note"),
        path=("mounts", name),
        hub=None if hub is None else Hub(hub.get("position"), hub.get("at_deg"), tuple(hub.get("steps_deg", ()))),
        positions=positions,
        motion=node.get("motion"),
        **_fitting(node),
    )


def _part(node: Mapping[str, Any], family_id: str, path: KeyPath) -> Part:
    number = node["number"]
    made = Part(
        number=number,
        key=normalise(number),
        family=family_id,
        **_design(node, path),
        status=node.get("status"),
        stamped=tuple(node.get("stamped", ())),
        superseded_by=tuple(_succession(one, (*path, "superseded_by", index)) for index, one in enumerate(node.get("superseded_by", ()))),
        note=node.get("note"),
        sources=_sources(node),
        path=path,
        photos=_photos(node, path),
        plating=node.get("plating"),
        needs=tuple(_need(one) for one in node.get("needs", ())),
        goes_with=tuple(node.get("goes_with", ())),
        sold_as=MappingProxyType(dict(node.get("sold_as", _NOTHING))),
        condition=node.get("condition"),
        counterfeit_marks=tuple(node.get("counterfeit_marks", ())),
        inside=node.get("inside"),
        also_numbered=tuple(
            OtherNumber(one["number"], normalise(one["number"]), one.get("by"), (*path, "also_numbered", index))
            for index, one in enumerate(node.get("also_numbered", ()))
        ),
        fitted=_fitted(node, path),
        **_fitting(node),
    )
    if "revisions" not in node:
        return made
    revisions = enumerate(node["revisions"])
    return replace(made, revisions=tuple(_revision(made, one, index, (*path, "revisions", index)) for index, one in revisions))


def _design(node: Mapping[str, Any], path: KeyPath) -> dict[str, Any]:
    """What one design of a number can have otherwise than another."""
    pins, contacts = node.get("pins"), node.get("contacts")
    return {
        "sockets": _sockets(node),
        "tails": MappingProxyType(_tails(node)),
        "mount": node.get("mount"),
        "pins": None if pins is None else MappingProxyType(dict(pins)),
        "contacts": None if contacts is None else tuple(_contact(one, (*path, "contacts", index)) for index, one in enumerate(contacts)),
        "signals": tuple(_signal(one, (*path, "signals", index)) for index, one in enumerate(node.get("signals", ()))),
    }


def _revision(part: Part, node: Mapping[str, Any], index: int, path: KeyPath) -> Part:
    """The part as the revision says; no number has a slash in its key, so that of a design is like no other."""
    keys = {"sockets": ("connector", "connectors"), "tails": ("tail", "connectors")}
    own = {fact: value for fact, value in _design(node, path).items() if any(key in node for key in keys.get(fact, (fact,)))}
    key, when = f"{part.key}/{index + 1}", _when(node.get("when"))
    return replace(part, key=key, path=path, when=when, note=node.get("note"), photos=(), fitted=(), restates=tuple(own), **own)


def _when(node: Mapping[str, Any] | None) -> When | None:
    if node is None:
        return None
    return When(
        _ranges(node.get("serial")),
        _ranges(node.get("vin")),
        _ranges(node.get("gearbox_serial")),
        _ranges(node.get("built")),
        node.get("marked"),
        node.get("steering"),
        node.get("built_for"),
        node.get("stamped_at"),
    )


def _ranges(node: Any) -> tuple[Range, ...] | None:
    if isinstance(node, list):
        return tuple(Range(one, one) for one in node)
    return None if node is None else (Range(node.get("from"), node.get("to")),)


def _sockets(node: Mapping[str, Any]) -> Sockets:
    """The connectors of a part or plug; none where they are not stated."""
    named = node.get("connectors", {"": node["connector"]} if "connector" in node else {})
    return tuple(Socket(name, one if isinstance(one, str) else one["connector"]) for name, one in named.items())


def _tails(node: Mapping[str, Any]) -> dict[str, Tail]:
    """The tails of a part's connectors by their names."""
    of = {"": node, **{name: one for name, one in node.get("connectors", _NOTHING).items() if not isinstance(one, str)}}
    return {
        name: Tail(one["tail"].get("ends"), one["tail"].get("length_mm"), one["tail"].get("leaves"))
        for name, one in of.items()
        if "tail" in one
    }


def _fitted(node: Mapping[str, Any], path: KeyPath) -> tuple[Fitted, ...]:
    return tuple(
        Fitted(one["outcome"], one.get("on"), one.get("by"), one.get("vehicle"), one.get("note"), (*path, "fitted", index))
        for index, one in enumerate(node.get("fitted", ()))
    )


def _contact(node: Mapping[str, Any], path: KeyPath) -> Contact:
    closed, ohms = node.get("closed"), node.get("ohms")
    a, b = node["pins"]
    listed = None if closed is None else _same(tuple(closed))
    return Contact(
        a,
        b,
        None if listed is None else _as_set(listed),
        None if ohms is None else MappingProxyType({at: None if value == "open" else value for at, value in ohms.items()}),
        node.get("tolerance_percent"),
        path,
        listed,
        node.get("rated_a"),
        _same(tuple(node.get("overlaps", ()))),
        node.get("one_way", False),
    )


def _signal(node: Mapping[str, Any], path: KeyPath) -> Signal:
    return Signal(
        node["pin"],
        node.get("supply"),
        node.get("ground"),
        node.get("kind"),
        MappingProxyType(dict(node.get("values", _NOTHING))),
        node.get("tolerance"),
        path,
        _volts(node.get("supply_volts")),
        node.get("frequency_hz"),
        node.get("pull_up_ohms"),
        node.get("pull_up_volts"),
        node.get("polarity"),
        node.get("output"),
        node.get("ratiometric"),
        node.get("protocol"),
    )


def _succession(node: Mapping[str, Any], path: KeyPath) -> Succession:
    needs = node.get("needs")
    return Succession(
        node["number"],
        node.get("since"),
        None if needs is None else tuple(_need(one) for one in needs),
        node.get("note"),
        _sources(node),
        path,
        _when(node.get("when")),
    )


def _need(node: Any) -> Need:
    if isinstance(node, str):
        return Need(kit=node)
    own = ("kit", "seal", "blanks", "note", "part", "item", "count", "once", "work")
    return Need(**{key: node.get(key) for key in own}, using=node.get("with"))


def _plug(name: str, family_id: str, node: Mapping[str, Any]) -> Plug:
    reads = node.get("reads")
    return Plug(
        name=name,
        family=family_id,
        sockets=_sockets(node),
        wires=MappingProxyType({cavity: _wires(cavity, one) for cavity, one in node["wires"].items()}),
        reads=reads and Reads(tuple(reads["pins"]), reads["pull_up_ohms"], reads["volts"]),
        note=node.get("note"),
        path=("plugs", name),
        loops=_loops(node),
        cranks=_cranks(node),
        plating=node.get("plating"),
        loops_stated="loops" in node,
    )


def _wires(cavity: str, node: Any) -> Wire:
    if isinstance(node, list):
        first, *others = (_wire(cavity, one) for one in node)
        return replace(first, others=tuple(others))
    return _wire(cavity, node)


def _wire(cavity: str, node: Mapping[str, Any]) -> Wire:
    return Wire(
        cavity,
        node.get("circuit"),
        node.get("colour"),
        node.get("size_mm2"),
        node.get("note"),
        node.get("carries_a"),
        _volts(node.get("gives_volts")),
        node.get("outer_mm"),
        side=node.get("side"),
    )


def _loops(node: Mapping[str, Any]) -> tuple[tuple[str, ...], ...]:
    return tuple(_same(tuple(one)) for one in node.get("loops", ()))


def _cranks(node: Mapping[str, Any]) -> Cranks | None:
    stated = node.get("cranks")
    if stated is None:
        return None
    positions = stated.get("in")
    return Cranks(stated.get("by"), None if positions is None else tuple(positions), stated.get("side"), _sources(stated))


def _application(node: Mapping[str, Any], path: KeyPath) -> Application:
    years = node.get("years")
    first, last = (None, None) if years is None else _years(years)
    lever = node.get("lever")
    return Application(
        vehicle=node["vehicle"],
        years=years,
        first_year=first,
        last_year=last,
        built_from=node.get("from"),
        built_to=node.get("to"),
        gearbox=node.get("gearbox"),
        engine=node.get("engine"),
        drive=node.get("drive"),
        plug=node.get("plug"),
        came_with=node.get("came_with"),
        lever=None if lever is None else tuple(lever),
        optional_cavities=tuple(node.get("optional_cavities", ())),
        fitted=_fitted(node, path),
        note=node.get("note"),
        path=path,
        stated=MappingProxyType(dict(node)),
        cranks=_cranks(node),
        when=_when(node.get("when")),
    )


def _years(text: str) -> tuple[int, int | None]:
    first, dash, last = text.partition("-")
    return int(first), int(last) if last else None if dash else int(first)
