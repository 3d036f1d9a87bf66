"""supersession-back-in-time."""

from __future__ import annotations

import pytest

from tests.lint.marking import found_at_marks


def _chain(*since: str, back: bool = False) -> str:
    """A1 to A2 to A3 and so on, with these dates, ``""`` for none; with ``back`` the last one leads to the first."""
    lines = ["    kind: switch", "    parts:"]
    for index, when in enumerate(since, start=1):
        following = 1 if back and index == len(since) else index + 1
        dated = f", since: {when}" if when else ""
        lines += [f"      - number: A{index}", "        status: superseded", f"        superseded_by: [{{number: A{following}{dated}}}]"]
        lines += ["        sources: [{kind: seen}]"]
    if not back:
        lines += [f"      - {{number: A{len(since) + 1}, status: current, sources: [{{kind: seen}}]}}"]
    return "\n".join([*lines, "    applications: []"]) + "\n"


RULE = "supersession-back-in-time"


def test_the_earlier_date_is_found_where_it_stands() -> None:
    (found,) = found_at_marks(RULE, _chain("2013-05", "»2011-01"), alone=False)
    assert "A2 is said to be superseded by A3 since 2011-01, but A1 by A2 only since 2013-05" in found.message


def test_each_link_is_held_against_the_one_before_it() -> None:
    # The third is later than the second, though earlier than the first: one date is wrong, not two.
    found_at_marks(RULE, _chain("2013", "»2009", "2011"), alone=False)
    found_at_marks(RULE, _chain("2013", "2014", "»2009"), alone=False)


def test_a_link_without_a_date_is_passed_over() -> None:
    (found,) = found_at_marks(RULE, _chain("2013", "", "»2009"), alone=False)
    assert "A1 by A2 only since 2013" in found.message


@pytest.mark.parametrize("dates", [("2013-05", "2013-05"), ("2013-05", "2013"), ("2013", "2013-01"), ("2013-05", "2013-06"), ("", "2005")])
def test_what_may_be_right_is_left_alone(dates: tuple[str, str]) -> None:
    found_at_marks(RULE, _chain(*dates), alone=False)


def test_a_year_before_a_month_of_a_later_year() -> None:
    found_at_marks(RULE, _chain("2013-05", "»2012"), alone=False)
    found_at_marks(RULE, _chain("2013", "»2012-12"), alone=False)


def test_a_ring_is_told_as_a_ring_only() -> None:
    # In a ring some date is always earlier than the one before it, and that is not what is wrong.
    found_at_marks(RULE, _chain("2009", "2013", back=True), alone=False)


def test_of_two_ways_to_a_part_the_later_one_is_named() -> None:
    text = """
    kind: switch
    parts:
      - {number: A1, status: superseded, superseded_by: [{number: A3, since: 2008}], sources: [{kind: seen}]}
      - {number: A2, status: superseded, superseded_by: [{number: A3, since: 2014}], sources: [{kind: seen}]}
      - {number: A3, status: superseded, superseded_by: [{number: A4, since: »2011}, {number: A5, since: 2015}], sources: [{kind: seen}]}
      - {number: A4, status: current, sources: [{kind: seen}]}
      - {number: A5, status: current, sources: [{kind: seen}]}
    applications: []
"""
    (found,) = found_at_marks(RULE, text, alone=False)
    assert "A2 by A3 only since 2014" in found.message
