"""ambiguous-vehicle."""

from __future__ import annotations

import pytest

from tests.lint.marking import found_at_marks, part, parts

RULE = "ambiguous-vehicle"
PLUGS = """    plugs:
      six-wire:
        connector: oval-9
        wires: {1: {circuit: start_feed}, 2: {circuit: start_out}}
      six-wire-too:
        connector: oval-9
        wires: {2: {circuit: start_out, colour: RD}, 1: {circuit: start_feed}}
      one-wire:
        connector: oval-9
        wires: {1: {circuit: start_feed}}
    applications:
"""


def _lines(*facts: str) -> str:
    """Applications of one vehicle and gearbox; with six-wire and TB-20417 where nothing else is said."""
    stated = []
    for one in facts:
        mark, one = ("»", one[1:]) if one.startswith("»") else ("", one)
        rest = [
            default for default in ("gearbox: Tamblin Short", "plug: six-wire", "came_with: TB-20417") if default.split(":")[0] not in one
        ]
        stated.append(f"      - {{vehicle: {mark}Corran Delver 2.4, {', '.join([one, *rest])}}}\n")
    return parts(part(), part("TB-20418")) + PLUGS + "".join(stated)


OTHER = "plug: one-wire"


def test_the_second_one_is_found_and_the_first_named() -> None:
    (found,) = found_at_marks(RULE, _lines("years: 2007-2010", f"»years: 2010-2012, {OTHER}"))
    assert "Corran Delver 2.4 2010-2012 has plug one-wire, there six-wire" in found.message
    assert f"line {found.line - 1} is for the same vehicle and gearbox (2007-2010), and nothing tells them apart" in found.message
    (found,) = found_at_marks(RULE, _lines("years: 2007-2010", "»years: 2009, came_with: TB-20418"))
    assert "came with TB-20418, there with TB-20417" in found.message


def test_the_later_in_the_book_is_told_whatever_its_years() -> None:
    found_at_marks(RULE, _lines("years: 2010-2012", f"»years: 2007-2010, {OTHER}"))


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("years: 2007-2009", f"years: 2010-2012, {OTHER}"),
        ("years: 2007-2010, to: 2010-03", f"years: 2010-2012, from: 2010-04, {OTHER}"),
        ("years: 2007-2010, to: 2009", f"years: 2010-2012, from: 2010, {OTHER}"),
        ("years: 2007-2010, engine: petrol", f"years: 2007-2010, engine: diesel, {OTHER}"),
        ("years: 2007-2010", f"years: 2007-2010, drive: four-wheel, {OTHER}"),
        ("years: 2007-2010, note: grey plug", f"years: 2007-2010, note: black plug, {OTHER}"),
        ("years: 2007-2010", f"years: 2007-2010, {OTHER}, lever: [P, R, N, D]"),
        ("years: 2007-2010", f"years: 2007-2010, {OTHER}, gearbox: Tamblin Wide"),
        ("to: 2009-06", f"from: 2009-07, {OTHER}"),
        ("years: 2007-2009", f"from: 2011-01, {OTHER}"),
    ],
)
def test_what_tells_them_apart(first: str, second: str) -> None:
    found_at_marks(RULE, _lines(first, second), alone=False)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("years: 2007-", f"»years: 2019-2020, {OTHER}"),
        ("years: 2007-2010, to: 2010-04", f"»years: 2010-2012, from: 2010-04, {OTHER}"),
        ("years: 2007-2010, to: 2010", f"»years: 2010-2012, from: 2010, {OTHER}"),
        ("years: 2007-2010, engine: petrol", f"»years: 2010, engine: petrol, {OTHER}"),
        ("years: 2007-2010", f"»{OTHER}"),
        ("years: 2007-2010, note: same", f"»years: 2007-2010, note: same, {OTHER}"),
        ("years: 2007-2009", f"»from: 2008-01, {OTHER}"),
    ],
)
def test_what_does_not(first: str, second: str) -> None:
    found_at_marks(RULE, _lines(first, second))


def test_the_same_answer_twice_is_no_ambiguity() -> None:
    found_at_marks(RULE, _lines("years: 2007-2010", "years: 2009-2012", "years: 2008-2009, plug: six-wire-too"))


@pytest.mark.parametrize("rest", ["plug: one-wire", "came_with: TB-20418", "note: nobody looked"])
def test_where_one_does_not_say_only_what_it_says_is_held_against_it(rest: str) -> None:
    text = parts(part(), part("TB-20418")) + PLUGS
    text += "      - {vehicle: Corran Delver 2.4, gearbox: Tamblin Short}\n"
    text += f"      - {{vehicle: Corran Delver 2.4, gearbox: Tamblin Short, {rest}}}\n"
    found_at_marks(RULE, text, others=["no-seat"])


def test_another_vehicle_is_another_vehicle() -> None:
    text = _lines("years: 2007-2010", f"years: 2007-2010, {OTHER}")
    found_at_marks(RULE, text.replace("Delver 2.4, years: 2007-2010, plug: one", "Delver 2.0, years: 2007-2010, plug: one"))


def test_three_answers_are_two_findings() -> None:
    found = found_at_marks(
        RULE, _lines("years: 2007-2010", f"»years: 2007-2010, {OTHER}", "»years: 2007-2010, plug: six-wire-too, came_with: TB-20418")
    )
    assert len(found) == 2


def test_years_the_wrong_way_about_are_another_rule() -> None:
    found_at_marks(RULE, _lines("years: 2007-2010", f"years: 2010-2007, {OTHER}"), alone=False)


def test_the_two_may_stand_in_two_files() -> None:
    other = """
    # entries/switches/zinder.md
    kind: switch
    id: zinder
    parts:
      - {number: Z-1, connector: oval-9, sources: [{kind: seen}]}
    plugs:
      grey: {connector: oval-9, wires: {2: {circuit: start_out}}}
    applications:
      - {vehicle: »Corran Delver 2.4, years: 2008, gearbox: Tamblin Short, plug: grey, came_with: Z-1}
"""
    (found,) = found_at_marks(RULE, other, alone=False)
    assert "line " in found.message and "of entries/switches/tamblin-gate.md" in found.message


def test_of_many_lines_each_is_held_against_those_still_running() -> None:
    plugs = (OTHER, "plug: six-wire")
    lines = [f"{'»' if index else ''}years: {1900 + index}-{1901 + index}, {plugs[index % 2]}" for index in range(90)]
    assert len(found_at_marks(RULE, _lines(*lines))) == 89
