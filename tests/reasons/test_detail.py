"""A code with its figures behaves as a frozen dataclass does."""

from __future__ import annotations

import pickle

import pytest

from rangebook.reasons.codes import HazardDriven, LeverIncomplete


def test_it_is_what_it_holds() -> None:
    one, same = LeverIncomplete(("P",), lacking=("R",), no_forward=False), LeverIncomplete(("P",), ("R",), False)
    other = LeverIncomplete(("P",), ("N",), no_forward=False)
    assert one == same != other
    assert hash(one) == hash(same)
    assert repr(one) == "LeverIncomplete(lever=('P',), lacking=('R',), no_forward=False)"
    assert pickle.loads(pickle.dumps(one)) == one  # as processes send it to each other
    assert one != HazardDriven.__new__(HazardDriven)


@pytest.mark.parametrize("given", [{}, {"lever": (), "lacking": ()}, {"lever": (), "lacking": (), "no_forward": True, "more": 1}])
def test_it_takes_all_of_its_parameters_and_nothing_else(given: dict[str, object]) -> None:
    with pytest.raises(TypeError):
        LeverIncomplete(**given)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        LeverIncomplete((), (), True, ())  # type: ignore[call-arg]


def test_it_is_not_changed() -> None:
    one = LeverIncomplete((), (), no_forward=True)
    with pytest.raises(AttributeError):
        one.lever = ("P",)  # type: ignore[misc]


def test_it_is_taken_apart_in_the_order_of_its_parameters() -> None:
    match LeverIncomplete(("P",), ("R",), no_forward=True):
        case LeverIncomplete(lever, lacking, no_forward):
            assert (lever, lacking, no_forward) == (("P",), ("R",), True)
