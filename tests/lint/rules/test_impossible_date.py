"""impossible-date."""

from __future__ import annotations

import pytest


def kit(on: str) -> str:
    return f"    kind: kit\n    sources: [{{kind: seen}}, {{kind: seen, on: {on}}}]\n"


@pytest.mark.parametrize("on", ["2026-02-31", "2025-02-29", "2026-04-31", "2026-06-31"])
def test_a_day_that_is_not_there_is_found_where_it_stands(look, on: str) -> None:
    assert [one.at for one in look("impossible-date", kit(on))] == [f"{on}}}]"]


@pytest.mark.parametrize("on", ["2024-02-29", "2026-05-31"])
def test_days_that_are_there(lint_example, on: str) -> None:
    assert lint_example(kit(on)) == []


def test_deep_in_a_part_and_its_successor(look) -> None:
    found = look(
        "impossible-date",
        """
    kind: switch
    parts:
      - number: TB-20417
        sources: [{kind: seen, on: 2026-02-30}]
        status: superseded
        superseded_by: [{number: TB-20455, sources: [{kind: catalogue, on: 2026-02-31}]}]
      - number: TB-20455
        status: current
        sources: [{kind: seen}]
""",
    )
    assert sorted(one.at[:10] for one in found) == ["2026-02-30", "2026-02-31"]


def test_what_is_no_date_is_left_to_the_schema(lint_example) -> None:
    assert {one.rule for one in lint_example(kit("yesterday"))} == {"schema"}
