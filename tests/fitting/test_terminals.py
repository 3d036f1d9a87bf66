"""Terminals by cavity, what a kit's terminals and seals take, plating, two wires in one cavity, several old plugs for one kit.

Common practice, no source, but where one is named.
"""

from __future__ import annotations

import itertools
import random
from typing import Any

import pytest

from rangebook.book.model import Terminal
from rangebook.fitting.check_mating import largest_wire
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.verdict import Verdict, VerdictKind
from tests.fitting import bench
from tests.making import application, book, connector, family, part

STRAIGHT, WITH_PARTS, REWIRE, NO, UNKNOWN = (
    VerdictKind.STRAIGHT,
    VerdictKind.WITH_PARTS,
    VerdictKind.REWIRE,
    VerdictKind.NO,
    VerdictKind.UNKNOWN,
)
PINS = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out"}
CONTACTS = [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}]
BLADE = {"style": "blade", "width_mm": 2.8, "on_switch": "male"}
THIN = {**BLADE, "width_mm": 0.6}


def kit(**more: Any) -> dict[str, Any]:
    moves = {cavity: cavity for cavity in PINS}
    return {
        "kind": "kit",
        "id": "k",
        "number": "K-1",
        "title": "k",
        "from": "c",
        "to": "d",
        "moves": moves,
        "seals": [4],
        "blanks": 0,
        **more,
    }


def ask(
    *entries: dict[str, Any],
    wires: Any = None,
    of: str = "c",
    original: dict[str, Any] | None = None,
    candidate: dict[str, Any] | None = None,
    plug: dict[str, Any] | None = None,
) -> Verdict:
    """A part ``B`` in the place of ``A``, whose plug is of the connector ``of``."""
    stated = {cavity: {"circuit": circuit} for cavity, circuit in PINS.items()}
    stated |= wires or {}
    listed = [
        part("A", **{"connector": of, "pins": PINS, "contacts": CONTACTS, **(original or {})}),
        part("B", **{"connector": of, "pins": PINS, "contacts": CONTACTS, **(candidate or {})}),
    ]
    facts = {"plugs": {"p": {"connector": of, "wires": stated, **(plug or {})}}, "applications": [application("p", "A")]}
    made = book(*entries, family("f", listed, **facts))
    fitter = Fitter(made)
    return fitter.verdict(fitter.seats[0], made.by_number["B"])


def codes(found: Verdict) -> set[str]:
    return {one.code for one in found.reasons}


# Terminals by cavity ------------------------------------------------------------------------------------------------------


def mate(plug: dict[str, Any], housing: dict[str, Any], cavities: dict[str, str] | None = None) -> Verdict:
    made = {"sealed": "yes"}
    said = "c" if cavities is None else {"connector": "c", "cavities": cavities}
    return ask(connector("c", 4, **made, **plug), connector("d", 4, mates=[said], **made, **housing), candidate={"connector": "d"})


MIXED = {"terminal": BLADE, "terminals": {"4": {"width_mm": 6.3}}}


def test_terminals_are_compared_cavity_by_cavity() -> None:
    assert mate(MIXED, MIXED).kind is STRAIGHT
    assert mate({"terminal": BLADE}, {"terminal": BLADE}).kind is STRAIGHT
    for one, other in ((MIXED, {"terminal": BLADE}), ({"terminal": BLADE}, MIXED)):
        found = mate(one, other)
        assert found.kind is NO
        (reason,) = [reason for reason in found.reasons if reason.code == "mating.terminal_differs"]
        assert reason.detail.cavities == ("4",)


def test_each_is_compared_with_the_one_that_it_meets_by_the_map() -> None:
    crossed = {"1": "4", "2": "2", "3": "3", "4": "1"}
    elsewhere = {"terminal": BLADE, "terminals": {"1": {"width_mm": 6.3}}}
    assert "mating.terminal_differs" not in codes(mate(MIXED, elsewhere, crossed))
    assert "mating.terminal_differs" in codes(mate(MIXED, MIXED, crossed))


def test_the_same_said_in_another_way_is_the_same() -> None:
    apiece = {"terminals": {cavity: {**BLADE, **({"width_mm": 6.3} if cavity == "4" else {})} for cavity in PINS}}
    assert mate(MIXED, apiece).kind is STRAIGHT and mate(apiece, MIXED).kind is STRAIGHT


def test_what_is_not_stated_of_one_cavity_is_asked_for_there() -> None:
    part_of_it = {"terminals": dict.fromkeys("123", BLADE)}
    found = mate({"terminal": BLADE}, part_of_it)
    assert found.kind is UNKNOWN
    (reason,) = [reason for reason in found.reasons if reason.code == "mating.terminal_not_stated"]
    assert reason.detail.cavities == ("4",)


def test_a_wire_does_not_move_into_a_cavity_for_another_terminal() -> None:
    swapped = {"pins": {"1": "start_feed", "3": "start_out", "2": "backup_feed", "4": "backup_out"}}
    contacts = [{"pins": ["1", "3"], "closed": ["P", "N"]}, {"pins": ["2", "4"], "closed": ["R"]}]
    assert ask(connector("c", 4, terminal=BLADE), candidate={**swapped, "contacts": contacts}).kind is REWIRE
    mixed = connector("c", 4, terminal=BLADE, terminals={"3": {"width_mm": 6.3}})
    assert ask(mixed, candidate={**swapped, "contacts": contacts}).kind is NO
    like = connector("c", 4, terminal=BLADE, terminals={"2": {"width_mm": 6.3}, "3": {"width_mm": 6.3}})
    assert ask(like, candidate={**swapped, "contacts": contacts}).kind is REWIRE


@pytest.mark.parametrize("terminals", [{}, {"1": {"width_mm": 6.3}}])
def test_of_a_wire_in_a_cavity_that_the_plug_does_not_have_it_is_not_known_where_it_goes(terminals: dict[str, Any]) -> None:
    swapped = {"pins": {"1": "start_feed", "3": "start_out", "2": "backup_feed", "4": "backup_out"}}
    contacts = [{"pins": ["1", "3"], "closed": ["P", "N"]}, {"pins": ["2", "4"], "closed": ["R"]}]
    wires = {("9" if cavity == "4" else cavity): {"circuit": circuit} for cavity, circuit in PINS.items()}
    plug = connector("c", 4, terminal=BLADE, terminals=terminals)
    found = ask(plug, candidate={**swapped, "contacts": contacts}, plug={"wires": wires})
    assert found.kind is UNKNOWN and codes(found) == {"safety.facts_contradict"}


# What a kit's terminals and seals take ------------------------------------------------------------------------------------


def thick(size: float | None, cavity: str = "1", **more: Any) -> dict[str, Any]:
    return {cavity: {"circuit": PINS[cavity], **({} if size is None else {"size_mm2": size}), **more}}


def with_kit(new: dict[str, Any] | None = None, wires: Any = None, **bag: Any) -> Verdict:
    facts = {"terminal": BLADE, **(new or {})}
    return ask(connector("c", 4, terminal=BLADE), connector("d", 4, **facts), kit(**bag), wires=wires, candidate={"connector": "d"})


@pytest.mark.parametrize(
    ("new", "bag", "size", "kind"),
    [
        ({"terminal": THIN}, {}, 4, NO),
        ({"terminal": THIN}, {}, 0.5, WITH_PARTS),
        ({"terminal": THIN}, {}, None, WITH_PARTS),
        ({}, {}, 2.5, WITH_PARTS),
        ({"terminal": {**THIN, "wire_mm2": [0.5, 6]}}, {}, 4, WITH_PARTS),  # stated, however odd
        ({}, {"terminal": {"wire_mm2": [0.5, 1.5]}}, 2.5, NO),
        ({}, {"terminal": {"wire_mm2": [0.5, 2.5]}}, 2.5, WITH_PARTS),
        ({"terminal": {**BLADE, "wire_mm2": [0.5, 1.5]}}, {"terminal": {"wire_mm2": [1, 4]}}, 2.5, WITH_PARTS),
        ({}, {"terminal": {"wire_mm2": [1, 4]}, "terminals": {"1": {"wire_mm2": [0.3, 0.5]}}}, 2.5, NO),
        ({}, {"terminal": {"wire_mm2": [0.3, 0.5]}, "terminals": {"1": {"wire_mm2": [1, 4]}}}, 2.5, WITH_PARTS),
        ({"terminals": {"1": {"wire_mm2": [0.3, 0.5]}}}, {}, 2.5, NO),
        ({"terminals": {"2": {"wire_mm2": [0.3, 0.5]}}}, {}, 2.5, WITH_PARTS),
    ],
)
def test_wires_and_the_terminals_of_a_kit(new: dict[str, Any], bag: dict[str, Any], size: float | None, kind: VerdictKind) -> None:
    assert with_kit(new, thick(size), **bag).kind is kind


def test_the_terminal_of_the_cavity_that_the_wire_goes_to_counts() -> None:
    moves = {"1": "4", "2": "2", "3": "3", "4": "1"}
    pins = {"4": "start_feed", "2": "start_out", "3": "backup_feed", "1": "backup_out"}
    contacts = [{"pins": ["4", "2"], "closed": ["P", "N"]}, {"pins": ["3", "1"], "closed": ["R"]}]

    def asked(cavity: str) -> Verdict:
        bag = kit(moves=moves, terminals={cavity: {"wire_mm2": [0.3, 0.5]}})
        candidate = {"connector": "d", "pins": pins, "contacts": contacts}
        return ask(connector("c", 4), connector("d", 4), bag, wires=thick(2.5), candidate=candidate)

    assert asked("4").kind is NO and asked("1").kind is WITH_PARTS


@pytest.mark.parametrize(
    ("style", "width", "takes"),
    # The largest wire in makers' sheets for terminals of these widths, from memory: each is taken, four sizes up is not.
    [("pin", 0.6, 0.75), ("blade", 1.5, 2.5), ("blade", 2.8, 4.0), ("blade", 6.3, 6.0), ("pin", 2.4, 4.0), ("pin", 3.6, 10.0)],
)
def test_the_largest_wire_by_width(style: str, width: float, takes: float) -> None:
    most = largest_wire(Terminal(style, width))
    assert most is not None and takes <= most < 4 * takes


def test_over_the_insulation() -> None:
    bag = {"terminal": {"seal_mm": [1.2, 1.9]}}
    assert with_kit({}, thick(1.0, outer_mm=1.8), **bag).kind is WITH_PARTS
    found = with_kit({}, thick(1.0, outer_mm=2.4), **bag)
    assert found.kind is NO and codes(found) == {"mating.wire_over_differs"}
    assert with_kit({}, thick(1.0), **bag).kind is WITH_PARTS


@pytest.mark.parametrize("seed", range(150))
def test_seals_for_single_wires_are_given_out_as_well_as_can_be(seed: int) -> None:
    """By trying every way of giving them out."""
    rng = random.Random(seed)
    sizes = [rng.choice([0.35, 0.5, 0.75, 1.0, 1.5, 2.5]) for _ in PINS]
    seals = []
    for colour in ("green", "white", "red")[: rng.randint(1, 3)]:
        low, high = sorted(rng.sample([0.3, 0.5, 0.85, 1.5, 2.5], 2))
        seals.append({"colour": colour, "count": rng.randint(1, 3), "wire_mm2": [low, high]})
    single = [one["wire_mm2"] for one in seals for _ in range(one["count"])]
    ways = itertools.permutations(single, len(sizes))
    enough = any(all(low <= size <= high for size, (low, high) in zip(sizes, way, strict=True)) for way in ways)
    wires = {cavity: {"circuit": PINS[cavity], "size_mm2": size} for cavity, size in zip(PINS, sizes, strict=True)}
    stated = {"wire_seals": seals}
    entries = [connector("c", 4, sealed="yes"), connector("d", 4, sealed="yes"), {k: v for k, v in kit(**stated).items() if k != "seals"}]
    found = ask(*entries, wires=wires, candidate={"connector": "d"})
    assert found.kind is (WITH_PARTS if enough else NO), (sizes, seals)


def test_the_colour_alone_settles_nothing_and_a_plug_that_is_not_sealed_needs_none() -> None:
    bag = {"wire_seals": [{"colour": "green", "count": 4}]}
    assert with_kit({"sealed": "yes"}, None, **bag).kind is WITH_PARTS
    assert with_kit({"sealed": "yes"}, None, wire_seals=[{"count": 3}]).kind is NO
    assert with_kit({"sealed": "no"}, None, wire_seals=[{"count": 3}]).kind is WITH_PARTS


# Two wires in one cavity --------------------------------------------------------------------------------------------------

TWO = {"1": [{"circuit": "start_feed", "size_mm2": 1.0}, {"circuit": "start_feed", "size_mm2": 0.75}]}


@pytest.mark.parametrize(
    ("new", "bag", "kind"),
    [
        ({}, {}, UNKNOWN),
        ({"sealed": "no"}, {"terminal": {"wire_mm2": [0.5, 2.5]}}, WITH_PARTS),
        ({"sealed": "no"}, {"terminal": {"wire_mm2": [0.5, 1.5]}}, NO),
        ({"sealed": "yes"}, {"terminal": {"wire_mm2": [0.5, 2.5]}}, UNKNOWN),
        ({"sealed": "yes"}, {"terminal": {"wire_mm2": [0.5, 2.5], "wires": 2}}, WITH_PARTS),
        ({"sealed": "yes"}, {"terminal": {"wire_mm2": [0.5, 2.5], "wires": 1}}, NO),
        ({"sealed": "yes"}, {"terminal": {"wire_mm2": [0.5, 2.5], "wires": 1}, "terminals": {"1": {"wires": 2}}}, WITH_PARTS),
        ({"sealed": "yes", "seal_wire_mm2": [0.9, 2]}, {"terminal": {"wire_mm2": [0.5, 2.5], "wires": 2}}, NO),
    ],
)
def test_terminal_and_seal_take_both(new: dict[str, Any], bag: dict[str, Any], kind: VerdictKind) -> None:
    assert with_kit(new, TWO, **bag).kind is kind


def test_without_a_kit_they_stay_where_they_are() -> None:
    assert ask(connector("c", 4, terminal=BLADE, sealed="yes"), wires=TWO).kind is STRAIGHT


def test_the_second_wire_s_thickness_has_to_be_known() -> None:
    half = {"1": [TWO["1"][0], {"circuit": "start_feed"}]}
    assert with_kit({"sealed": "no"}, half, terminal={"wire_mm2": [0.5, 2.5]}).kind is UNKNOWN
    assert with_kit({"sealed": "no"}, {"1": [{**TWO["1"][0], "size_mm2": 4}, TWO["1"][1]]}, terminal={"wire_mm2": [0.5, 2.5]}).kind is NO


def test_a_terminal_is_all_that_its_wires_are() -> None:
    """49 CFR 571.102 S3.1.3: the starter is inoperative in the forward and reverse positions, whichever of two wires leads to it."""
    pins = {"1": "ground", "2": "range_signal", "3": "backup_feed", "4": "backup_out"}
    facts = {"pins": pins, "contacts": [{"pins": ["1", "2"], "closed": ["P", "D"]}, CONTACTS[1]]}
    wires = {"1": {"circuit": "ground"}, "2": [{"circuit": "range_signal"}, {"circuit": "start_out"}]}
    assert ask(connector("c", 4), wires={**wires, "2": {"circuit": "range_signal"}}, original=facts, candidate=facts).kind is STRAIGHT
    found = ask(connector("c", 4), wires=wires, original=facts, candidate=facts)
    assert found.kind is NO and "safety.path" in codes(found)
    unnamed = {**wires, "2": [{"circuit": "range_signal"}, {}]}
    found = ask(connector("c", 4), wires=unnamed, original=facts, candidate=facts)
    assert found.kind is UNKNOWN and "safety.wire_not_named" in codes(found)


def test_what_both_carry_goes_through_the_contact() -> None:
    both = {
        "1": [{"circuit": "start_feed", "carries_a": 4}, {"circuit": "start_feed", "carries_a": 5}],
        "2": {"circuit": "start_out", "carries_a": 9},
    }
    rated = [{**CONTACTS[0], "rated_a": 6}, CONTACTS[1]]
    assert ask(connector("c", 4), wires=both, candidate={"contacts": rated}).kind is NO
    less = {**both, "1": [{"circuit": "start_feed", "carries_a": 2}, {"circuit": "start_feed", "carries_a": 3}]}
    assert ask(connector("c", 4), wires=less, candidate={"contacts": rated}).kind is STRAIGHT


# Plating ------------------------------------------------------------------------------------------------------------------

GOLD, TIN, SILVER = "gold", "tin", "silver"


@pytest.mark.parametrize(
    ("plug", "original", "candidate", "kind"),
    [
        (None, None, None, STRAIGHT),
        (TIN, None, TIN, STRAIGHT),
        (TIN, None, GOLD, NO),
        (GOLD, None, TIN, NO),
        (TIN, None, SILVER, NO),
        (GOLD, None, SILVER, STRAIGHT),
        (TIN, None, None, UNKNOWN),
        (None, None, GOLD, UNKNOWN),
        (None, GOLD, GOLD, STRAIGHT),
        (None, TIN, GOLD, NO),
        (None, GOLD, None, UNKNOWN),
    ],
)
def test_tin_meets_tin_only(plug: str | None, original: str | None, candidate: str | None, kind: VerdictKind) -> None:
    stated = [{} if value is None else {"plating": value} for value in (plug, original, candidate)]
    assert ask(connector("c", 4), plug=stated[0], original=stated[1], candidate=stated[2]).kind is kind


def test_the_connector_says_what_both_halves_are_plated_with() -> None:
    tinned = connector("c", 4, terminal={**BLADE, "plating": TIN})
    assert ask(tinned).kind is STRAIGHT
    assert ask(tinned, candidate={"plating": GOLD}).kind is NO
    apart = connector("c", 4, terminal={**BLADE, "plating": TIN}, terminals={"2": {"plating": GOLD}})
    found = ask(apart, candidate={"plating": TIN})
    (reason,) = found.reasons
    assert found.kind is NO and reason.detail.cavities == ("2",)


def test_gold_goes_on_where_the_plug_is_renewed_too() -> None:
    same = connector("c", 4, terminal={**BLADE, "plating": TIN})
    gold = {"plating": GOLD}
    assert ask(same, kit(to="c"), candidate=gold).kind is NO
    assert ask(same, kit(to="c", terminal={"plating": GOLD}), candidate=gold).kind is WITH_PARTS
    assert ask(same, kit(to="c", terminal={"plating": TIN}), candidate=gold).kind is NO
    # And then the plug has gold in it: what it was built with does not go back on.
    made = book(
        same,
        kit(to="c", terminal={"plating": GOLD}),
        family(
            "f",
            [part("A", pins=PINS, contacts=CONTACTS), part("B", pins=PINS, contacts=CONTACTS, plating=GOLD)],
            plugs={"p": {"connector": "c", "wires": {cavity: {"circuit": circuit} for cavity, circuit in PINS.items()}}},
            applications=[application("p", "A")],
        ),
    )
    fitter = Fitter(made)
    now = [seat for seat, _ in fitter.seats_taken_by(made.by_number["B"]) if seat.renewal]
    assert [fitter.verdict(seat, made.by_number["B"]).kind for seat in now] == [STRAIGHT]
    assert [fitter.verdict(seat, made.by_number["A"]).kind for seat in now] == [NO]


# Several old plugs --------------------------------------------------------------------------------------------------------


def from_either(*kits: dict[str, Any], of: str) -> Verdict:
    return ask(connector("c", 4), connector("e", 4), connector("d", 4), *kits, of=of, candidate={"connector": "d"})


def test_one_kit_for_several_old_plugs() -> None:
    assert from_either(kit(**{"from": ["c", "e"]}), of="c").kind is WITH_PARTS
    assert from_either(kit(**{"from": ["c", "e"]}), of="e").kind is WITH_PARTS
    assert from_either(kit(), of="e").kind is NO


def test_several_entries_of_one_number() -> None:
    other = kit(id="k2", **{"from": "e"}, moves={"1": "2", "2": "1", "3": "3", "4": "4"})
    for of in ("c", "e"):
        found = from_either(kit(), other, of=of)
        assert found.kind in (WITH_PARTS, REWIRE) and [one.kit for one in found.needs] == ["k" if of == "c" else "k2"]
    # The same old plug twice: nobody knows which of the two is meant.
    assert from_either(kit(), kit(id="k2", moves={"1": "2", "2": "1", "3": "3", "4": "4"}), of="c").kind is UNKNOWN


@pytest.mark.parametrize("seed", range(40))
def test_a_list_of_old_plugs_is_as_many_entries(seed: int) -> None:
    rng = random.Random(seed)
    olds = rng.sample(["c", "e", "g"], rng.randint(1, 3))
    moves = dict(zip(PINS, rng.sample(list(PINS), 4), strict=True)) if rng.random() < 0.5 else dict(zip(PINS, PINS, strict=True))
    made = [connector(name, 4) for name in "cdeg"]
    apart = [kit(id=f"k-{old}", moves=moves, **{"from": old}) for old in olds]
    for of in "ceg":
        one = ask(*made, kit(moves=moves, **{"from": olds}), of=of, candidate={"connector": "d"})
        other = ask(*made, *apart, of=of, candidate={"connector": "d"})
        assert (one.kind, one.moves) == (other.kind, other.moves)


# A wire that is fanned out ------------------------------------------------------------------------------------------------

FANNED_IN = {**PINS, "5": "start_feed"}
FANS = {cavity: cavity for cavity in PINS} | {"1": ["1", "5"]}


def fanned(new: dict[str, Any] | None = None, candidate: dict[str, Any] | None = None, **bag: Any) -> Verdict:
    """The feed goes to 1 and to 5 of the new plug."""
    facts = {"terminal": BLADE, "sealed": "yes", **(new or {})}
    bag = {"moves": FANS, "seals": [5], **bag}
    own = {"connector": "d", "pins": FANNED_IN, "contacts": [*CONTACTS, {"pins": ["5", "case"], "closed": []}], **(candidate or {})}
    return ask(connector("c", 4, terminal=BLADE), connector("d", 6, **facts), kit(**bag), wires=thick(1.5), candidate=own)


MET_BY_5 = [{"pins": ["5", "2"], "closed": ["P", "N"]}, CONTACTS[1]]


def test_every_cavity_that_a_wire_is_fanned_out_to_takes_it() -> None:
    assert fanned().kind is WITH_PARTS
    found = fanned(terminals={"5": {"wire_mm2": [0.3, 0.5]}})
    assert found.kind is NO and "mating.wire_size_differs" in codes(found)
    assert fanned(terminals={"1": {"wire_mm2": [0.3, 0.5]}}).kind is NO
    assert fanned(terminals={"5": {"wire_mm2": [1, 2]}}).kind is WITH_PARTS
    assert fanned(new={"terminals": {"5": THIN}}).kind is NO


def led(
    wires: dict[str, str], inside: list[dict[str, Any]], called: str = "backup_feed", cavities: str = "12345678", joins: str = "plug_in"
) -> Verdict:
    """A lead brings the feed to the cavities 1 and 5; the old part joins nothing of the wires but what the plain one does."""
    old = {"pins": {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out"}, "contacts": CONTACTS}
    new = {"connector": "e", "pins": {"1": "start_feed", "2": "start_out", "5": called, "4": "backup_out"}, "contacts": inside}
    lead = bench.kit(joins=joins, moves={"1": ["1", "5"], "2": "2", "4": "4"})
    plug = {"wires": {cavity: {"circuit": circuit} for cavity, circuit in wires.items()}}
    supplied = bench.housing("e", outline="square", rows=[list(cavities)])
    made = book(*bench.entries_of(bench.Situation(8, "", "", "", old, new, plug, entries=(supplied, lead))))
    fitter = Fitter(made)
    return fitter.verdict(fitter.seats[0], made.by_number["B"])


def test_a_wire_that_a_lead_fans_out_is_not_moved_in_it() -> None:
    """With the one branch in another cavity the other one still lights the lamps by the feed. Common practice, no source."""
    lit = [CONTACTS[0], {"pins": ["5", "4"], "closed": ["R"]}]
    found = led({"1": "start_feed", "4": "backup_out"}, lit)
    assert (found.kind, dict(found.moves)) == (REWIRE, {"4": "3"}), "the other wire gets out of the way"
    assert led({"1": "start_feed", "4": "backup_out"}, lit, cavities="1245").kind is NO, "and there is nowhere for it"
    assert led({"1": "start_feed", "2": "start_out"}, lit).kind is WITH_PARTS


def test_where_there_is_no_wire_a_plug_that_is_cut_on_fans_none_out() -> None:
    """A ready lead has its branches whether a wire is there or not."""
    inside = [CONTACTS[0], {"pins": ["5", "4"], "closed": ["P"]}]
    for joins in ("cut", "plug_in"):
        found = led({"2": "start_out", "4": "backup_out"}, inside, joins=joins)
        assert ("behaviour.moves_needed" in {reason.code for reason in found.checked}) is (joins == "plug_in"), joins


def test_a_wire_that_is_fanned_out_is_called_as_any_of_its_pins() -> None:
    """The feed of the lamps alone goes on, by the second branch; where the first one ends there is no pin."""
    found = fanned(candidate={"pins": {**{pin: name for pin, name in PINS.items() if pin != "1"}, "5": "start_feed"}, "contacts": MET_BY_5})
    assert found.kind is WITH_PARTS, [reason.code for reason in found.reasons]


def test_a_wire_is_what_any_pin_says_that_it_is_fanned_out_to() -> None:
    found = led({"1": "start_feed", "2": "start_out"}, [CONTACTS[0], {"pins": ["5", "4"], "closed": ["R"]}], called="backup_out")
    assert found.kind is NO and "safety.path" in {reason.code for reason in found.reasons}


def test_every_cavity_that_a_wire_is_fanned_out_to_has_its_seal() -> None:
    found = fanned(seals=[4])
    assert found.kind is NO and "mating.kit_lacks_seal" in codes(found)
    assert [need.blanks for need in fanned(seals=[6]).needs] == [1]
    of_one = {"seals": None, "blanks": 0}
    for count, kind in ((4, NO), (5, WITH_PARTS)):
        bag = {**of_one, "wire_seals": [{"count": count, "wire_mm2": [0.5, 2]}]}
        found = ask(
            connector("c", 4, terminal=BLADE),
            connector("d", 5, terminal=BLADE, sealed="yes"),
            {key: value for key, value in kit(moves=FANS, **bag).items() if value is not None},
            wires=thick(1.5),
            candidate={"connector": "d", "pins": FANNED_IN, "contacts": [*CONTACTS, {"pins": ["5", "case"], "closed": []}]},
        )
        assert found.kind is kind


def test_every_cavity_that_a_wire_is_fanned_out_to_is_plated_alike() -> None:
    tin, gold = {"terminal": {**BLADE, "plating": TIN}}, {"terminals": {"5": {"plating": GOLD}}}
    assert fanned(new=tin).kind is WITH_PARTS
    bag = {"terminal": {"plating": TIN}}
    assert fanned(new={**tin, **gold}).kind is WITH_PARTS, "both halves of cavity 5 are gold"
    found = fanned(new={**tin, **gold}, **bag)
    assert found.kind is NO and "mating.plating_differs" in codes(found)


def test_a_wire_that_is_fanned_out_to_another_s_cavity_is_joined_with_it() -> None:
    found = fanned(moves={**FANS, "1": ["1", "2"]})
    assert found.kind is NO and "mating.kit_joins_wires" in codes(found)


def test_what_a_lead_fans_out_to_stays_joined_behind_a_kit_that_is_cut_on() -> None:
    """The lead from c to e brings 1 to 1 and 5; its plug is cut off and renewed by d: both branches still come from one wire."""
    housings = connector("c", 4), connector("e", 5), connector("d", 5)
    lead = {
        key: value for key, value in kit(id="l", number="L", to="e", joins="plug_in", moves=FANS).items() if key not in ("seals", "blanks")
    }
    straight_on = {str(at): str(at) for at in range(1, 6)}
    renewal = kit(**{"from": "e", "to": "d", "moves": straight_on, "seals": [5]})
    inside = [CONTACTS[0], {"pins": ["5", "4"], "closed": ["R"]}]
    common = {"pins": {"1": "common_feed", "2": "start_out", "4": "backup_out"}}
    was = {**common, "contacts": [CONTACTS[0], {"pins": ["1", "4"], "closed": ["R"]}]}
    now = {"connector": "d", "pins": {**common["pins"], "5": "common_feed"}, "contacts": inside}
    wires = {"wires": {cavity: {"circuit": circuit} for cavity, circuit in common["pins"].items()}}
    assert ask(*housings, lead, renewal, original=was, candidate=now, plug=wires).kind is WITH_PARTS
