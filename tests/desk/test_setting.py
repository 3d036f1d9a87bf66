"""How a part is set, and with which torque: the nearest that says so, and never a torque for bolts of another size."""

from __future__ import annotations

from typing import Any

import pytest
from tests.making import MOUNT, application, book, connector, family, part, plug

from rangebook.book.model import Fitting
from rangebook.desk.fit import as_data, fit
from rangebook.desk.fit_lines import as_lines
from rangebook.desk.setting import setting_of
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import find_seats

PINS = {"1": "start_feed", "2": "start_out"}
FACTS = {"pins": PINS, "contacts": [{"pins": ["1", "2"], "closed": ["P", "N"]}]}
ALL = {"set_in": "N", "method": "pin it", "torque_nm": 6, "cautions": ["hot pipe"]}
THICK = {**MOUNT, "bolts": [{**bolt, "bolt_mm": 8, "hole_mm": 9} for bolt in MOUNT["bolts"]]}


def van(thin: dict[str, Any], thick: dict[str, Any], own: dict[str, Any], fitting: Any = ALL) -> Any:
    parts = [part("A-1", mount="thin", **FACTS), part("B-2", mount="thick", **FACTS), part("B-3", mount="thick", **FACTS, **own)]
    more = {"plugs": {"p": plug(PINS)}, "applications": [application("p", "A-1"), application("p", "B-2")], "fitting": fitting}
    return book(connector("c", 4), family("f", parts, mounts={"thin": {**MOUNT, **thin}, "thick": {**THICK, **thick}}, **more))


def settings(made: Any) -> tuple[Fitting, Fitting, Fitting]:
    seats = {seat.original.number: seat for seat in find_seats(made)}
    return tuple(setting_of(seats[seat], made.part(number)) for seat, number in (("A-1", "A-1"), ("B-2", "B-2"), ("B-2", "B-3")))


def test_a_familys_torque_is_for_no_bolts_of_another_size() -> None:
    """A van that takes 16 N·m is told 6 by nobody."""
    assert [one.torque_nm for one in settings(van({}, {}, {}))] == [None, None, None]
    assert [one.torque_nm for one in settings(van({}, {"torque_nm": 16}, {}))] == [None, 16, 16]
    assert [one.torque_nm for one in settings(van({"torque_nm": 6}, {"torque_nm": 16}, {"torque_nm": 14}))] == [6, 16, 14]


def test_where_all_bolts_are_alike_the_familys_torque_is_for_all() -> None:
    made = van({}, {"bolts": MOUNT["bolts"]}, {})
    assert [one.torque_nm for one in settings(made)] == [6, 6, 6]


def test_the_part_goes_before_the_mount_and_the_mount_before_the_family_and_cautions_add_up() -> None:
    thin, thick, own = settings(
        van({}, {"set_in": "P", "cautions": ["thick ear"]}, {"method": "by meter", "cautions": ["hot pipe", "new seal"]})
    )
    assert (thin.set_in, thin.method, thin.cautions) == ("N", "pin it", ("hot pipe",))
    assert (thick.set_in, thick.method, thick.cautions) == ("P", "pin it", ("hot pipe", "thick ear"))
    assert (own.set_in, own.method, own.cautions) == ("P", "by meter", ("hot pipe", "thick ear", "new seal"))


@pytest.mark.parametrize("fitting", [ALL, {"set_in": "N"}])
def test_what_is_shown_and_what_other_programs_get_is_the_same(fitting: dict[str, Any]) -> None:
    made = van({}, {"torque_nm": 16}, {}, fitting)
    thick = fit(Fitter(made), "B-2", "B-3")
    (found,) = [one["fitting"] for one in as_data(thick)["seats"] if one["came_with"] == "B-2"]
    assert found["B-3"]["torque_nm"] == 16
    assert any("Set in N; torque of the bolts 16 N·m" in text for _, text in as_lines(thick))
    thin = fit(Fitter(made), "A-1", "A-1")
    assert any("the torque of these bolts is not stated" in text for _, text in as_lines(thin))
