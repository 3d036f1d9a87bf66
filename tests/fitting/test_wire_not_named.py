"""A wire of which nobody says what it is for: that both pins that it meets are called not connected does not say it where a contact leads
to them. It may be the starter's, and the contact joins it to the feed in D."""

from __future__ import annotations

import pytest

from rangebook.fitting.judge import judge
from tests import making

PINS = {"1": "start_feed", "2": "not_connected"}
IN_D = [{"pins": ["1", "2"], "closed": ["P", "N", "D"]}]


def answer(wire: dict, contacts: list[dict]) -> tuple[str, list[str]]:
    parts = [making.part(number, pins=PINS, contacts=contacts) for number in ("A-1", "B-2")]
    plug = {"connector": "c", "wires": {"1": {"circuit": "start_feed"}, "2": wire}}
    made, seat, found = making.seat_and_parts(
        making.connector("c", 2), making.family("f", parts, plugs={"p": plug}, applications=[making.application("p", "A-1")])
    )
    verdict = judge(made, seat, found["B-2"])
    return str(verdict.kind), [reason.code for reason in verdict.reasons]


@pytest.mark.parametrize(
    ("wire", "contacts", "kind"),
    [
        ({}, IN_D, "unknown"),
        ({"circuit": "start_out"}, IN_D, "no"),
        # A dead wire, and a pin without anything behind it: whatever the wire is, nothing reaches it.
        ({"circuit": "not_connected"}, IN_D, "straight"),
        ({}, [{"pins": ["1", "case"], "closed": []}], "straight"),
    ],
)
def test_not_connected_says_nothing_of_a_wire_that_a_contact_leads_to(wire: dict, contacts: list[dict], kind: str) -> None:
    found, codes = answer(wire, contacts)
    assert found == kind
    assert ("safety.wire_not_named" in codes) is (kind == "unknown")
