"""The book's objects as plain data for other programs. ``None`` is "not known", never "none"; lengths are millimetres, angles degrees,
resistances ohms, torques newton metres. The forms are those of the schemas beside this module."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rangebook.book.model import Application, Connector, Contact, Family, Kit, Part, Plug, Signal, Source, Succession, Terminal, When, Wire
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


class Api:
    """What each file holds. Answers are made once for each seat and used wherever the seat stands."""

    def __init__(self, computed: Computed) -> None:
        self.computed = computed
        self._book = computed.book
        self._schemas = computed.loaded.schemas
        self._answers: dict[tuple[object, ...], list[dict[str, Any]]] = {}

    def index(self) -> dict[str, Any]:
        """Which edition this is, and where everything else is."""
        edition = self.computed.edition
        return {
            "edition": edition.mark,
            "date": edition.date,
            "version": 1,
            "lists": {kind: urls.listing(kind) for kind in ("parts", "families", "connectors", "kits", "vehicles")},
            "table": urls.TABLE,
            "schemas": {name: urls.schema(name) for name in ("index", "list", "part", "family", "connector", "kit", "vehicle")},
        }

    def listings(self) -> dict[str, dict[str, Any]]:
        """Kind -> the list of everything of that kind, each with a name to show and its address."""
        book = self._book
        return {
            "parts": self._list((part.number, urls.part(part.key)) for part in book.parts),
            "families": self._list((family.id, urls.family(family.id)) for family in book.families.values()),
            "connectors": self._list((one.id, urls.connector(one.id)) for one in book.connectors.values()),
            "kits": self._list((kit.id, urls.kit(kit.id)) for kit in book.kits.values()),
            "vehicles": self._list((name, urls.vehicle(name)) for name in vehicles(book.families.values())),
        }

    def part(self, part: Part) -> dict[str, Any]:
        """A part: its facts, and for each seat that it may have come off what can be fitted in its place."""
        taken = self.computed.fitter.seats_taken_by(part)
        return {
            "edition": OWN,
            **facts(self._schemas, "part", part),
            "key": part.key,
            "family": part.family,
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
            "seats": [{**self._seat(seat, asks), "how": how} for (seat, how), asks in zip(taken, asked(taken), strict=True)],
        }

    def family(self, family: Family) -> dict[str, Any]:
        """A family: its parts and plugs by name, its vehicles, and every seat with its answers."""
        fitting = family.fitting
        return {
            "edition": OWN,
            **facts(self._schemas, "family", family),
            "page": pages.family_url(family.id),
            "means": dict(family.means),
            "parts": [part.number for part in family.parts],
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
            "seats": [self._seat(seat) for seat in self.computed.seats_by_family.get(family.id, ())],
        }

    def connector(self, connector: Connector) -> dict[str, Any]:
        """A connector, and who has it."""
        book = self._book
        return {
            "edition": OWN,
            **facts(self._schemas, "connector", connector),
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
            "edition": OWN,
            **facts(self._schemas, "kit", kit),
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

    def vehicle(self, name: str, applications: Iterable[tuple[Family, Application]]) -> dict[str, Any]:
        """A vehicle: each way in which it was built, as its entry states it, with the seat and what fits there; ``seat`` is ``None``
        where its plug or the part it came with is not known."""
        found = []
        for family, one in applications:
            seat = self.computed.seat_of(family, one)
            found.append({"family": family.id, "stated": dict(one.stated), "seat": seat and self._seat(seat)})
        return {"edition": OWN, "vehicle": name, "applications": found}

    def _list(self, items: Iterable[tuple[str, str]]) -> dict[str, Any]:
        return {"edition": self.computed.edition.mark, "items": [{"name": name, "url": url} for name, url in items]}

    def _seat(self, seat: Seat, asks: bool = False) -> dict[str, Any]:
        judged = self.computed.candidates(seat)
        answers = self._answers.get(seat.key)
        if answers is None:
            answers = self._answers[seat.key] = [
                {
                    **candidate_data(verdict, tried_on(self.computed.fitter, seat, verdict)),
                    "url": urls.part(verdict.part.key),
                    **candidate_layers(self._book, seat, verdict.part),
                }
                for verdict in judged
            ]
        return {
            "id": pages.seat_key(seat),
            "family": seat.family.id,
            "plug": seat.plug.name,
            "came_with": seat.original.number,
            "positions": list(seat.positions),
            "page": pages.seat_url(seat),
            "plug_now": plug_now(seat, asks),
            "applications": [dict(one.stated) for one in seat.applications],
            "candidates": answers,
            **layer_data(self._book, *of_plug(self._book, seat.plug)),
            **offer_data(judged, best_offer(judged)),
        }


def vehicles(families: Iterable[Family]) -> dict[str, list[tuple[Family, Application]]]:
    """Every vehicle by its name, with its applications, in the order of the names."""
    found: dict[str, list[tuple[Family, Application]]] = {}
    for family in families:
        for one in family.applications:
            found.setdefault(one.vehicle, []).append((family, one))
    return dict(sorted(found.items()))


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
