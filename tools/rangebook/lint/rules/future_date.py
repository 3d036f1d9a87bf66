"""A date that has not come yet.

The day of a source or of a record of the bay, the month of a supersession and the months and years of an application are
not after today. A day is let pass, because it may be tomorrow already where the entry was written; so is the next model
year, because it begins in this one (40 CFR 85.2304).

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
from rangebook.book.model import Application, Family, Part
from rangebook.lint.context import Day
from rangebook.lint.mentions import WHAT, sourced
from rangebook.lint.rule import Problem, Severity, Told, every_kind, problem, rule


def check(owner: build.Item, context: Day) -> Iterator[Problem]:
    """Yield a finding for each date of an entry that lies in the future."""
    tomorrow = (min(context.today, date.max - timedelta(days=1)) + timedelta(days=1)).isoformat()
    for one in sourced(owner):
        for index, source in enumerate(one.sources):
            if source.on and source.on > tomorrow:
                yield problem(owner, (*one.path, "sources", index, "on"), "looked_at", of=one.of, instead_of=one.instead_of, date=source.on)
    if isinstance(owner, Family):
        yield from _tried(owner, tomorrow)
        yield from _in_family(owner, context.today)


def _tried(family: Family, tomorrow: str) -> Iterator[Problem]:
    owners: tuple[Part | Application, ...] = (*family.parts, *family.applications)
    for record in (record for one in owners for record in one.fitted):
        if record.on and record.on > tomorrow:
            yield problem(family, (*record.path, "on"), "fitted", date=record.on)


def _in_family(family: Family, today: date) -> Iterator[Problem]:
    month, year = today.strftime("%Y-%m"), today.year
    for part in family.parts:
        for link in part.superseded_by:
            if link.since and _later(link.since, month):
                yield problem(family, (*link.path, "since"), "since", number=link.number, part=part.number, date=link.since)
    for one in family.applications:
        since, until = one.built
        for name, own, stated in (("from", one.built_from, since), ("to", one.built_to, until)):
            path = (*one.path, name) if own else (*one.path, "when", "built", name)
            if stated and _later(stated, month):
                yield problem(family, path, name, vehicle=one.vehicle, date=stated)
        if max(one.first_year or 0, one.last_year or 0) > year + 1:
            yield problem(family, (*one.path, "years"), "years", vehicle=one.vehicle, date=one.years)


def _later(stated: str, month: str) -> bool:
    """Whether a month, or a year as a whole, is after this month. Text in this form sorts as time does."""
    return stated > month[: len(stated)]


_NOT_YET = ", which has not come yet"
_FIX = "correct the date; an open end is written `2009-`"

MESSAGES = {
    "looked_at": Told([WHAT, " is said to have been looked at on {date}", _NOT_YET], _FIX),
    "fitted": Told(["it is said to have been fitted on {date}", _NOT_YET], _FIX),
    "since": Told(["{number} is said to take the place of {part} since {date}", _NOT_YET], _FIX),
    "from": Told(["{vehicle} is said to have been built from {date}", _NOT_YET], _FIX),
    "to": Told(["{vehicle} is said to have been built to {date}", _NOT_YET], _FIX),
    "years": Told(["{vehicle} is said to be of the model years {date}", _NOT_YET], _FIX),
}

RULE = rule(__name__, __doc__, Severity.WARNING, *every_kind(Day, check), messages=MESSAGES)
