"""Seals and blanking plugs."""

from __future__ import annotations

import pytest

from rangebook.fitting.kit_contents import Needed, blanks_left, needed_of
from rangebook.reasons.codes import BagNotStated, KitLacksSeal
from rangebook.reasons.reason import Reason, Side, Subject
from rangebook.words.reasons import reason_words
from tests.making import book, connector

# Common practice, no source: a renewal kit for one old plug carries one connector and several rear seals, each for another
# number of wires.
KIT = {"kind": "kit", "id": "k", "number": "K-1", "title": "renewal", "from": "old", "to": "new", "moves": {"1": "1"}}


def text(detail) -> str:
    return reason_words(Reason(detail, Subject(Side.KIT)))


def packed(wires: int, fewest: int | None = None, sealed: bool | None = True, **bag):
    stated = {} if sealed is None else {"sealed": "yes" if sealed else "no"}
    made = book({**KIT, **bag}, connector("old", 13), connector("new", 14, **stated))
    return needed_of(made.kits["k"], wires, wires if fewest is None else fewest, made.connectors["new"])


@pytest.mark.parametrize(("wires", "seal", "blanks"), [(4, 4, 0), (6, 6, 0), (9, 9, 0), (5, 6, 1), (7, 9, 2)])
def test_the_seal_goes_by_the_number_of_wires(wires: int, seal: int, blanks: int) -> None:
    found = packed(wires, seals=[4, 6, 9], blanks=2)
    assert found[0] == Needed("k", seal, blanks) and found[1].seal == seal
    assert f"rear seal for {seal} wires" in text(found[1])


def test_a_seal_that_is_not_in_the_bag_is_a_reason() -> None:
    _, found = packed(10, seals=[4, 6, 9], blanks=2)
    assert found == KitLacksSeal("K-1", "renewal", 10, (4, 6, 9))
    assert "4, 6 or 9 wires" in text(found) and "has 10" in text(found)


def test_blanks_that_the_bag_does_not_hold_are_to_be_ordered() -> None:
    needed, found = packed(3, seals=[6], blanks=1)
    assert needed.blanks == 3 and found.blanks_to_order == 2 and "order 2 more" in text(found)


def test_each_empty_cavity_gets_a_blank_where_each_wire_is_sealed_by_itself() -> None:
    # FAA AC 43.13-1B 11-260 to 11-262 (non-automotive): unused cavities of a sealed connector get sealing plugs.
    assert packed(9, seals=[], blanks=5)[0].blanks == 5
    assert packed(9, seals=[], blanks=5, sealed=False)[0].blanks == 0


def test_a_sealed_plug_without_stated_seals_is_not_known_to_be_served() -> None:
    for bag in ({}, {"blanks": 7}):
        assert packed(7, **bag) == (Needed("k", None, None), BagNotStated("K-1", "renewal", 7, True))
    assert "look for one that takes 7 wires" in text(packed(7)[1])


def test_of_a_plug_that_may_be_sealed_either_the_seals_or_that_it_is_not_has_to_be_stated() -> None:
    assert packed(7, sealed=None) == (Needed("k", None, None), BagNotStated("K-1", "renewal", 7, False))
    assert "it is not stated whether it is sealed" in text(packed(7, sealed=None)[1])
    assert packed(6, sealed=None, seals=[6])[0] == Needed("k", 6, 0) and packed(6, sealed=None, seals=[])[0] == Needed("k", None, 0)


def test_a_plug_that_is_not_sealed_needs_none() -> None:
    needed, found = packed(7, sealed=False)
    assert needed == Needed("k", None, 0) and not found.seals_stated and "not stated" in text(found)


def test_a_bag_that_is_said_to_hold_no_rear_seal_still_asks_for_blanks() -> None:
    needed, found = packed(9, seals=[])
    assert needed.blanks == 5 and found.blanks_to_order is None


@pytest.mark.parametrize(
    ("bag", "spare", "to_order", "before"),
    [(1, 2, 0, 2), (1, 1, 1, 1), (3, 2, 0, 0), (None, 3, 0, 3), (None, 2, None, 2), (2, None, None, 0)],
)
def test_blanks_of_the_kits_before_are_used_up(bag: int | None, spare: int | None, to_order: int | None, before: int) -> None:
    held = {} if bag is None else {"blanks": bag}
    made = book({**KIT, "seals": [6], **held}, connector("old", 13), connector("new", 14, sealed="yes"))
    needed, found = needed_of(made.kits["k"], 3, 3, made.connectors["new"], spare)
    assert (needed.blanks, found.blanks_to_order, found.blanks_before) == (3, to_order, before)
    assert (f"{before} of them left over" in text(found)) is (before > 0)
    # What is left for the next kit: all that was there, less what was used.
    assert blanks_left(made.kits["k"], needed, spare) == (None if bag is None or spare is None else max(0, bag + spare - 3))


def test_what_is_left_over_is_told() -> None:
    _, found = packed(6, seals=[4, 6, 9], blanks=2)
    assert (found.seals_left, found.blanks_left) == ((4, 9), 2)
    assert "left over: the rear seals for 4 and 9 wires and 2 blanking plugs" in text(found)


def test_vehicles_with_fewer_wires_take_another_seal() -> None:
    _, found = packed(9, fewest=6, seals=[6, 9], blanks=0)
    assert found.fewest_wires == 6 and "6 at the fewest" in text(found)
