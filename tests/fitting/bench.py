"""Situations of a bench, each as a small book of its own: what came off, what is in the hand, and what the answer is when one reckons it by
hand. What the trade does in each is common practice, no source.

The part that came off is ``A``, that in the hand ``B``; a situation says only what of them, of the plug, of the vehicle and of kits and
connectors is not as in :data:`PLAIN`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from tests.making import application, connector, family, mount_for, part

Node = dict[str, Any]

PINS = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out"}
START, BACKUP = {"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}
PLAIN: Node = {"pins": PINS, "contacts": [START, BACKUP]}
BLADE: Node = {"style": "blade", "width_mm": 2.8, "on_switch": "male"}
LEVER = ["P", "R", "N", "D"]


_PLAIN: Mapping[str, Any] = MappingProxyType({})


class Situation(NamedTuple):
    """``says`` is the verdict, and for what decides it, or has to be told, a reason's code; ``needs`` what is needed beside the plug's kits
    and of them, as ``kind:what``; ``vehicle`` is what is known of the vehicle."""

    notion: int
    name: str
    says: str
    code: str = ""
    a: Mapping[str, Any] = _PLAIN
    b: Mapping[str, Any] = _PLAIN
    plug: Mapping[str, Any] = _PLAIN
    vehicle: Mapping[str, Any] = _PLAIN
    entries: tuple[Node, ...] = ()
    more: Mapping[str, Any] = _PLAIN
    needs: tuple[str, ...] = ()
    others: tuple[Node, ...] = ()
    moves: dict[str, str] | None = None


def entries_of(one: Situation) -> list[Node]:
    """The book of a situation."""
    own = {entry["id"]: entry for entry in (housing("c"), housing("d", 4, outline="round"), *one.entries)}
    parts = [made(part(name, **{**PLAIN, **said})) for name, said in (("A", one.a), ("B", one.b))]
    parts += [made(other) for other in one.others]
    plug = made({"connector": "c", "wires": wires(), **one.plug})
    facts = {"plugs": {"p": plug}, "applications": [application("p", "A", **one.vehicle)], **one.more}
    return [*own.values(), family("f", parts, **facts)]


def made(node: Node) -> Node:
    """A part or plug without its one connector where several are said of it, and without what is said to be ``None``."""
    return {key: value for key, value in node.items() if value is not None and not (key == "connector" and "connectors" in node)}


def housing(name: str, count: int = 8, **more: Any) -> Node:
    return connector(name, count, terminal=BLADE, sealed="no", **more)


def wires(**of: Node) -> Node:
    """The plain plug's wires, with more said of some of them: ``c3={...}``."""
    return {cavity: {"circuit": circuit, **of.get(f"c{cavity}", {})} for cavity, circuit in PINS.items()}


def kit(name: str = "k", old: Any = "c", new: str = "e", moves: Node | None = None, **more: Any) -> Node:
    plain = {"from": old, "to": new, "moves": moves or {pin: pin for pin in PINS}, "seals": [], "blanks": 8}
    return {"kind": "kit", "id": name, "number": f"K-{name}", "title": name, **plain, **more}


# Several connectors ------------------------------------------------------------------------------------------------------------

TWO = {"main": "c", "lamp": "d"}
OF_TWO = {"main.1": "start_feed", "main.2": "start_out", "lamp.1": "backup_feed", "lamp.2": "backup_out"}
TWO_CONTACTS = [{"pins": ["main.1", "main.2"], "closed": ["P", "N"]}, {"pins": ["lamp.1", "lamp.2"], "closed": ["R"]}]
PAIR: Node = {"connectors": TWO, "pins": OF_TWO, "contacts": TWO_CONTACTS}
TWO_WIRED: Node = {"connectors": TWO, "wires": {pin: {"circuit": name} for pin, name in OF_TWO.items()}}
MAIN: Node = {"pins": {"1": "start_feed", "2": "start_out"}, "contacts": [START]}
LAMP: Node = {
    "connector": "d",
    "mount": None,
    "pins": {"1": "backup_feed", "2": "backup_out"},
    "contacts": [{"pins": ["1", "2"], "closed": ["R"]}],
}
ALIKE: Node = {**PAIR, "connectors": {"main": "c", "lamp": "c"}}
ALIKE_WIRED: Node = {**TWO_WIRED, "connectors": {"main": "c", "lamp": "c"}}


def tail(length: float | None, **more: Any) -> Node:
    own = {**({"length_mm": length} if length else {}), **more}
    return {**PAIR, "connectors": {"main": "c", "lamp": {"connector": "d", "tail": own}}}


def pair(name: str, says: str, code: str = "", a: Node = PAIR, b: Node = PAIR, plug: Node = TWO_WIRED, **more: Any) -> Situation:
    return Situation(1, name, says, code, a, b, plug, **more)


GROUNDED = [{"pins": ["lamp.2", "case"], "closed": ["D"]}]

SEVERAL = (
    pair("two plugs, and the new switch has a connector for each", "straight"),
    pair("the new switch has no connector for the lamps' plug", "no", "mating.plug_left_hanging", b=MAIN),
    pair(
        "the new switch has a third connector that gets no plug",
        "straight",
        "mating.connector_unused",
        b={**PAIR, "connectors": {**TWO, "spare": "d2"}},
        entries=(housing("d2", 2, outline="square"),),
    ),
    pair(
        "the lamps' connector has its contact in D",
        "no",
        "behaviour.differs",
        b={**PAIR, "contacts": [TWO_CONTACTS[0], {**TWO_CONTACTS[1], "closed": ["D"]}]},
    ),
    pair(
        "lamps closed in R and over the housing in D: two connectors are one network",
        "no",
        "behaviour.differs",
        b={**PAIR, "contacts": [*TWO_CONTACTS, *GROUNDED]},
    ),
    pair(
        "the makers call the connectors otherwise: they go by what mates",
        "straight",
        "mating.plug_goes_on",
        b={
            "connectors": {"x": "c", "y": "d"},
            "pins": {"x.1": "start_feed", "x.2": "start_out", "y.1": "backup_feed", "y.2": "backup_out"},
            "contacts": [{"pins": ["x.1", "x.2"], "closed": ["P", "N"]}, {"pins": ["y.1", "y.2"], "closed": ["R"]}],
        },
    ),
    pair("two plugs alike: swapped the engine would crank in R", "unknown", "mating.plugs_not_told", a=ALIKE, b=ALIKE, plug=ALIKE_WIRED),
    pair(
        "two plugs alike, and either way the same is closed",
        "straight",
        "mating.plugs_alike",
        a={
            "connectors": {"l": "c", "r": "c"},
            "pins": {"l.1": "park_signal", "l.2": "ground", "r.1": "park_signal", "r.2": "ground"},
            "contacts": [{"pins": [f"{n}.1", f"{n}.2"], "closed": ["P"]} for n in "lr"],
        },
        b={
            "connectors": {"l": "c", "r": "c"},
            "pins": {"l.1": "park_signal", "l.2": "ground", "r.1": "park_signal", "r.2": "ground"},
            "contacts": [{"pins": [f"{n}.1", f"{n}.2"], "closed": ["P"]} for n in "lr"],
        },
        plug={
            "connectors": {"l": "c", "r": "c"},
            "wires": {
                "l.1": {"circuit": "park_signal"},
                "l.2": {"circuit": "ground"},
                "r.1": {"circuit": "park_signal"},
                "r.2": {"circuit": "ground"},
            },
        },
    ),
    pair(
        "a kit renews one of the two plugs",
        "with_parts",
        a=PAIR,
        b={**PAIR, "connectors": {"main": "e", "lamp": "d"}},
        entries=(housing("e", outline="square"), kit()),
        needs=("kit:k",),
    ),
    pair("the tail of the lamps' connector is shorter than it was", "no", "mating.tail_too_short", a=tail(240), b=tail(180)),
    pair("the tail is longer", "straight", a=tail(240), b=tail(300)),
    pair("how long the new tail is nobody says: it is told", "straight", "mating.tail_compare", a=tail(240), b=PAIR),
    pair("the new part has bare leads for the lamps", "no", "mating.bare_leads", a=tail(240), b=tail(240, ends="bare")),
    pair(
        "one connector as a list of one, against one without a name",
        "straight",
        a={},
        b={
            "connectors": {"main": "c"},
            "pins": {f"main.{pin}": name for pin, name in PINS.items()},
            "contacts": [{"pins": ["main.1", "main.2"], "closed": ["P", "N"]}, {"pins": ["main.3", "main.4"], "closed": ["R"]}],
        },
        plug={},
    ),
    pair("the switch is inside the gearbox, behind a connector in the case", "straight", a={"inside": "yes"}, b={"inside": "yes"}, plug={}),
    pair(
        "the connector in the case is another", "no", "mating.no_way", a={"inside": "yes"}, b={"inside": "yes", "connector": "d"}, plug={}
    ),
)

# Needs -------------------------------------------------------------------------------------------------------------------------


def need(name: str, says: str, code: str = "", **more: Any) -> Situation:
    return Situation(2, name, says, code, **more)


def follows(*needs: Node) -> Node:
    return {"superseded_by": [{"number": "B", "needs": list(needs)}]}


CROSSED: Node = {
    "pins": {"1": "backup_feed", "2": "start_out", "3": "start_feed", "4": "backup_out"},
    "contacts": [{"pins": ["3", "2"], "closed": ["P", "N"]}, {"pins": ["1", "4"], "closed": ["R"]}],
}

NEEDS = (
    need("nothing is needed", "straight", a=follows()),
    need(
        "two bolts, new each time",
        "with_parts",
        "mating.also_needed",
        b={"needs": [{"item": "bolt", "count": 2, "once": "yes"}]},
        needs=("item:bolt",),
    ),
    need(
        "the module has to learn the new switch",
        "with_parts",
        "mating.also_needed",
        b={"needs": [{"work": "relearn", "with": "scan tool"}]},
        needs=("work:relearn",),
    ),
    need("the maker's letter asks for an o-ring", "with_parts", a=follows({"item": "o-ring"}), needs=("item:o-ring",)),
    need("the maker's letter asks for a bracket by its number", "with_parts", a=follows({"part": "TB-1"}), needs=("part:TB-1",)),
    need("a seal without a kit", "with_parts", b={"needs": [{"seal": 4}]}, needs=("seal:4",)),
    need("a kit that the part itself asks for", "with_parts", b={"needs": [{"kit": "k"}]}, entries=(kit(new="c"),), needs=("kit:k",)),
    need(
        "a kit that only the maker's letter names: the plug goes on without", "straight", a=follows({"kit": "k"}), entries=(kit(new="c"),)
    ),
    need(
        "one number became two, each on a plug of its own",
        "with_parts",
        a=PAIR,
        b={**MAIN, "goes_with": ["C"]},
        plug=TWO_WIRED,
        others=(part("C", **LAMP),),
        needs=("part:C",),
    ),
    need(
        "one became two, and the second lights the lamps in D",
        "no",
        "behaviour.differs",
        a=PAIR,
        b={**MAIN, "goes_with": ["C"]},
        plug=TWO_WIRED,
        others=(part("C", **{**LAMP, "contacts": [{"pins": ["1", "2"], "closed": ["D"]}]}),),
    ),
    need(
        "one became two, and nobody has metered the second",
        "unknown",
        a=PAIR,
        b={**MAIN, "goes_with": ["C"]},
        plug=TWO_WIRED,
        others=(part("C", **{**LAMP, "contacts": None}),),
    ),
    need(
        "the lamps are a switch of their own now, and no plug is there for it",
        "unknown",
        "behaviour.left_to_companion",
        b={**MAIN, "goes_with": ["C"]},
        others=(part("C", **LAMP),),
    ),
    need("what it goes with is not in the book", "unknown", "mating.companion_not_in_book", b={"goes_with": ["X-9"]}),
    need("two became one", "straight", a={**MAIN, "goes_with": ["C"]}, b=PAIR, plug=TWO_WIRED, others=(part("C", **LAMP),)),
    need(
        "one of two became another; the other one stays on the vehicle",
        "straight",
        a={**MAIN, "goes_with": ["C"]},
        b=MAIN,
        plug=TWO_WIRED,
        others=(part("C", **LAMP),),
    ),
    need("sold only in a set", "with_parts", b={"sold_as": {"set": "S-1"}}, needs=("set:S-1",)),
    need("sold only as an assembly", "with_parts", b={"sold_as": {"assembly": "AS-1"}}, needs=("assembly:AS-1",)),
    need("bolts and wires to move", "rewire", b={**CROSSED, "needs": [{"item": "bolt"}]}, moves={"1": "3", "3": "1"}),
    need(
        "needs do not mend what is wrong",
        "no",
        "behaviour.differs",
        b={"contacts": [START, {**BACKUP, "closed": ["D"]}], "needs": [{"work": "relearn"}]},
    ),
)

# Conditions --------------------------------------------------------------------------------------------------------------------


def cond(name: str, says: str, code: str = "", **more: Any) -> Situation:
    return Situation(4, name, says, code, **more)


def only(**when: Any) -> Node:
    return {"superseded_by": [{"number": "B", "when": {**when, "stamped_at": "the door"}}]}


IN_D = [START, {**BACKUP, "closed": ["D"]}]


def design(contacts: Any, **when: Any) -> Node:
    return {"revisions": [{"when": when, "contacts": contacts}]}


CONDITIONS = (
    cond("a successor for the left-hand cars, on one", "straight", a=only(steering="left"), vehicle={"when": {"steering": "left"}}),
    cond(
        "a successor for the left-hand cars, on a right-hand one",
        "no",
        "behaviour.condition_not_met",
        a=only(steering="left"),
        vehicle={"when": {"steering": "right"}},
    ),
    cond("a successor for the left-hand cars, and nobody looked", "unknown", "behaviour.depends", a=only(steering="left")),
    cond(
        "by serial number, within",
        "straight",
        a=only(serial={"from": "100", "to": "199"}),
        vehicle={"when": {"serial": {"from": "150", "to": "160"}}},
    ),
    cond(
        "by serial number, beyond",
        "no",
        "behaviour.condition_not_met",
        a=only(serial={"from": "100", "to": "199"}),
        vehicle={"when": {"serial": {"from": "200"}}},
    ),
    cond(
        "by serial number, on both sides of the change",
        "unknown",
        "behaviour.depends",
        a=only(serial={"from": "100"}),
        vehicle={"when": {"serial": {"from": "50", "to": "150"}}},
    ),
    cond("by the VIN, one of a list", "straight", a=only(vin=["WX1", "WX2"]), vehicle={"when": {"vin": ["WX2"]}}),
    cond("by the gearbox's number, not read", "unknown", "behaviour.depends", a=only(gearbox_serial={"to": "T499"})),
    cond(
        "by the month of building, in time",
        "straight",
        a=only(built={"to": "2009-05"}),
        vehicle={"when": {"built": {"from": "2008-01", "to": "2009-02"}}},
    ),
    cond(
        "by the month of building, too late",
        "no",
        "behaviour.condition_not_met",
        a=only(built={"to": "2009-05"}),
        vehicle={"when": {"built": {"from": "2009-06"}}},
    ),
    cond(
        "built for another country",
        "no",
        "behaviour.condition_not_met",
        a=only(built_for="the north"),
        vehicle={"when": {"built_for": "the south"}},
    ),
    cond("by a mark that nobody has looked for", "unknown", "behaviour.depends", a=only(marked="a green dot")),
    cond("the part in the hand is of two designs, and one is wrong", "unknown", "behaviour.depends", b=design(IN_D, marked="a dot")),
    cond("the part in the hand is of two designs, and both will do", "straight", b=design([BACKUP, START], marked="a dot")),
    cond(
        "only the later design is written down, and it would do",
        "unknown",
        "behaviour.depends",
        b={"contacts": None, **design([START, BACKUP], marked="a dot")},
    ),
    cond(
        "each design is written down by itself, and both would do",
        "straight",
        b={"contacts": None, "revisions": [{"when": {"marked": mark}, "contacts": [START, BACKUP]} for mark in ("one dot", "two dots")]},
    ),
    cond("both designs are wrong", "no", b={"contacts": IN_D, **design(IN_D, marked="a dot")}),
    cond(
        "what came off is of two designs, and the vehicle tells which",
        "straight",
        a=design(IN_D, built={"from": "2010-01"}),
        vehicle={"when": {"built": {"to": "2009-12"}}},
    ),
    cond(
        "what came off is of two designs, and the vehicle has the other",
        "no",
        "behaviour.differs",
        a=design(IN_D, built={"from": "2010-01"}),
        vehicle={"when": {"built": {"from": "2010-01"}}},
    ),
    cond("what came off is of two designs, and nobody looked", "unknown", "behaviour.depends", a=design(IN_D, built={"from": "2010-01"})),
    cond(
        "a wire that some vehicles lack, and the new part serves it alike",
        "straight",
        plug={"wires": {**wires(), "5": {"circuit": "park_signal"}}},
        vehicle={"optional_cavities": ["5"]},
        a={"pins": {**PINS, "5": "park_signal"}, "contacts": [START, BACKUP, {"pins": ["5", "case"], "closed": ["P"]}]},
        b={"pins": {**PINS, "5": "park_signal"}, "contacts": [START, BACKUP, {"pins": ["5", "case"], "closed": ["P"]}]},
    ),
    cond(
        "a wire that some vehicles lack, and the new part has no pin for it",
        "unknown",
        "behaviour.depends",
        plug={"wires": {**wires(), "5": {"circuit": "park_signal"}}},
        vehicle={"optional_cavities": ["5"]},
        a={"pins": {**PINS, "5": "park_signal"}, "contacts": [START, BACKUP, {"pins": ["5", "case"], "closed": ["P"]}]},
    ),
)

# Electronics -------------------------------------------------------------------------------------------------------------------

POWERED = {"1": "supply", "2": "signal_ground", "3": "range_signal"}
OUT: Node = {
    "pin": "3",
    "supply": "1",
    "ground": "2",
    "kind": "volts",
    "values": {"P": 1, "R": 2, "N": 3, "D": 4},
    "tolerance": 0.2,
    "supply_volts": [4.5, 5.5],
    "output": "push_pull",
    "polarity": "high",
    "ratiometric": "no",
}
DUTY: Node = {
    "pin": "3",
    "supply": "1",
    "ground": "2",
    "kind": "duty_percent",
    "values": {"P": 10, "R": 30, "N": 50, "D": 70},
    "tolerance": 2,
    "supply_volts": [8, 16],
    "output": "open_low",
    "polarity": "low",
    "frequency_hz": 125,
    "pull_up_ohms": 1000,
    "pull_up_volts": 12,
}
FRAMES: Node = {
    "pin": "3",
    "supply": "1",
    "ground": "2",
    "kind": "serial",
    "values": {"P": 1, "R": 2, "N": 3, "D": 4},
    "supply_volts": [8, 16],
    "output": "open_low",
    "protocol": "LW-2",
}


def live(name: str, says: str, code: str = "", a: Node = OUT, b: Node | None = None, gives: Any = None, **more: Any) -> Situation:
    own = {"pins": POWERED, "contacts": []}
    supply = {"circuit": "supply", **({"gives_volts": gives} if gives else {})}
    wired = {"wires": {"1": supply, "2": {"circuit": "signal_ground"}, "3": {"circuit": "range_signal"}}}
    new = {key: value for key, value in {**a, **(b or {})}.items() if value is not None}
    return Situation(5, name, says, code, {**own, "signals": [a]}, {**own, "signals": [new]}, wired, **more)


def diode(a: Any, b: Any, name: str, says: str, code: str = "") -> Situation:
    pins = {"1": "park_signal", "2": "ground"}
    plug = {"wires": {pin: {"circuit": circuit} for pin, circuit in pins.items()}}
    return Situation(5, name, says, code, {"pins": pins, "contacts": a}, {"pins": pins, "contacts": b}, plug)


THERE = [{"pins": ["1", "2"], "closed": ["P"], "one_way": "yes"}]
BACK = [{"pins": ["2", "1"], "closed": ["P"], "one_way": "yes"}]
BARE = [{"pins": ["1", "2"], "closed": ["P"]}]

ELECTRONICS = (
    live("the same volts from the same supply", "straight", gives=[4.9, 5.1]),
    live("made for another supply than the vehicle gives", "no", "behaviour.supply_beyond", b={"supply_volts": [8, 16]}, gives=[4.9, 5.1]),
    live("a wider supply than it had", "straight", b={"supply_volts": [4, 16]}, gives=[4.9, 5.1]),
    live(
        "what it is fed with nobody says, and it is made for another range",
        "no",
        "behaviour.signal_fact_differs",
        b={"supply_volts": [8, 16]},
    ),
    live(
        "on which supply it works is not said of the new one",
        "unknown",
        "behaviour.signal_fact_not_stated",
        b={"supply_volts": None},
        gives=[4.9, 5.1],
    ),
    live("a share of the supply in the place of volts", "no", "behaviour.signal_fact_differs", b={"ratiometric": "yes"}, gives=[4.9, 5.1]),
    live(
        "pulls down only, where it was driven both ways", "no", "behaviour.signal_fact_differs", b={"output": "open_low"}, gives=[4.9, 5.1]
    ),
    live("how it drives is not said of the new one", "unknown", "behaviour.signal_fact_not_stated", b={"output": None}, gives=[4.9, 5.1]),
    live("other volts in D", "no", "behaviour.signal_value_differs", b={"values": {"P": 1, "R": 2, "N": 3, "D": 4.6}}, gives=[4.9, 5.1]),
    live("the same duty cycle", "straight", a=DUTY, gives=[11, 15]),
    live("another carrier", "no", "behaviour.signal_fact_differs", a=DUTY, b={"frequency_hz": 500}, gives=[11, 15]),
    live("the other level counts", "no", "behaviour.signal_fact_differs", a=DUTY, b={"polarity": "high"}, gives=[11, 15]),
    live("pulled up to another voltage", "no", "behaviour.signal_fact_differs", a=DUTY, b={"pull_up_volts": 5}, gives=[11, 15]),
    live("a duty cycle where volts were", "no", "behaviour.signal_kind_differs", b={"kind": "duty_percent"}, gives=[4.9, 5.1]),
    live("frames by the same protocol", "straight", a=FRAMES, gives=[11, 15]),
    live("frames by another protocol", "no", "behaviour.signal_fact_differs", a=FRAMES, b={"protocol": "LW-3"}, gives=[11, 15]),
    live("by which protocol nobody says", "unknown", "behaviour.signal_fact_not_stated", a=FRAMES, b={"protocol": None}, gives=[11, 15]),
    diode(THERE, THERE, "a diode the same way round", "straight"),
    diode(THERE, BACK, "a diode the other way round: its two wires change places", "rewire", "behaviour.moves_needed"),
    diode(THERE, BARE, "a plain contact where a diode was", "no", "behaviour.differs"),
    diode(BARE, THERE, "a diode where a plain contact was", "no", "behaviour.differs"),
)

# Terminals and wires -----------------------------------------------------------------------------------------------------------

NARROW: Node = {"style": "blade", "width_mm": 0.6, "on_switch": "male"}


def over(name: str, says: str, code: str = "", k: Node | None = None, e: Node | None = None, **more: Any) -> Situation:
    """A kit renews the plug ``c`` by ``e``, on which the new part goes."""
    supplied = {**housing("e", outline="square"), **(e or {})}
    return Situation(
        6,
        name,
        says,
        code,
        **{
            "b": {"connector": "e"},
            "entries": (supplied, {**kit(), **(k or {})}),
            "needs": ("kit:k",) if says == "with_parts" else (),
            **more,
        },
    )


THICK = {"wires": wires(**{f"c{pin}": {"size_mm2": 4} for pin in PINS})}
FINE = {"wires": wires(**{f"c{pin}": {"size_mm2": 0.75} for pin in PINS})}
SHARED = {"wires": {**wires(), "2": [{"circuit": "start_out", "size_mm2": 0.75}, {"circuit": "start_out", "size_mm2": 0.75}]}}
SEALED = {"sealed": "yes"}
GOLD, TIN = {"terminal": {**BLADE, "plating": "gold"}}, {"terminal": {**BLADE, "plating": "tin"}}
WET = (housing("c") | SEALED, housing("e", outline="square") | SEALED)

TERMINALS = (
    over("a kit, wires of the size that its terminals take", "with_parts", plug=FINE, e={"terminal": {**BLADE, "wire_mm2": [0.5, 1]}}),
    over("4 mm2 on pins of 0.6 mm", "no", "mating.wire_too_thick", plug=THICK, e={"terminal": NARROW}),
    over(
        "wires thicker than the kit's terminals are made for",
        "no",
        "mating.wire_size_differs",
        plug=THICK,
        e={"terminal": {**BLADE, "wire_mm2": [0.5, 1]}},
    ),
    over(
        "what the kit's terminals take is said with the kit",
        "with_parts",
        plug=THICK,
        e={"terminal": {**BLADE, "wire_mm2": [0.5, 1]}},
        k={"terminal": {"wire_mm2": [2.5, 5]}},
    ),
    over(
        "two wires in one cavity, and the terminal takes two",
        "with_parts",
        plug=SHARED,
        e={"terminal": {**BLADE, "wires": 2, "wire_mm2": [0.5, 2]}},
    ),
    over(
        "two wires in one cavity, and the terminal takes one",
        "no",
        "mating.wires_together",
        plug=SHARED,
        e={"terminal": {**BLADE, "wires": 1, "wire_mm2": [0.5, 2]}},
    ),
    over(
        "two wires in one cavity, and nobody says what it takes",
        "unknown",
        "mating.wires_together_not_stated",
        plug=SHARED,
        e=SEALED,
        k={"seals": [4]},
        a={},
        entries=(WET[0], WET[1], kit(seals=[4])),
    ),
    over(
        "a seal for each wire by its size",
        "with_parts",
        plug=FINE,
        k={},
        entries=(
            *WET,
            {
                key: value
                for key, value in kit(wire_seals=[{"count": 4, "colour": "green", "wire_mm2": [0.5, 1]}]).items()
                if key != "seals"
            },
        ),
    ),
    over(
        "three seals of that size for four wires",
        "no",
        "mating.wire_seals_lacking",
        plug=FINE,
        entries=(
            *WET,
            {
                key: value
                for key, value in kit(wire_seals=[{"count": 3, "colour": "green", "wire_mm2": [0.5, 1]}]).items()
                if key != "seals"
            },
        ),
    ),
    over(
        "wires too thick over the insulation for the seals",
        "no",
        "mating.wire_over_differs",
        plug={"wires": wires(c1={"outer_mm": 3.6})},
        e={"terminal": {**BLADE, "seal_mm": [1.4, 2.4]}},
    ),
    over("gold in the kit, gold in the switch", "with_parts", e=GOLD, plug={"plating": "tin"}),
    Situation(
        6, "gold pins on the tin of the plug that stays", "no", "mating.plating_differs", b={"plating": "gold"}, plug={"plating": "tin"}
    ),
    Situation(
        6,
        "gold pins, and the plug is renewed in gold",
        "with_parts",
        b={"connector": "e"},
        plug={"plating": "tin"},
        entries=({**housing("e", outline="square"), **GOLD}, kit(terminal={"plating": "gold"})),
        needs=("kit:k",),
    ),
    Situation(6, "tin on tin", "straight", a={"plating": "tin"}, b={"plating": "tin"}),
    Situation(
        6,
        "one kit number for two old plugs, and this is the second",
        "with_parts",
        b={"connector": "e"},
        entries=(housing("e", outline="square"), kit(old=["d", "c"])),
        needs=("kit:k",),
    ),
    Situation(
        6,
        "a housing with wide blades for two of the cavities, and the other all narrow",
        "no",
        "mating.terminal_differs",
        b={"connector": "e"},
        entries=({**housing("c"), "terminals": {"1": {"width_mm": 6.3}}}, {**housing("e"), "mates": ["c"]}),
    ),
    Situation(
        6,
        "both housings mix the same blades in the same places",
        "straight",
        b={"connector": "e"},
        entries=(
            {**housing("c"), "terminals": {"1": {"width_mm": 6.3}}},
            {**housing("e"), "mates": ["c"], "terminals": {"1": {"width_mm": 6.3}}},
        ),
    ),
)

# How things go together --------------------------------------------------------------------------------------------------------

BOSS = mount_for(LEVER)
FED: Node = {"pins": {"1": "start_feed", "2": "start_out", "4": "backup_out"}, "contacts": [START, {"pins": ["1", "4"], "closed": ["R"]}]}
"""One feed for the starter and the lamps."""
FANNED: Node = {
    "connector": "e",
    "pins": {"1": "start_feed", "2": "start_out", "5": "backup_feed", "4": "backup_out"},
    "contacts": [START, {"pins": ["5", "4"], "closed": ["R"]}],
}
THREE = {"wires": {pin: about for pin, about in wires().items() if pin != "3"}}
WIDE = housing("e", outline="square")


def fan(feed: Any) -> Node:
    return {
        key: value for key, value in kit(joins="plug_in", moves={"1": feed, "2": "2", "4": "4"}).items() if key not in ("seals", "blanks")
    }


LEFT_OUT = {"snap_in": {"bolts"}, "": {"shaft"}}
"""What is not there of what snaps in, and of what nobody says anything of."""


def moved(a: str | None, b: str | None, name: str, says: str, code: str = "") -> Situation:
    mounts = {}
    for called, motion in (("one", a), ("two", b)):
        left = {key: value for key, value in BOSS.items() if key not in LEFT_OUT.get(motion or "", set()) or motion is None}
        mounts[called] = {**left, **({"motion": motion} if motion else {})}
    return Situation(8, name, says, code, {"mount": "one"}, {"mount": "two"}, more={"mounts": mounts})


TOGETHER = (
    Situation(
        8,
        "an adapter lead goes between, and needs no seal",
        "with_parts",
        "mating.adapter_needed",
        b={"connector": "e"},
        entries=(*WET, {key: value for key, value in kit(joins="plug_in").items() if key not in ("seals", "blanks")}),
        needs=("kit:k",),
        moves={},
    ),
    Situation(
        8,
        "a ready lead is spliced on",
        "with_parts",
        "mating.adapter_needed",
        b={"connector": "e"},
        entries=(*WET, {key: value for key, value in kit(joins="splice").items() if key not in ("seals", "blanks")}),
        needs=("kit:k",),
    ),
    Situation(
        8,
        "a plug that is cut on, and its seals are not stated",
        "unknown",
        b={"connector": "e"},
        entries=(*WET, {key: value for key, value in kit(joins="cut").items() if key not in ("seals", "blanks")}),
    ),
    Situation(
        8,
        "a lead that fans the one feed out to two pins",
        "with_parts",
        a=FED,
        b=FANNED,
        plug=THREE,
        entries=(WIDE, fan(["1", "5"])),
        needs=("kit:k",),
    ),
    Situation(
        8, "the same lead without the second branch: the lamps get no feed", "no", a=FED, b=FANNED, plug=THREE, entries=(WIDE, fan("1"))
    ),
    moved("fork", "fork", "a fork moves both", "straight"),
    moved("fork", "gear", "a gear in the place of a fork", "no", "mount.motion_differs"),
    moved("shaft", "slider", "a slider in the place of the shaft", "no", "mount.motion_differs"),
    moved("fork", None, "a hole for the shaft in the place of a fork", "no", "mount.motion_differs"),
    moved("fork", "", "what moves the new one nobody says", "unknown", "mount.motion_not_stated"),
    moved("snap_in", "snap_in", "both snap in, without bolts", "straight"),
    moved("snap_in", "shaft", "one snaps in, the other bolts on", "no", "mount.motion_differs"),
    Situation(8, "set by a gauge where it was set by a pin", "straight", a={"set_by": "pin"}, b={"set_by": "gauge"}),
    Situation(
        8,
        "one bolt with a torque of its own",
        "straight",
        more={"mounts": {"boss": {**BOSS, "bolts": [{**BOSS["bolts"][0], "torque_nm": 5}, BOSS["bolts"][1]]}}},
    ),
    Situation(8, "a used one", "straight", b={"condition": "used"}),
    Situation(8, "one of which counterfeits are about", "straight", b={"counterfeit_marks": ["no dot after the number"]}),
)

# The far end of a safety wire ----------------------------------------------------------------------------------------------------

FIVE: Node = {"pins": {**PINS, "5": "not_connected", "6": "not_connected"}, "contacts": [START, BACKUP]}
LOOPED = {"loops": [["5", "6"]]}


def far(name: str, says: str, code: str = "", **more: Any) -> Situation:
    return Situation(3, name, says, code, **more)


FAR_END = (
    far("a jumper in the plug between cavities without pins", "straight", plug=LOOPED),
    far("a jumper in the plug, and the new part has the lamps' contact there", "straight", a=FIVE, b=FIVE, plug=LOOPED),
    far(
        "a jumper in the plug joins what is apart in the new part: the engine cranks in D",
        "no",
        a=FIVE,
        b={
            "pins": {**PINS, "5": "start_feed", "6": "start_out"},
            "contacts": [START, BACKUP, {"pins": ["1", "5"], "closed": ["D"]}, {"pins": ["6", "2"], "closed": ["D"]}],
        },
        plug=LOOPED,
    ),
    far(
        "a kit whose plug has no jumper where it is not needed",
        "with_parts",
        b={"connector": "e"},
        plug=LOOPED,
        entries=(housing("e", outline="square"), kit()),
        needs=("kit:k",),
    ),
    far(
        "a kit without the jumper over which the lamps are fed: their wire moves",
        "rewire",
        a={"pins": {**PINS, "4": "not_connected", "5": "backup_out"}, "contacts": [START, {"pins": ["3", "5"], "closed": ["R"]}]},
        b={
            "connector": "e",
            "pins": {**PINS, "4": "not_connected", "5": "backup_out"},
            "contacts": [START, {"pins": ["3", "5"], "closed": ["R"]}],
        },
        plug={"loops": [["4", "5"]]},
        entries=(housing("e", outline="square"), kit()),
        moves={"4": "5"},
    ),
    far(
        "the same kit with the jumper in its plug",
        "with_parts",
        a={"pins": {**PINS, "4": "not_connected", "5": "backup_out"}, "contacts": [START, {"pins": ["3", "5"], "closed": ["R"]}]},
        b={
            "connector": "e",
            "pins": {**PINS, "4": "not_connected", "5": "backup_out"},
            "contacts": [START, {"pins": ["3", "5"], "closed": ["R"]}],
        },
        plug={"loops": [["4", "5"]]},
        entries=(housing("e", outline="square"), kit(loops=[["4", "5"]])),
        needs=("kit:k",),
    ),
    far("the switch closes the ground side of the relay", "straight", plug={"cranks": {"side": "ground"}}),
)

# What positions mean -------------------------------------------------------------------------------------------------------------


def meant(name: str, says: str, code: str = "", **more: Any) -> Situation:
    return Situation(7, name, says, code, **more)


TWO_REVERSES = ["P", "R1", "R2", "N", "D"]
IN_REVERSES = [START, {**BACKUP, "closed": ["R1", "R2"]}]
REVERSING: Node = {"positions": TWO_REVERSES, "means": {"R1": "R", "R2": "R"}, "mounts": {"boss": mount_for(TWO_REVERSES)}}
TAPS = ["P", "R", "N", "D", "M+"]

MEANINGS = (
    meant("two reverses, lamps in both", "straight", a={"contacts": IN_REVERSES}, b={"contacts": IN_REVERSES}, more=REVERSING),
    meant(
        "two reverses, and the new part lights the lamps in one only",
        "no",
        a={"contacts": IN_REVERSES},
        b={"contacts": [START, {**BACKUP, "closed": ["R1"]}]},
        more=REVERSING,
    ),
    meant("a tap position", "straight", more={"positions": TAPS, "means": {"M+": "M"}, "mounts": {"boss": mount_for(TAPS)}}),
    meant(
        "cranks in P alone, and is said to",
        "straight",
        a={"contacts": [{**START, "closed": ["P"]}, BACKUP]},
        b={"contacts": [{**START, "closed": ["P"]}, BACKUP]},
        plug={"cranks": {"in": ["P"]}},
    ),
    meant("a start contact that stays closed into R", "no", b={"contacts": [{**START, "overlaps": ["R"]}, BACKUP]}),
    meant(
        "lamps that stay lit into N, as they did before: nobody may be told to fit that",
        "no",
        a={"contacts": [START, {**BACKUP, "overlaps": ["N"]}]},
        b={"contacts": [START, {**BACKUP, "overlaps": ["N"]}]},
    ),
)

SITUATIONS = (*SEVERAL, *NEEDS, *FAR_END, *CONDITIONS, *ELECTRONICS, *TERMINALS, *MEANINGS, *TOGETHER)
