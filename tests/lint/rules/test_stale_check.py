"""stale-check."""

from datetime import date

import pytest

KIT = "    kind: kit\n    sources: [%s]\n"


@pytest.mark.parametrize(("on", "times"), [("2016-06-01", 0), ("2016-05-31", 1), ("2016-06-02", 0), ("2015-12-31", 1)])
def test_ten_years_to_the_day(look, on, times):
    assert len(look("stale-check", KIT % f"{{kind: seen, on: {on}}}", date(2026, 6, 1))) == times


def test_a_leap_day_is_a_day(look):
    kit = KIT % "{kind: seen, on: 2016-02-29}"
    assert look("stale-check", kit, date(2026, 2, 28)) == [] and len(look("stale-check", kit, date(2026, 3, 1))) == 1
    assert look("stale-check", KIT % "{kind: seen, on: 2018-02-28}", date(2028, 2, 29)) != []


def test_it_is_found_at_the_newest_day(look):
    (found,) = look("stale-check", KIT % "{kind: seen, on: 2011-01-01}, {kind: seen, on: 2013-01-01}, {kind: seen}")
    assert found.at.startswith("2013-01-01")


def test_one_newer_source_is_enough(look):
    assert look("stale-check", KIT % "{kind: seen, on: 2001-01-01}, {kind: hearsay, on: 2025-01-01}") == []


def test_without_a_day_nothing_is_said(look):
    assert look("stale-check", KIT % "{kind: seen}") == []


def test_parts_supersessions_families_and_connectors_are_looked_at(look):
    old = "[{kind: seen, on: 2010-01-01}]"
    found = look(
        "stale-check",
        f"""
    kind: switch
    sources: {old}
    parts:
      - {{number: TB-20417, superseded_by: [{{number: TB-20455, sources: {old}}}], sources: {old}}}
      - {{number: TB-20455, sources: [{{kind: seen, on: 2025-01-01}}]}}

and

    kind: connector
    sources: {old}
""",
    )
    assert [one.message.split(" was")[0] for one in found] == [
        "oval-13",
        "tamblin-gate",
        "that TB-20455 takes the place of TB-20417",
        "TB-20417",
    ]
