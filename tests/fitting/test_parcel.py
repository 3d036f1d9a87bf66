"""Seals and blanking plugs."""

from __future__ import annotations

import pytest

from rangebook.fitting.parcel import pack
from tests.making import book, connector

# Common practice, no source: a renewal kit for one old plug carries one connector and several rear seals, each for another
# number of wires.
KIT = {"kind": "kit", "id": "k", "number": "K-1", "title": "renewal", "from": "old", "to": "new", "moves": {"1": "1"}}


def packed(wires: int, fewest: int | None = None, sealed: bool = True, **bag):
    made = book({**KIT, **bag}, connector("old", 13), connector("new", 14, sealed="yes" if sealed else "no"))
    return pack(made.kits["k"], wires, wires if fewest is None else fewest, made.connectors["new"])


@pytest.mark.parametrize(("wires", "seal", "blanks"), [(4, 4, 0), (6, 6, 0), (9, 9, 0), (5, 6, 1), (7, 9, 2)])
def test_the_seal_goes_by_the_number_of_wires(wires: int, seal: int, blanks: int) -> None:
    found = packed(wires, seals=[4, 6, 9], blanks=2)
    assert found.fits and (found.needed.seal, found.needed.blanks) == (seal, blanks)
    assert f"rear seal for {seal} wires" in found.text


def test_a_seal_that_is_not_in_the_bag_is_a_reason() -> None:
    found = packed(10, seals=[4, 6, 9], blanks=2)
    assert not found.fits and "4, 6 or 9 wires" in found.text and "has 10" in found.text


def test_blanks_that_the_bag_does_not_hold_are_to_be_ordered() -> None:
    found = packed(3, seals=[6], blanks=1)
    assert found.fits and found.needed.blanks == 3 and "order 2 more" in found.text


def test_each_empty_cavity_gets_a_blank_where_each_wire_is_sealed_by_itself() -> None:
    # FAA AC 43.13-1B 11-260 to 11-262 (non-automotive): unused cavities of a sealed connector get sealing plugs.
    assert packed(9, seals=[], blanks=5).needed.blanks == 5
    assert packed(9, seals=[], blanks=5, sealed=False).needed.blanks == 0


def test_what_is_not_stated_about_the_bag_is_said() -> None:
    found = packed(7)
    assert found.fits and found.needed.seal is None and "not stated" in found.text


def test_what_is_left_over_is_told() -> None:
    assert "left over: the rear seals for 4 and 9 wires and 2 blanking plugs" in packed(6, seals=[4, 6, 9], blanks=2).text


def test_vehicles_with_fewer_wires_take_another_seal() -> None:
    assert "6 at the fewest" in packed(9, fewest=6, seals=[6, 9], blanks=0).text
