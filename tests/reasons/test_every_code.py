"""Every code that is declared: something brings it about, it says what it is declared to say, and it has a message that can be read.

What brings a code about is a small book; so a code that nothing can bring about is found, and goes.
"""

from __future__ import annotations

import json
import types
import typing
from collections.abc import Callable, Mapping
from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import Any

import pytest
from tests.making import MOUNT, application, book, connector, family, part, plug, seat_and_parts

from rangebook.book.load import load
from rangebook.fitting import rewiring
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.judge import judge
from rangebook.fitting.seats import find_seats
from rangebook.fitting.verdict import Verdict
from rangebook.reading.entry import read_all
from rangebook.reasons import codes
from rangebook.reasons.reason import CODES, Detail, Outcome, Rank, Reason, Side, parameters, types_of
from rangebook.schema.store import Schemas, load_schemas
from rangebook.words.catalogue import catalogue, places_of
from rangebook.words.reasons import brief_words, reason_data, reason_words

ROOT = Path(__file__).resolve().parents[2]
PINS = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out", "5": "range_signal", "6": "range_return"}
START, BACKUP = {"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}
LADDER = {"pins": ["5", "6"], "ohms": {"P": 4300, "R": 2000, "N": 1100, "D": 620}, "tolerance_percent": 5}
READS = {"reads": {"pins": ["5", "6"], "pull_up_ohms": 2200, "volts": 5}}
WIRED = {"1": "start_feed", "2": "start_out", "5": "range_signal", "7": "supply", "8": "signal_ground"}
POWERED = {"pin": "5", "supply": "7", "ground": "8", "kind": "volts", "values": {"P": 1, "R": 2, "N": 3, "D": 4}}


def switch(number: str, *contacts: dict[str, Any], pins: Mapping[str, str] = PINS, **more: Any) -> dict[str, Any]:
    return part(number, pins=dict(pins), contacts=list(contacts), **more)


A = switch("A", START, BACKUP, LADDER)


def ask(
    original: dict[str, Any], candidate: dict[str, Any], wires: Any = PINS, *more: Any, of: str = "c", fam: Any = None, reads: Any = None
) -> Verdict:
    facts = {"plugs": {"p": plug(wires, of=of, **(reads or {}))}, "applications": [application("p", original["number"])], **(fam or {})}
    listed = [original] if original is candidate else [original, candidate]
    made, seat, parts = seat_and_parts(connector("c", 8), *more, family("f", listed, **facts))
    return judge(made, seat, parts[candidate["number"]])


def but(node: Mapping[str, Any], **changes: Any) -> dict[str, Any]:
    return {key: value for key, value in {**node, "number": "B", **changes}.items() if value is not None}


def bolted(change: Callable[[dict[str, Any]], None], original: bool = False) -> Verdict:
    """Two parts that are mounted alike but for a change in the one or the other."""
    other = json.loads(json.dumps(MOUNT))
    change(other)
    mounts = {"boss": other, "other": MOUNT} if original else {"boss": MOUNT, "other": other}
    return ask(A, but(A, mount="other"), fam={"mounts": mounts})


def motions(original: str | None, candidate: str | None) -> Verdict:
    """Two parts alike but for how the gearbox moves them; no shaft is stated."""
    bare = {key: value for key, value in MOUNT.items() if key != "shaft"}
    mounts = {name: {**bare, **({"motion": motion} if motion else {})} for name, motion in (("boss", original), ("other", candidate))}
    return ask(A, but(A, mount="other"), fam={"mounts": mounts})


def lamp_apart() -> Verdict:
    """What was one switch is two now, and nobody says how the lamp's wires get to its own."""
    without = but(A, pins={pin: name for pin, name in PINS.items() if pin not in ("3", "4")}, contacts=[START, LADDER], goes_with=["C"])
    lamp = switch("C", {"pins": ["1", "2"], "closed": ["R"]}, pins={"1": "backup_feed", "2": "backup_out"}, connector="d", mount=None)
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")]}
    made, seat, parts = seat_and_parts(connector("c", 8), connector("d", 2), family("f", [A, without, lamp], **facts))
    return judge(made, seat, parts["B"])


def two_of_two(change: dict[str, Any] | None, lamp_in_drive: bool = False, asked: str = "B", **lamp_is: Any) -> Verdict:
    """Two parts do the work together in the place of two others; the lamps' one is mounted otherwise, or nobody says what its mount is."""
    wires = {"main.1": "start_feed", "main.2": "start_out", "lamp.1": "backup_feed", "lamp.2": "backup_out"}
    listed = []
    for main, lamp, mount in (("A", "C", "boss"), ("B", "D", "other")):
        listed.append(switch(main, START, pins={"1": "start_feed", "2": "start_out"}, goes_with=[lamp]))
        inside = {"pins": ["1", "2"], "closed": ["R"]}
        listed.append(switch(lamp, inside, pins={"1": "backup_feed", "2": "backup_out"}, connector="d", mount=mount))
    listed[-1] = {key: value for key, value in {**listed[-1], "goes_with": ["B"], **lamp_is}.items() if value is not None}
    if lamp_in_drive:
        listed[-1]["revisions"] = [{"when": {"marked": "x"}, "contacts": [{"pins": ["1", "2"], "closed": ["R", "D"]}]}]
    its = {key: value for key, value in plug(wires).items() if key != "connector"}
    facts = {"plugs": {"p": {**its, "connectors": {"main": "c", "lamp": "d"}}}, "applications": [application("p", "A")]}
    mounts = {"mounts": {"boss": MOUNT, "other": MOUNT if change is None else {**MOUNT, **change} if change else {}}}
    made, seat, parts = seat_and_parts(connector("c", 8), connector("d", 2), family("f", listed, **facts, **mounts))
    return judge(made, seat, parts[asked])


NARROW = {"shaft": {"shape": "double-flat", "across_mm": 8}}


def each_bolt(**changes: Any) -> Callable[[dict[str, Any]], None]:
    def change(mount: dict[str, Any]) -> None:
        for bolt in mount["bolts"]:
            bolt.update(changes)
            for key in [key for key, value in changes.items() if value is None]:
                del bolt[key]

    return change


def powered(original: Mapping[str, Any], candidate: Mapping[str, Any] | None, **changes: Any) -> Verdict:
    def made(number: str, signal: Mapping[str, Any] | None) -> dict[str, Any]:
        known = {key: value for key, value in (signal or {}).items() if value is not None}
        return switch(number, {"pins": ["1", "2"], "closed": ["P", "N"]}, pins=WIRED, **({"signals": [known]} if signal else {}), **changes)

    return ask(made("A", original), made("B", candidate), WIRED)


def powered_part(number: str, *more: Mapping[str, Any]) -> dict[str, Any]:
    return switch(number, START, pins=WIRED, signals=[POWERED, *more])


def two(number: str, aux: str = "d", live: str = "main") -> dict[str, Any]:
    """The same with a second connector, in one of which there is nothing."""
    contacts = [{**one, "pins": [f"{live}.{end}" for end in one["pins"]]} for one in A["contacts"]]
    made = switch(number, *contacts, pins={f"{live}.{cavity}": circuit for cavity, circuit in PINS.items()})
    return {**{key: value for key, value in made.items() if key != "connector"}, "connectors": {"main": "c", "aux": aux}}


def two_plugs(aux: str) -> dict[str, Any]:
    """The same plug with a second one beside it, which carries no wire."""
    wires = {f"main.{cavity}": {"circuit": circuit} for cavity, circuit in PINS.items()}
    return {"connectors": {"main": "c", "aux": aux}, "wires": wires}


def rated() -> Verdict:
    wires = {cavity: {"circuit": name, "carries_a": 6} for cavity, name in PINS.items()}
    facts = {"plugs": {"p": {"connector": "c", "wires": wires}}}
    return ask(A, but(A, contacts=[{**START, "rated_a": 4}, BACKUP, LADDER]), fam=facts)


def kit(**more: Any) -> dict[str, Any]:
    moves = {str(at): str(at) for at in range(1, 7)}
    return {"kind": "kit", "id": "k", "number": "K-1", "title": "renewal", "from": "c", "to": "d", "moves": moves, "seals": [6], **more}


def with_kit(**more: Any) -> Verdict:
    return ask(A, but(A, connector="d"), PINS, connector("d", 8), kit(**more))


def lost_kit() -> Verdict:
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")]}
    made = book(connector("c", 8), connector("d", 8), family("f", [A, but(A, connector="d")], **facts))
    made = replace(made, lost=tuple(read_all([("entries/kits/k.md", b"---\nkind: [\n---\n")])))
    (seat,) = find_seats(made)
    return judge(made, seat, made.by_number["B"])


def on_condition(built: str | None) -> Verdict:
    """B takes the place of A on vehicles built from 2010-03; the one asked about was built in a month, or nobody knows when."""
    link = {"number": "B", "when": {"built": {"from": "2010-03"}, "stamped_at": "the plate in the door"}}
    when = {} if built is None else {"when": {"built": {"from": built, "to": built}}}
    return ask({**A, "superseded_by": [link]}, but(A), fam={"applications": [application("p", "A", **when)]})


BLADE = {"style": "blade", "width_mm": 2.8, "on_switch": "male"}


def said_to_mate(change: Mapping[str, Any], cavities: Mapping[str, str] | None = None, of_part: str = "B") -> Verdict:
    """Two connectors that are made alike but for a change, the plug of the one on the housing of the other."""
    made = {"terminal": BLADE, "sealed": "yes"}
    mate = "c" if cavities is None else {"connector": "c", "cavities": dict(cavities)}
    other = {**connector("d", 8, mates=[mate], **made), **change}
    other = {key: value for key, value in other.items() if value is not None}
    originals = [A, but(A, connector="d")] if of_part == "B" else [but(A, number="A", connector="d"), but(A)]
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")]}
    made_book, seat, parts = seat_and_parts(connector("c", 8, **made), other, family("f", originals, **facts))
    return judge(made_book, seat, parts["B"])


def thick_wires() -> Verdict:
    wired = {"connector": "c", "wires": {cavity: {"circuit": name, "size_mm2": 2.5} for cavity, name in PINS.items()}}
    facts = {"plugs": {"p": wired}, "applications": [application("p", "A")]}
    new = connector("d", 8, terminal={**BLADE, "wire_mm2": [0.5, 1.5]}, seal_wire_mm2=[0.5, 2])
    made, seat, parts = seat_and_parts(connector("c", 8), new, family("f", [A, but(A, connector="d")], **facts), kit())
    return judge(made, seat, parts["B"])


def bagged(sizes: Mapping[str, Any] | None = None, twice: bool = False, new: Mapping[str, Any] | None = None, **bag: Any) -> Verdict:
    """A kit for wires of 2.5 mm2, but for what is changed; with one more in the first cavity if ``twice``."""
    wires = {cavity: {"circuit": name, "size_mm2": 2.5, **(sizes or {})} for cavity, name in PINS.items()}
    first = {**wires, "1": [wires["1"], wires["1"]]} if twice else wires
    facts = {"plugs": {"p": {"connector": "c", "wires": first}}, "applications": [application("p", "A")]}
    supplied = connector("d", 8, **{"terminal": BLADE, **(new or {})})
    made, seat, parts = seat_and_parts(connector("c", 8), supplied, family("f", [A, but(A, connector="d")], **facts), kit(**bag))
    return judge(made, seat, parts["B"])


def plated(plug_side: str | None) -> Verdict:
    made = {**plug(PINS), **({"plating": plug_side} if plug_side else {})}
    return ask(A, but(A, plating="gold"), fam={"plugs": {"p": made}})


def fed(given: float, made_for: float) -> Verdict:
    """A supply for which the electronics are made or not."""
    wires = plug(WIRED)
    wires["wires"]["7"]["gives_volts"] = given
    other = but(powered_part("B"), signals=[{**POWERED, "supply_volts": made_for}])
    return ask(powered_part("A"), other, WIRED, fam={"plugs": {"p": wires}})


def mirrored() -> Verdict:
    one, other = MOUNT["bolts"]
    mounts = {name: {**MOUNT, "bolts": [one, {**other, "at_mm": 44, "at_deg": at}]} for name, at in (("boss", 150), ("other", 210))}
    return ask(A, but(A, mount="other"), fam={"mounts": mounts})


def order_differs() -> Verdict:
    facts = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A")]}
    made, seat, parts = seat_and_parts(connector("c", 8), family("f", [A], **facts), family("g", [but(A)], positions=["P", "N", "R", "D"]))
    return judge(made, seat, parts["B"])


def given_up(monkeypatch: pytest.MonkeyPatch) -> Verdict:
    monkeypatch.setattr(rewiring, "MAX_TERMINALS", 3)
    return ask(A, but(A, contacts=[START, {"pins": ["3", "4"], "closed": ["D"]}, LADDER]))


def ground(end: str) -> Verdict:
    return powered(POWERED, {**POWERED, "ground": end})


def unlisted() -> Verdict:
    """A list of circuits of a book's own, with a safety circuit of which it does not say where it may be joined."""
    facts = {"plugs": {"p": plug({**PINS, "5": "brake_lock"})}, "applications": [application("p", "A")]}
    own = {"brake_lock": {"role": "output", "name": "brake lock", "safety": True}}
    circuits = Schemas({**load_schemas().files, "circuits": {"circuits": {**load_schemas().files["circuits"]["circuits"], **own}}}).circuits
    made = replace(book(connector("c", 8), family("f", [A, but(A)], **facts)), circuits=circuits)
    (seat,) = find_seats(made)
    return judge(made, seat, made.by_number["B"])


def unclear() -> Verdict:
    """A part with a position L beside its 1, on a lever whose L is said to mean 1."""
    lever, other = ["P", "R", "N", "D", "L"], ["P", "R", "N", "D", "1", "L"]
    facts = {"plugs": {"p": plug(WIRED_START)}, "applications": [application("p", "A")]}
    first = family("f", [switch("A", START, BACKUP)], positions=lever, means={"L": "1"}, **facts)
    made, seat, parts = seat_and_parts(connector("c", 8), first, family("g", [switch("B", START, BACKUP)], positions=other))
    return judge(made, seat, parts["B"])


WIRED_START = {"1": "start_feed", "2": "start_out"}


def cranked_by_a_module() -> Verdict:
    wide = {"pins": ["1", "2"], "closed": ["P", "N", "D"]}
    cranks = {"by": "module", "in": ["P", "N", "D"], "sources": [{"kind": "service-manual"}]}
    return ask(switch("A", wide, BACKUP), switch("B", wide, BACKUP), WIRED_START, reads={"cranks": cranks})


def driven(in_gear: float) -> Verdict:
    signal = {
        "pin": "2",
        "supply": "1",
        "ground": "6",
        "kind": "volts",
        "values": {"P": 12, "R": 0, "N": 12, "D": in_gear},
        "tolerance": 0.2,
    }
    return ask(A, switch("B", BACKUP, signals=[signal]))


CASES: dict[str, Callable[[], Verdict]] = {
    "mount.came_with": lambda: ask(*[but(A, number="A", mount=None)] * 2),
    "mount.same": lambda: ask(A, but(A)),
    "mount.fits": lambda: bolted(lambda mount: None),
    "mount.moved_alike": lambda: motions("fork", "fork"),
    "mount.motion_not_stated": lambda: motions("fork", None),
    "mount.motion_differs": lambda: motions("fork", "gear"),
    "mount.not_stated": lambda: ask(A, but(A, mount=None)),
    "mount.shaft_not_stated": lambda: bolted(lambda mount: mount.pop("shaft")),
    "mount.bolts_not_stated": lambda: bolted(lambda mount: mount.pop("bolts")),
    "mount.bolt_size_not_stated": lambda: bolted(each_bolt(hole_mm=None)),
    "mount.spacer_not_stated": lambda: bolted(each_bolt(spacer_mm=None), original=True),
    "mount.hub_not_stated": lambda: bolted(lambda mount: mount.pop("hub")),
    "mount.hole_too_wide": lambda: bolted(each_bolt(hole_mm=7.5)),
    "mount.slot_too_long": lambda: bolted(each_bolt(slot_deg=16)),
    "mount.spare_ear_may_foul": lambda: bolted(lambda mount: mount["bolts"].append({**mount["bolts"][0], "at_deg": 250})),
    "mount.shaft_shape_differs": lambda: bolted(lambda mount: mount["shaft"].update(shape="square")),
    "mount.shaft_size_differs": lambda: bolted(lambda mount: mount["shaft"].update(across_mm=11)),
    "mount.too_few_holes": lambda: bolted(lambda mount: mount["bolts"].pop()),
    "mount.spacer_differs": lambda: bolted(each_bolt(spacer_mm=0)),
    "mount.mirror_image": mirrored,
    "mount.no_hole_for_bolt": lambda: bolted(each_bolt(at_mm=50)),
    "mount.holes_elsewhere": lambda: bolted(lambda mount: mount["bolts"][1].update(at_deg=90)),
    "mount.hub_elsewhere": lambda: bolted(lambda mount: mount["hub"].update(at_deg=155)),
    "mount.detents_differ": lambda: bolted(lambda mount: mount["hub"].update(steps_deg=[-16, -16, -16])),
    "mount.order_differs": order_differs,
    "mount.inside_not_stated": lambda: ask(
        but(A, number="A", inside="yes"), but(A, mount="ear"), fam={"mounts": {"boss": MOUNT, "ear": MOUNT}}
    ),
    "mount.inside_differs": lambda: ask(but(A, number="A", inside="yes"), but(A, inside="no")),
    "behaviour.companion_depends": lambda: two_of_two(None, lamp_in_drive=True),
    "mount.companion_differs": lambda: two_of_two(NARROW),
    "mount.companion_not_stated": lambda: two_of_two({}),
    "mount.companion_fits": lambda: two_of_two(None, asked="D"),
    "mount.taken_place_differs": lambda: two_of_two(NARROW, asked="D"),
    "mount.taken_place_not_stated": lambda: two_of_two({}, asked="D"),
    "mating.companion_housing_not_stated": lambda: two_of_two(None, connector=None),
    "mating.goes_on": lambda: ask(A, but(A)),
    "mating.kit_needed": with_kit,
    "mating.adapter_needed": lambda: with_kit(joins="plug_in"),
    "mating.also_needed": lambda: ask(
        A, but(A, needs=[{"item": "bolt", "count": 2, "once": "yes"}, {"work": "relearn", "with": "scan tool"}, {"part": "X-1"}])
    ),
    "mating.companion_not_in_book": lambda: ask(A, but(A, goes_with=["X-1"])),
    "mating.housing_not_stated": lambda: ask(A, but(A, connector=None)),
    "mating.connector_not_in_book": lambda: ask(A, but(A, connector="nowhere")),
    "mating.entry_not_read": lost_kit,
    "mating.terminal_not_stated": lambda: said_to_mate({"terminal": {"style": "blade"}}),
    "mating.sealing_not_stated": lambda: said_to_mate({"sealed": None}),
    "mating.cavities_not_matched": lambda: said_to_mate({"rows": [["2", "1", "3", "4", "5", "6", "7", "8"]]}),
    "mating.map_lacks_wires": lambda: said_to_mate({}, {"1": "1", "2": "2"}),
    "mating.original_not_on_plug": lambda: said_to_mate({}, {"1": "1", "2": "2"}, of_part="A"),
    "mating.bag_not_stated": lambda: ask(
        A,
        but(A, connector="d"),
        PINS,
        connector("d", 8, sealed="yes"),
        {key: value for key, value in kit().items() if key != "seals"},
    ),
    "mating.plug_goes_on": lambda: ask(A, two("B")),
    "mating.connector_unused": lambda: ask(A, two("B")),
    "mating.plugs_alike": lambda: ask(*[two("A", "c")] * 2, fam={"plugs": {"p": two_plugs("c")}}),
    "mating.plugs_not_told": lambda: ask(two("A", "c"), two("B", "c", "aux"), fam={"plugs": {"p": two_plugs("c")}}),
    "mating.plug_left_hanging": lambda: ask(two("A"), but(A), fam={"plugs": {"p": two_plugs("d")}}),
    "mating.tail_compare": lambda: ask(but(A, number="A", tail={"length_mm": 200}), but(A)),
    "mating.tail_too_short": lambda: ask(but(A, number="A", tail={"length_mm": 200}), but(A, tail={"length_mm": 90})),
    "mating.bare_leads": lambda: ask(A, but(A, connector=None, tail={"ends": "bare"})),
    "mating.rows_differ": lambda: said_to_mate({"rows": [["1", "2", "3", "4"], ["5", "6", "7", "8"]]}),
    "mating.outline_differs": lambda: said_to_mate({"outline": "round"}),
    "mating.terminal_differs": lambda: said_to_mate({"terminal": {**BLADE, "width_mm": 1.5}}),
    "mating.sealing_differs": lambda: said_to_mate({"sealed": "no"}),
    "mating.wire_size_differs": thick_wires,
    "mating.wire_too_thick": lambda: bagged(new={"terminal": {**BLADE, "width_mm": 0.6}}),
    "mating.wire_over_differs": lambda: bagged({"outer_mm": 2.6}, terminal={"seal_mm": [1.2, 1.9]}),
    "mating.wires_together": lambda: bagged(twice=True, terminal={"wires": 1}),
    "mating.wires_together_not_stated": lambda: bagged(twice=True),
    "mating.wire_seals_lacking": lambda: bagged(new={"sealed": "yes"}, wire_seals=[{"count": 4}]),
    "mating.plating_differs": lambda: plated("tin"),
    "mating.plating_not_stated": lambda: plated(None),
    "mating.no_way": lambda: ask(A, but(A, connector="d"), PINS, connector("d", 8)),
    "mating.kit_lacks_wires": lambda: with_kit(moves={"1": "1"}),
    "mating.kit_joins_wires": lambda: with_kit(moves={str(at): str(max(2, at)) for at in range(1, 7)}),
    "mating.kit_lacks_seal": lambda: with_kit(seals=[4, 5]),
    "behaviour.came_with": lambda: ask(A, A),
    "behaviour.agrees": lambda: ask(A, but(A)),
    "behaviour.ladder_read_right": lambda: ask(
        A, but(A, contacts=[START, BACKUP, {**LADDER, "ohms": {"P": 4300, "R": 2000, "N": 1100, "D": 560}}]), reads=READS
    ),
    "behaviour.ladder_misread": lambda: ask(
        A, but(A, contacts=[START, BACKUP, {**LADDER, "ohms": {"P": 2000, "R": 4300, "N": 1100, "D": 620}}]), reads=READS
    ),
    "behaviour.moves_needed": lambda: ask(
        A,
        switch(
            "B",
            {"pins": ["3", "2"], "closed": ["P", "N"]},
            {"pins": ["1", "4"], "closed": ["R"]},
            LADDER,
            pins={**PINS, "1": "backup_feed", "3": "start_feed"},
        ),
    ),
    "behaviour.idle_pins": lambda: ask(A, switch("B", START, BACKUP, LADDER, pins={**PINS, "7": "not_connected"})),
    "behaviour.condition_met": lambda: on_condition("2011-06"),
    "behaviour.condition_not_met": lambda: on_condition("2009-06"),
    "behaviour.depends": lambda: on_condition(None),
    "behaviour.positions_lacking": lambda: ask(A, but(A), fam={"applications": [application("p", "A", lever=["P", "R", "N", "D", "S"])]}),
    "behaviour.positions_unclear": unclear,
    "behaviour.differs": lambda: ask(A, but(A, contacts=[START, {"pins": ["3", "4"], "closed": ["D"]}, LADDER])),
    "behaviour.rating_compare": lambda: ask(A, but(A)),
    "behaviour.rating_too_low": rated,
    "behaviour.supply_differs": lambda: powered(POWERED, {**POWERED, "supply": "1"}),
    "behaviour.supply_beyond": lambda: fed(12, 5),
    "behaviour.supply_volts_not_stated": lambda: powered({**POWERED, "supply_volts": [8, 18]}, {**POWERED, "supply_volts": [10, 14]}),
    "behaviour.signal_of_one_only": lambda: ask(
        switch("A", START, pins=WIRED, signals=[POWERED]), switch("B", START, {"pins": ["5", "8"], "closed": ["P"]}, pins=WIRED), WIRED
    ),
    "behaviour.signal_kind_differs": lambda: powered(POWERED, {**POWERED, "kind": "duty_percent"}),
    "behaviour.signal_value_differs": lambda: powered(POWERED, {**POWERED, "values": {"P": 9, "R": 2, "N": 3, "D": 4}}),
    "behaviour.signal_end_differs": lambda: ground("case"),
    "behaviour.signal_fact_differs": lambda: powered({**POWERED, "polarity": "high"}, {**POWERED, "polarity": "low"}),
    "behaviour.ladder_unsure": lambda: ask(A, but(A, contacts=[START, BACKUP, {**LADDER, "tolerance_percent": 20}]), reads=READS),
    "behaviour.ladder_without_wire": lambda: ask(A, but(A), ["1", "2", "3", "4", "5"], reads=READS),
    "behaviour.readings_overlap": lambda: powered({**POWERED, "tolerance": 1}, {**POWERED, "tolerance": 1}),
    "behaviour.tolerance_too_wide": lambda: ask(A, but(A, contacts=[START, BACKUP, {**LADDER, "tolerance_percent": 25}])),
    "behaviour.rating_not_stated": lambda: ask(A, but(A, pins={**PINS, "2": "park_neutral"})),
    "behaviour.contacts_not_stated": lambda: ask(A, but(A, contacts=None)),
    "behaviour.pin_not_stated": lambda: ask(A, but(A, contacts=[START, BACKUP])),
    "behaviour.left_to_companion": lamp_apart,
    "behaviour.pair_not_stated": lambda: ask(A, but(A, contacts=[START, {"pins": ["3", "4"]}, LADDER])),
    "behaviour.signal_not_stated": lambda: powered(POWERED, None),
    "behaviour.signal_kind_not_stated": lambda: powered(POWERED, {**POWERED, "kind": None}),
    "behaviour.signal_value_not_stated": lambda: powered(POWERED, {**POWERED, "values": {"P": 1}}),
    "behaviour.signal_end_not_stated": lambda: powered(POWERED, {**POWERED, "ground": None}),
    "behaviour.signal_fact_not_stated": lambda: powered({**POWERED, "supply_volts": 5}, POWERED),
    "behaviour.signal_twice": lambda: ask(powered_part("A"), powered_part("B", POWERED), WIRED),
    "behaviour.supply_not_stated": lambda: ask(powered_part("A"), but(powered_part("B"), signals=None), WIRED),
    "behaviour.supply_without_wire": lambda: ask(
        powered_part("A"), but(powered_part("B"), signals=[{**POWERED, "supply": "6"}]), ["5", "8"]
    ),
    "behaviour.moves_uncertain": lambda: ask(A, switch("B", {"pins": ["3", "2"], "closed": ["P", "N"]}, {"pins": ["1", "4"]}, LADDER)),
    "safety.path": lambda: ask(A, but(A, contacts=[{"pins": ["1", "2"], "closed": ["P", "N", "D"]}, BACKUP, LADDER])),
    "safety.facts_contradict": lambda: ask(A, but(A, contacts=[START, BACKUP, {**LADDER, "pins": ["5", "8"]}])),
    "safety.path_not_stated": lambda: ask(A, but(A, contacts=[{"pins": ["1", "2"]}, BACKUP, LADDER])),
    "safety.driven": lambda: driven(12),
    "safety.driven_not_known": lambda: driven(6),
    "safety.wire_not_named": lambda: ask(A, but(A), {**PINS, "7": None}),
    "safety.positions_not_listed": unlisted,
    "safety.module_cranks": cranked_by_a_module,
    "safety.lever_incomplete": lambda: ask(A, but(A), fam={"applications": [application("p", "A", lever=["P", "N"])]}),
}


@pytest.mark.parametrize("code", CODES)
def test_every_code_is_brought_about(code: str, monkeypatch: pytest.MonkeyPatch) -> None:
    verdict = given_up(monkeypatch) if code == "behaviour.search_given_up" else CASES[code]()
    found = [reason for reason in verdict.checked if reason.code == code]
    assert found, (code, [reason.code for reason in verdict.checked])
    for reason in found:
        holds_what_is_declared(reason)


def test_no_case_is_left_over() -> None:
    assert set(CASES) == set(CODES) - {"behaviour.search_given_up"}


@pytest.mark.slow
def test_every_reason_of_the_demo_book_holds_what_is_declared() -> None:
    fitter = Fitter(load(ROOT).book)
    reasons = {reason for seat in fitter.seats for one in fitter.candidates(seat) for reason in one.checked}
    assert len(reasons) > 300
    for reason in reasons:
        holds_what_is_declared(reason)


def holds_what_is_declared(reason: Reason) -> None:
    """Types as declared, JSON that says the same, and a sentence with every place filled."""
    detail = reason.detail
    for name, declared in types_of(type(detail)).items():
        assert is_a(getattr(detail, name), declared), (reason.code, name, getattr(detail, name), declared)
    data = reason_data(reason)
    assert json.loads(json.dumps(data)) == data
    assert list(data) == ["check", "code", "subject", "parameters", "text"] and set(parameters(detail)) == set(data["parameters"])
    words = reason_words(reason)
    assert words and "{" not in words and "None" not in words and words == words.strip() and not words.endswith(".")
    if reason.outcome is Outcome.AGAINST:
        brief = brief_words(reason)
        assert 0 < len(brief.split()) <= 6 and "{" not in brief and "None" not in brief, (reason.code, brief)
    if reason.outcome is Outcome.MISSING and detail.rank > Rank.NOTHING:
        assert reason.subject.side in (Side.ORIGINAL, Side.CANDIDATE, Side.BOTH) or reason.subject.names, "whom to ask"
    hash(reason)


def is_a(value: object, declared: Any) -> bool:
    """Whether a value is of a declared type, tuples and records looked into."""
    origin, inner = typing.get_origin(declared), typing.get_args(declared)
    if origin in (types.UnionType, typing.Union):
        return any(is_a(value, one) for one in inner)
    if origin is tuple:
        return isinstance(value, tuple) and not hasattr(value, "_fields") and all(is_a(one, inner[0]) for one in value)
    if declared is type(None):
        return value is None
    if declared is float:
        return isinstance(value, float | int) and not isinstance(value, bool)
    if declared is int:
        return isinstance(value, int) and not isinstance(value, bool)
    if not isinstance(value, declared):
        return False
    return (
        all(is_a(getattr(value, name), hint) for name, hint in typing.get_type_hints(declared).items())
        if hasattr(declared, "_fields")
        else True
    )


def test_every_code_has_a_message_and_every_message_a_code() -> None:
    assert list(catalogue().data["reasons"]) and set(catalogue().data["reasons"]) == set(CODES)


def fields_of(declared: Any) -> dict[str, Any]:
    """The records that a parameter is made of, by its type."""
    found = [declared, *(two for one in typing.get_args(declared) for two in fields_of(one).values())]
    return {str(one): one for one in found}


@pytest.mark.parametrize("code", CODES)
def test_the_places_of_a_message_are_the_parameters_of_its_code(code: str) -> None:
    """Every place is a parameter, or a field of one; every parameter is said, but for those that only other programs need."""
    declared = types_of(CODES[code])
    names = set(catalogue().data["names"]) | {"side"}
    said = set()
    for place in places_of(catalogue().data["reasons"][code]):
        first, *rest = place.split(".")
        assert first in declared or first in names, place
        if rest:
            records = [one for one in fields_of(declared[first]).values() if hasattr(one, "_fields")]
            assert any(rest[0] in record._fields for record in records), place
        said.add(first)
    assert set(declared) <= said, set(declared) - said


def test_a_code_and_its_name_say_which_check_it_belongs_to() -> None:
    for code, declared in CODES.items():
        assert code.split(".")[0] == declared.check and issubclass(declared, Detail) and (declared.__doc__ or "").strip()
        assert (declared.rank > Rank.NOTHING) <= (declared.outcome is Outcome.MISSING), "only what is missing settles anything"


def test_units_stand_in_the_names() -> None:
    """A figure that is no count says what it is measured in."""
    units = ("_mm", "_mm2", "_deg", "_volts", "_percent", "_amps", "ohms")
    exempt = {("behaviour.signal_value_differs", "tolerance")}
    for code, declared in CODES.items():
        for name, hint in types_of(declared).items():
            if float in fields_of(hint).values():
                assert name.endswith(units) or (code, name) in exempt, (code, name)
    for record in vars(codes).values():
        if hasattr(record, "_fields") and record is not codes.SignalValue:
            for name, hint in typing.get_type_hints(record).items():
                if float in fields_of(hint).values():
                    assert name.endswith(units), (record, name)


def test_enumerations_are_text_for_other_programs() -> None:
    detail = codes.HazardPath(codes.Danger.STARTER, "1", "start_feed", "2", "start_out", ("D",))
    assert parameters(detail)["danger"] == "starter_in_gear" and not isinstance(parameters(detail)["danger"], StrEnum)


def test_a_book_of_nothing_has_no_reasons() -> None:
    assert find_seats(book(connector("c", 2))) == ()
