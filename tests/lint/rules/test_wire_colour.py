"""wire-colour. Source: IEC 60757, the codes from memory; seen, that several are written one after the other and green with
yellow only as GNYE. That base comes before stripe is the book's own rule."""

from itertools import permutations

import pytest

from rangebook.lint.rules.wire_colour import COLOURS

PLUG = "    kind: switch\n    plugs: {six-wire: {connector: oval-9, wires: {1: {colour: %s}}}}\n"


def test_the_fourteen_codes():
    # Typed by hand, apart from the rule. IEC 60757, from memory.
    assert set(COLOURS) == {"BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "GD", "TQ", "SR"}


def test_every_code_and_every_two_but_green_with_yellow_are_right(look):
    colours = [*COLOURS, *("".join(pair) for pair in permutations(COLOURS, 2) if set(pair) != {"GN", "YE"}), "GNYE"]
    wires = ", ".join(f"W{number}: {{colour: {colour}}}" for number, colour in enumerate(colours))
    assert len(colours) == 14 + 14 * 13 - 2 + 1
    assert look("wire-colour", f"    kind: switch\n    plugs: {{six-wire: {{connector: oval-9, wires: {{{wires}}}}}}}\n") == []


@pytest.mark.parametrize(
    ("colour", "meant"),
    [
        ("RED", "RD"),
        ("rdwh", "RDWH"),
        ("Red/White", "RDWH"),
        ("RD-WH", "RDWH"),
        ("BLK", "BK"),
        ("BR", "BN"),
        ("YEGN", "GNYE"),
        ("GN/YE", "GNYE"),
        ("RDRD", "RD"),
        ("grey violet", "GYVT"),
        ("GNYEBK", "GNYE"),
    ],
)
def test_what_is_meant_is_offered_where_it_is_plain(look, colour, meant):
    (found,) = look("wire-colour", PLUG % colour)
    assert found.at.startswith(colour) and found.fix.partition("; ")[0] == f"write {meant}"
    assert ("; `rangebook lint --fix` does it" in found.fix) is (colour not in ("RDRD", "GNYEBK")), (
        "where it is plain which colour is meant"
    )


@pytest.mark.parametrize("colour", ["GR", "BL", "R", "RDW", "RDXX", "L/W", "'?'"])
def test_what_may_mean_two_colours_is_not_guessed(look, colour):
    (found,) = look("wire-colour", PLUG % colour)
    assert "BK black" in found.fix


def test_a_wire_whose_colour_is_not_stated_is_let_be(look):
    assert look("wire-colour", "    kind: switch\n    plugs: {six-wire: {connector: oval-9, wires: {1: {}}}}\n") == []
