"""future-date. The next model year begins in this calendar year: 40 CFR 85.2304."""

from datetime import date

import pytest

TODAY = date(2026, 6, 1)


def test_every_date_of_a_family_is_looked_at(look):
    found = look(
        "future-date",
        """
    kind: switch
    sources: [{kind: seen, on: 2026-06-11}]
    parts:
      - number: TB-20417
        sources: [{kind: seen, on: 2020-01-01}, {kind: seen, on: 2026-06-12}]
        fitted: [{on: 2026-06-14, outcome: works}, {on: 2026-06-02, outcome: works}]
        superseded_by: [{number: TB-20455, since: 2026-07, sources: [{kind: seen, on: 2026-06-13}]}]
      - {number: TB-20455, sources: [{kind: seen}]}
    applications:
      - {vehicle: X 1, years: 2003-2029}
      - {vehicle: X 1, years: 2028-}
      - {vehicle: X 1, from: 2026-08}
      - {vehicle: X 1, to: 2027, fitted: [{on: 2027-01-15, outcome: fails}]}
""",
        TODAY,
    )
    assert [one.at.split("}")[0].split(",")[0] for one in found] == [
        "2026-06-11",
        "2026-06-12",
        "2026-06-14",
        "2026-07",
        "2026-06-13",
        "2003-2029",
        "2028-",
        "2026-08",
        "2027",
        "2027-01-15",
    ]


@pytest.mark.parametrize(
    ("on", "times"),
    [("2026-06-01", 0), ("2026-06-02", 0), ("2026-06-03", 1), ("2027-01-01", 1), ("2025-12-31", 0)],
)
def test_tomorrow_is_let_pass_and_the_day_after_is_not(look, on, times):
    for kind in ("kit", "connector"):
        assert len(look("future-date", f"    kind: {kind}\n    sources: [{{kind: seen, on: {on}}}]\n", TODAY)) == times


@pytest.mark.parametrize("facts", ["years: 2009-", "years: 2026-2027", "years: 2027", "from: 2026-06", "to: 2026", "from: 2026"])
def test_this_year_and_the_next_model_year_are_let_be(look, facts):
    assert look("future-date", f"    kind: switch\n    applications: [{{vehicle: X 1, {facts}}}]\n", TODAY) == []


def test_the_turn_of_the_year(look):
    kit = "    kind: kit\n    sources: [{kind: seen, on: 2027-01-01}]\n"
    assert look("future-date", kit, date(2026, 12, 31)) == [] and len(look("future-date", kit, date(2026, 12, 30))) == 1
