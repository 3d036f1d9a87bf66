"""What the list says of a safety circuit is looked at as what an entry says: a circuit that may be joined in one position more changes, in
this book, no verdict at all."""

from __future__ import annotations

import copy
from pathlib import Path
from types import MappingProxyType
from typing import Any

from rangebook.desk.impact.data import as_data
from rangebook.revisions.report import impact
from rangebook.revisions.states import two_states
from rangebook.schema.store import Schemas, load_schemas
from tests import making

PARTS = [making.part(number, pins={"1": "horn_lock"}, contacts=[{"pins": ["1", "case"], "closed": ["P"]}]) for number in ("A-1", "B-2")]
BOOK = making.texts(
    making.connector("c", 2),
    making.family("f", PARTS, plugs={"p": making.plug({"1": "horn_lock"})}, applications=[making.application("p", "A-1")]),
)
LOCK = {"role": "output", "name": "horn lock", "safety": True, "joined_in": ["P"]}


def changed(new: dict[str, Any]) -> dict[str, Any]:
    """The impact of a list of circuits that says ``new`` of the horn lock in the place of :data:`LOCK`."""

    def schemas(circuit: dict[str, Any]) -> Schemas:
        files = copy.deepcopy(dict(load_schemas(None).files))
        files["circuits"]["circuits"]["horn_lock"] = circuit
        return Schemas(MappingProxyType(files))

    states = two_states(Path(), BOOK.items(), BOOK.items(), schemas(LOCK), schemas(new))
    return as_data(impact(states, "base", "0", [], []), dict.fromkeys(("switch", "connector", "kit"), str))


def test_one_position_more_is_told_though_no_verdict_changes() -> None:
    found = changed({**LOCK, "joined_in": ["P", "L"]})  # a position that the lever of this book does not have
    assert found["verdicts"] == []
    assert found["circuits"] == [
        {
            "family": "",
            "what": "circuit",
            "name": "horn_lock",
            "old": "may be joined to others in P only",
            "new": "may be joined to others in P and L only",
        }
    ]


def test_other_words_for_it_are_no_change() -> None:
    assert changed({**LOCK, "name": "lock of the horn"})["circuits"] == []


def test_it_is_told_of_each_verdict_that_goes_by_it() -> None:
    found = changed({**LOCK, "joined_in": ["N"]})
    # Of A-1 in its own place too: it is known to be joined in P.
    assert {one["number"]: one["new"]["verdict"] for one in found["verdicts"]} == {"A-1": "no", "B-2": "no"}
    for one in found["verdicts"]:
        assert "the list of circuits says something else of horn_lock" in one["safety"]


def test_a_list_that_does_not_say_any_more_where() -> None:
    found = changed({key: value for key, value in LOCK.items() if key != "joined_in"})
    (circuit,) = found["circuits"]
    assert circuit["new"] == "a safety circuit, and not said in which positions it may be joined"
    assert found["verdicts"][0]["new"]["verdict"] == "unknown"
