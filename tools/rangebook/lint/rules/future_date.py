"""A date that has not come yet.

The day of a source, the month of a supersession and the months and years of an application are not after today. A day
is let pass, because it may be tomorrow already where the entry was written; so is the next model year, because it begins
in this one (40 CFR 85.2304).

Why it matters: nobody has measured anything tomorrow. A date in the future is a slip of the pen, and it keeps an old
check from ever being told as old.

Fails:

    kind: kit
    sources: [{kind: seen, detail: "bag opened", by: bench, on: 2062-02-11}]

Mended:

    kind: kit
    sources: [{kind: seen, detail: "bag opened", by: bench, on: 2026-02-11}]
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from rangebook.book import build
from rangebook.book.model import Family, KeyPath
from rangebook.lint.context import Day
from rangebook.lint.mentions import sourced
from rangebook.lint.rule import Problem, Severity, every_kind, finding, rule


def check(owner: build.Item, context: Day) -> Iterator[Problem]:
    """Yield a finding for each date of an entry that lies in the future."""
    tomorrow = min(context.today, date.max - timedelta(days=1)) + timedelta(days=1)
    for one in sourced(owner):
        for index, source in enumerate(one.sources):
            if source.on and source.on > tomorrow.isoformat():
                yield _finding(owner, (*one.path, "sources", index, "on"), f"{one.who} is said to have been looked at on {source.on}")
    if isinstance(owner, Family):
        yield from _in_family(owner, context.today)


def _in_family(family: Family, today: date) -> Iterator[Problem]:
    month, year = today.strftime("%Y-%m"), today.year
    for part in family.parts:
        for link in part.superseded_by:
            if link.since and _later(link.since, month):
                yield _finding(
                    family, (*link.path, "since"), f"{link.number} is said to take the place of {part.number} since {link.since}"
                )
    for one in family.applications:
        since, until = one.built
        for key, own, stated in (("from", one.built_from, since), ("to", one.built_to, until)):
            path = (*one.path, key) if own else (*one.path, "when", "built", key)
            if stated and _later(stated, month):
                yield _finding(family, path, f"{one.vehicle} is said to have been built {key} {stated}")
        if max(one.first_year or 0, one.last_year or 0) > year + 1:
            yield _finding(family, (*one.path, "years"), f"{one.vehicle} is said to be of the model years {one.years}")


def _later(stated: str, month: str) -> bool:
    """Whether a month, or a year as a whole, is after this month. Text in this form sorts as time does."""
    return stated > month[: len(stated)]


def _finding(owner: build.Item, path: KeyPath, what: str) -> Problem:
    return finding(owner, path, f"{what}, which has not come yet", "correct the date; an open end is written `2009-`")


RULE = rule(__name__, __doc__, Severity.WARNING, *every_kind(Day, check))
