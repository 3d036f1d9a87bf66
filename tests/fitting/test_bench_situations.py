"""What the bench asks, situation by situation: the answer that was reckoned by hand, and what decides it."""

from __future__ import annotations

import pytest

from rangebook.desk.fit import candidate_data
from rangebook.fitting.fitter import Fitter
from tests.fitting.bench import SITUATIONS, Situation, entries_of
from tests.making import book


@pytest.mark.parametrize("one", SITUATIONS, ids=lambda one: one.name)
def test_the_answer_is_the_one_reckoned_by_hand(one: Situation) -> None:
    made = book(*entries_of(one))
    fitter = Fitter(made)
    (seat,) = fitter.seats
    found = fitter.verdict(seat, made.by_number["B"])
    told = candidate_data(found)
    codes = {reason.code for reason in found.reasons}
    assert told["verdict"] == one.says, codes
    assert not one.code or one.code in codes, codes
    if one.says in ("straight", "with_parts"):
        needs = {
            f"{kind}:{need[kind]}"
            for need in told["needs"]
            for kind in ("kit", "part", "item", "work", "set", "assembly")
            if need.get(kind)
        }
        needs |= {f"seal:{need['seal']}" for need in told["needs"] if need.get("kit") is None and need.get("seal")}
        assert needs == set(one.needs)
    if one.moves is not None:
        assert told["moves"] == one.moves or (
            one.says == "rewire" and {old: new for old, new in told["moves"].items() if old != new} == one.moves
        )
