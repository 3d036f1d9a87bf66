"""Values that the schema refuses and that can mean one thing only."""

from __future__ import annotations

import pytest

SWITCH = """---
kind: switch
id: tamblin-gate
title: Tamblin
positions: [P, R, N, D, 2]
parts:
  - number: TB-1
    connector: oval-9
    status: current
    pins: {1: start_feed, 2: start_out}
    contacts:
      - {pins: [1, 2], closed: [P, N]}
      - {pins: [1, case], ohms: {P: 9100, R: 3900}}
    superseded_by: [{number: TB-2, since: 2013-05, needs: [oval-9-renewal]}]
    sources: [{kind: seen, on: 2020-02-04}]
plugs:
  six-wire:
    connector: oval-9
    wires:
      1: {circuit: start_feed, colour: RDWH}
applications:
  - {vehicle: a, years: 2007-2012, from: 2007-02}
fitting: {set_in: N, torque_nm: 9.5}
trouble_codes: [P0705]
---
"""


@pytest.mark.parametrize(
    ("good", "bad"),
    [
        ("kind: switch", "kind: Switch"),
        ("id: tamblin-gate", "id: Tamblin-gate"),
        ("connector: oval-9\n    status", "connector: Oval-9\n    status"),
        ("needs: [oval-9-renewal]", "needs: [Oval-9-Renewal]"),
        ("status: current", "status: CURRENT"),
        ("1: start_feed, 2", "1: Start-Feed, 2"),
        ("1: start_feed, 2", "1: start feed, 2"),
        ("closed: [P, N]", "closed: [P, n]"),
        ("ohms: {P: 9100", "ohms: {p: 9100"),
        ("set_in: N", "set_in: n"),
        ("P: 9100, R: 3900", 'P: 9100, R: "Open"'),
        ("[P0705]", "[p0705]"),
        ("on: 2020-02-04", "on: 2020-2-4"),
        ("on: 2020-02-04", "on: 2020/02/04"),
        ("on: 2020-02-04", "on: 2020.2.4"),
        ("since: 2013-05", "since: 2013-5"),
        ("since: 2013-05", "since: 2013/05"),
        ("years: 2007-2012", "years: 2007 - 2012"),
        ("years: 2007-2012", "years: 2007\u20132012"),
        ("torque_nm: 9.5", 'torque_nm: "9,5"'),
    ],
)
def test_it_is_written_in_the_one_form(mend, good: str, bad: str) -> None:
    assert good in SWITCH
    mended, by = mend(SWITCH.replace(good, bad))
    wanted = (
        SWITCH.replace("R: 3900", 'R: "open"')
        if "Open" in bad
        else SWITCH.replace(good, good.replace("9.5", '"9.5"') if '"' in bad else good)
    )
    if '"' in bad:
        wanted = wanted.replace('"', "")  # the quotes are needless then
        assert by[-1] == "needless-quotes"
    assert mended == wanted and by[0] == "normal-form"
    assert mend(mended) == (mended, [])


@pytest.mark.parametrize(
    ("good", "bad"),
    [
        ("id: tamblin-gate", "id: Tamblin-post"),  # not the file's name
        ("connector: oval-9\n    status", "connector: Oval-6\n    status"),  # no such entry
        ("1: start_feed, 2", "1: Starter-Feed, 2"),  # no such circuit
        ("closed: [P, N]", "closed: [P, x]"),  # no such position
        ("ohms: {P: 9100", "ohms: {p: 1, P: 9100"),  # would be there twice
        ("on: 2020-02-04", "on: 4.2.2020"),  # day first, or month
        ("on: 2020-02-04", "on: 2020-02.04"),
        ("on: 2020-02-04", "on: 2020-2-30"),  # no such day
        ("since: 2013-05", "since: 2013-13"),
        ("years: 2007-2012", "years: 2007-12"),  # a month, or 2012
        ("years: 2007-2012", "years: 07-12"),
        ("torque_nm: 9.5", 'torque_nm: "1,500"'),  # thousands, or thousandths
        ("torque_nm: 9.5", "torque_nm: 9.5 Nm"),
        ("[P0705]", "[P07O5]"),
        ("status: current", "status: curent"),  # what is only near to it may be something else
    ],
)
def test_what_may_mean_several_things_is_left_to_people(mend, good: str, bad: str) -> None:
    assert good in SWITCH
    text = SWITCH.replace(good, bad)
    assert mend(text) == (text, [])


@pytest.mark.parametrize(
    ("bad", "good"), [("rd/wh", "RDWH"), ("Red-White", "RDWH"), ("RDWHT", None), ("GR", None), ("YEGN", "GNYE"), ("RDRD", None)]
)
def test_colours(mend, bad: str, good: str | None) -> None:
    text = SWITCH.replace("RDWH", bad)
    assert mend(text) == (SWITCH.replace("RDWH", good or bad), ["colour"] if good else [])
