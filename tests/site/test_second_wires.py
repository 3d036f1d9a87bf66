"""What is told of a plug beside the first wire of each cavity: wires that share a terminal, jumpers, meanings, what is fanned out."""

from __future__ import annotations

from typing import Any

from tests import making

from rangebook.book.load import load_texts
from rangebook.schema.store import load_schemas
from rangebook.site.data.compare import compares
from rangebook.site.data.lever import levers
from rangebook.site.facts.computed import Computed
from rangebook.site.model.answer import shown_seat

PINS = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out"}
CONTACTS = [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R1", "R2"]}]
WIRES: dict[str, Any] = {
    **{cavity: {"circuit": circuit} for cavity, circuit in PINS.items()},
    "1": [{"circuit": "start_feed", "colour": "RD"}, {"circuit": "display", "colour": "WHGN", "note": "goes on to the mirror"}],
}
FANNED = {**PINS, "5": "start_feed"}


def made() -> Computed:
    parts = [
        making.part("A", pins=PINS, contacts=CONTACTS),
        making.part("B", connector="d", pins=FANNED, contacts=[*CONTACTS, {"pins": ["5", "case"], "closed": []}]),
    ]
    lever = {"positions": ["P", "R1", "R2", "N", "D"], "means": {"R1": "R", "R2": "R"}}
    plug = {"connector": "c", "wires": WIRES, "loops": [["6", "7"]]}
    family = making.family("f", parts, plugs={"p": plug}, applications=[making.application("p", "A")], **lever)
    moves = {"1": ["1", "5"], "2": "2", "3": "3", "4": "4"}
    kit = {"kind": "kit", "id": "k", "number": "K", "title": "k", "from": "c", "to": "d", "moves": moves, "joins": "splice"}
    return Computed(load_texts(making.texts(making.connector("c", 8), making.connector("d", 8), kit, family), load_schemas()))


def test_every_wire_of_a_cavity_is_told_on_each_page() -> None:
    computed = made()
    family = computed.book.families["f"]
    (seat,) = compares(computed, family)["seats"].values()
    plug = next(iter(levers(computed, family)["plugs"].values()))
    shown = shown_seat(computed, computed.fitter.seats[0])
    (other,) = [one for one in shown.candidates if one.number == "B"]
    feeds = [seat["wires"][0][2], plug["wires"][0][2], shown.wired[0][2], other.moves[0].circuit]
    for words in feeds:
        assert "starter interlock, feed" in words and "white with a green stripe" in words and "goes on to the mirror" in words
    assert [move.new for move in other.moves] == ["1, 5", "2", "3", "4"]


def test_jumpers_and_meanings_stand_beside_the_names() -> None:
    computed = made()
    family = computed.book.families["f"]
    (seat,) = compares(computed, family)["seats"].values()
    assert [one for one in seat["says"] if "6 and 7" in one] and {"R1 is R", "R2 is R"} <= set(seat["says"])
    assert {"R1 is R", "R2 is R"} <= set(levers(computed, family)["parts"]["A"]["says"])
