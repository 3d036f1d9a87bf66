"""The book's objects as plain data for other programs. ``None`` is "not known", never "none"; lengths are millimetres, angles degrees,
resistances ohms, torques newton metres. The forms are those of the schemas beside this module."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from typing import Any

from rangebook.book.model import Connector, Contact, Family, Kit, Part, Plug, Signal, Source, Succession, Terminal, When, Wire
from rangebook.desk.answer import best_offer
from rangebook.desk.fit import asked, candidate_data, offer_data, plug_now, record_data
from rangebook.desk.layers import candidate_layers, layer_data, of_part, of_plug
from rangebook.desk.needs import need_data
from rangebook.electrics.signals import FACTS
from rangebook.fitting.conditions import NUMBERS, WORDS
from rangebook.fitting.seats import Seat
from rangebook.fitting.tried import tried_on
from rangebook.site.api import urls
from rangebook.site.api.facts import facts
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.edition import OWN
from rangebook.site.shared import urls as pages

KINDS = ("parts", "families", "connectors", "kits", "vehicles")


class Api:
    """What each file holds. A thing stands in one place, and elsewhere what it is found by."""

    def __init__(self, computed: Computed) -> None:
        self.computed = computed
        self._book = computed.book
        self._schemas = computed.loaded.schemas

    def index(self) -> dict[str, Any]:
        """Which edition this is, and where everything else is."""
        edition = self.computed.edition
        return {
            "edition": edition.mark,
            "date": edition.date,
            "version": 2,
            "lists": {kind: urls.listing(kind) for kind in KINDS},
            "table": urls.TABLE,
            "schemas": {name: urls.schema(name) for name in ("index", *KINDS, "family")},
        }

    def listings(self) -> dict[str, dict[str, Any]]:
        """Kind -> all of that kind by what each is asked for: parts by their keys, vehicles by their names, the rest by ids."""
        book = self._book
        all_of: dict[str, dict[str, Any]] = {
            "parts": {part.key: {"number": part.number, "family": part.family} for part in book.parts},
            "families": {family.id: self._listed(family) for family in book.families.values()},
            "connectors": {one.id: self.connector(one) for one in book.connectors.values()},
            "kits": {kit.id: self.kit(kit) for kit in book.kits.values()},
            "vehicles": self._vehicles(),
        }
        return {kind: {"edition": self.computed.edition.mark, kind: all_of[kind]} for kind in KINDS}

    def _listed(self, family: Family) -> dict[str, Any]:
        former = former_ids(family, self._book.families)
        return {"title": family.title, "url": urls.family(family.id), "former_ids": former}

    def _vehicles(self) -> dict[str, list[dict[str, Any]]]:
        """Each way in which a vehicle was built: its family, its place among the vehicles of that, and the seat; ``seat`` is ``None`` where
        its plug or the part it came with is not known."""
        found: dict[str, list[dict[str, Any]]] = {}
        for family in self._book.families.values():
            for at, one in enumerate(family.applications):
                seat = self.computed.seat_of(family, one)
                row = {"family": family.id, "application": at, "seat": seat and pages.seat_id(seat)}
                found.setdefault(one.vehicle, []).append(row)
        return dict(sorted(found.items()))

    def part(self, part: Part) -> dict[str, Any]:
        """A part: its facts, and the seats that it may have come off."""
        taken = self.computed.fitter.seats_taken_by(part)
        return {
            **facts(self._schemas, "part", part),
            "key": part.key,
            "page": pages.part_url(part),
            "connectors": part.connectors,
            "tails": {name: {"ends": one.ends, "length_mm": one.length_mm, "leaves": one.leaves} for name, one in part.tails.items()},
            "pins": None if part.pins is None else dict(part.pins),
            "contacts": None if part.contacts is None else [_contact(one, self._book.family_of(part)) for one in part.contacts],
            "signals": [_signal(one) for one in part.signals],
            "superseded_by": [_succession(one) for one in part.superseded_by],
            "revisions": [
                {
                    "when": _when(one.when),
                    "connectors": {socket.name: socket.connector for socket in one.sockets},
                    "mount": one.mount,
                    "pins": None if one.pins is None else dict(one.pins),
                    "contacts": None if one.contacts is None else [_contact(each, self._book.family_of(part)) for each in one.contacts],
                    "signals": [_signal(each) for each in one.signals],
                    "note": one.note,
                }
                for one in part.revisions
            ],
            "needs": [need_data(one) for one in part.needs],
            "sold_as": dict(part.sold_as),
            "fitted": [record_data(one) for one in part.fitted],
            "sources": _sources(part.sources),
            **layer_data(self._book, *of_part(self._book, part)),
            "seats": [self._taken(seat, how, asks) for (seat, how), asks in zip(taken, asked(taken), strict=True)],
        }

    def family(self, family: Family) -> dict[str, Any]:
        """A family: its parts by their numbers, its plugs by name, its vehicles, and every seat with its answers by its name in the
        family."""
        fitting = family.fitting
        return {
            "edition": OWN,
            **facts(self._schemas, "family", family),
            "page": pages.family_url(family.id),
            "means": dict(family.means),
            "parts": {part.number: self.part(part) for part in family.parts},
            "plugs": {plug.name: _plug(plug) for plug in family.plugs.values()},
            "applications": [dict(one.stated) for one in family.applications],
            "fitting": fitting
            and {
                "set_in": fitting.set_in,
                "method": fitting.method,
                "set_by": fitting.set_by,
                "torque_nm": fitting.torque_nm,
                "cautions": list(fitting.cautions),
            },
            "sources": _sources(family.sources),
            **layer_data(self._book, family),
            "seats": {pages.seat_id(seat): self._seat(seat) for seat in self._seats(family)},
        }

    def connector(self, connector: Connector) -> dict[str, Any]:
        """A connector, and who has it."""
        book = self._book
        return {
            **facts(self._schemas, "connector", connector),
            "former_ids": former_ids(connector, book.connectors),
            "page": pages.connector_url(connector.id),
            "rows": [list(row) for row in connector.rows],
            "cavities": len(connector.cavities),
            "terminal": connector.terminal and _terminal(connector.terminal),
            "terminals": {cavity: _terminal(one) for cavity, one in connector.terminals.items()},
            "seal_wire_mm2": _range(connector.seal_wire_mm2),
            "mates": [
                {"connector": one.connector, "cavities": None if one.cavities is None else dict(one.cavities)} for one in connector.mates
            ],
            "parts": [part.number for part in book.by_connector.get(connector.id, ())],
            "plugs": [{"family": plug.family, "plug": plug.name} for plug in book.plugs_by_connector.get(connector.id, ())],
            "kits_from": [kit.id for kit in book.kits_from.get(connector.id, ())],
            "kits_to": [kit.id for kit in self.computed.kits_to.get(connector.id, ())],
            "sources": _sources(connector.sources),
            **layer_data(self._book, connector),
        }

    def kit(self, kit: Kit) -> dict[str, Any]:
        """A plug renewal kit."""
        return {
            **facts(self._schemas, "kit", kit),
            "former_ids": former_ids(kit, self._book.kits),
            "page": pages.kit_url(kit.id),
            "from": kit.olds[0],
            "from_any": list(kit.olds),
            "to": kit.new,
            "moves": dict(kit.moves),
            "loops": [list(one) for one in kit.jumpers],
            **({"fans": {old: list(new) for old, new in kit.fans.items()}} if kit.fans else {}),
            "terminal": kit.terminal and _terminal(kit.terminal),
            "terminals": {cavity: _terminal(one) for cavity, one in kit.terminals.items()},
            "wire_seals": None
            if kit.wire_seals is None
            else [
                {"count": one.count, "colour": one.colour, "wire_mm2": _range(one.wire_mm2), "outer_mm": _range(one.outer_mm)}
                for one in kit.wire_seals
            ],
            "sources": _sources(kit.sources),
            **layer_data(self._book, kit),
        }

    def _seats(self, family: Family) -> Iterator[Seat]:
        """The seats of a family, and each again with every plug that it may have been renewed with by now."""
        seats = self.computed.seats_by_family.get(family.id, ())
        yield from seats
        renewed: dict[tuple[object, ...], Seat] = {}
        for seat in seats:
            fitting = (verdict.part.key for verdict in self.computed.candidates(seat) if verdict.fits)
            for key in dict.fromkeys((seat.original.key, *fitting)):
                under = self.computed.fitter.plugs_under(seat, self._book.by_number[key])
                renewed |= {now.key: now for now in under if now.renewal}
        yield from renewed.values()

    def _taken(self, seat: Seat, how: str, asks: bool) -> dict[str, Any]:
        """Where a part may have come off; what is to be known of the plug there where it is not all that the seat says."""
        look = {"plug_now": plug_now(seat, asks)} if asks else {}
        return {"family": seat.family.id, "seat": pages.seat_id(seat), "how": how, **look}

    def _seat(self, seat: Seat) -> dict[str, Any]:
        judged = self.computed.candidates(seat)
        places = {one.path: at for at, one in enumerate(seat.family.applications)}
        return {
            "plug": seat.plug.name,
            "came_with": seat.original.number,
            "positions": list(seat.positions),
            "page": pages.seat_url(seat),
            "plug_now": plug_now(seat, asks=False),
            "applications": [places[one.path] for one in seat.applications],
            "candidates": [
                {
                    **candidate_data(verdict, tried_on(self.computed.fitter, seat, verdict)),
                    "family": verdict.part.family,
                    **candidate_layers(self._book, seat, verdict.part),
                }
                for verdict in judged
            ],
            **layer_data(self._book, *of_plug(self._book, seat.plug)),
            **offer_data(judged, best_offer(judged)),
        }


def former_ids(entry: Family | Connector | Kit, taken: Container[str]) -> list[str]:
    """The ids that an entry had and no other has now: programs go on asking by these."""
    return [old for old in dict.fromkeys(entry.former_ids) if old not in taken]


def _contact(contact: Contact, family: Family) -> dict[str, Any]:
    return {
        "pins": [contact.a, contact.b],
        "closed": None if contact.closed is None else [one for one in family.positions if one in contact.closed],
        "ohms": None if contact.ohms is None else dict(contact.ohms),
        "tolerance_percent": contact.tolerance_percent,
        "rated_a": contact.rated_a,
        "overlaps": list(contact.overlaps),
        "one_way": contact.one_way,
    }


def _terminal(terminal: Terminal) -> dict[str, Any]:
    return {
        "family": terminal.family,
        "style": terminal.style,
        "width_mm": terminal.width_mm,
        "on_switch": terminal.on_switch,
        "wire_mm2": _range(terminal.wire_mm2),
        "wires": terminal.wires,
        "plating": terminal.plating,
        "seal_mm": _range(terminal.seal_mm),
    }


def _signal(signal: Signal) -> dict[str, Any]:
    return {
        "pin": signal.pin,
        "supply": signal.supply,
        "ground": signal.ground,
        "kind": signal.kind,
        "values": dict(signal.values),
        "tolerance": signal.tolerance,
        **{fact: _volts(getattr(signal, fact)) for fact in FACTS},
    }


def _succession(link: Succession) -> dict[str, Any]:
    needs = None if link.needs is None else [need_data(one) for one in link.needs]
    return {"number": link.number, "since": link.since, "when": _when(link.when), "needs": needs, "note": link.note}


def _when(when: When | None) -> dict[str, Any] | None:
    """A condition: ranges by what is read, each from and to with both ends in it, and the rest as it stands."""
    if when is None:
        return None
    ranges = {key: getattr(when, key) for key in NUMBERS}
    rest = {key: getattr(when, key) for key in (*WORDS, "stamped_at")}
    return {**{key: found and [{"from": one.since, "to": one.until} for one in found] for key, found in ranges.items()}, **rest}


def _plug(plug: Plug) -> dict[str, Any]:
    return {
        "connector": plug.connector,
        "connectors": plug.connectors,
        "wires": {
            cavity: {**_wire(wire), **({"others": [_wire(one) for one in wire.others]} if wire.others else {})}
            for cavity, wire in plug.wires.items()
        },
        "plating": plug.plating,
        "loops": [list(one) for one in plug.loops] if plug.loops_stated else None,
        "cranks": plug.cranks
        and {
            "by": plug.cranks.by,
            "in": None if plug.cranks.positions is None else list(plug.cranks.positions),
            "side": plug.cranks.side,
            "sources": _sources(plug.cranks.sources),
        },
        "note": plug.note,
    }


def _wire(wire: Wire) -> dict[str, Any]:
    return {
        "circuit": wire.circuit,
        "colour": wire.colour,
        "size_mm2": wire.size_mm2,
        "outer_mm": wire.outer_mm,
        "carries_a": wire.carries_a,
        "gives_volts": _volts(wire.gives_volts),
        "side": wire.side,
    }


def _volts(value: Any) -> Any:
    """A range as a list."""
    return list(value) if isinstance(value, tuple) else value


def _sources(sources: Iterable[Source]) -> list[dict[str, Any]]:
    return [{"kind": one.kind, "detail": one.detail, "by": one.by, "on": one.on} for one in sources]


def _range(stated: tuple[float, float] | None) -> list[float] | None:
    return None if stated is None else list(stated)
