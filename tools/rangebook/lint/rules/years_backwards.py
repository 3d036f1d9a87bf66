"""Years that run backwards or contradict each other.

In an application the first year is not after the last, ``from`` is not after ``to``, and both lie within ``years``. A
vehicle may have been built in the calendar year before its model year: a model year holds January 1st of its own year,
begins on January 2nd of the year before at the earliest and ends with its own year at the latest (40 CFR 85.2303 and
85.2304).

Why it matters: people look up their vehicle by its year. With the years the wrong way round no vehicle is ever found;
with a month outside them half of the vehicles get the other half's answer.

Fails:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2012-2007, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}

Mended:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Application, Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding for each application whose years or months contradict each other."""
    for one in family.applications:
        first, last = one.first_year, one.last_year
        if first is not None and last is not None and first > last:
            yield problem(family, (*one.path, "years"), "years", vehicle=one.vehicle, first=first, last=last)
        elif first is not None:
            yield from _outside(family, one, first, last)
        if one.built_from and one.built_to and _month(one.built_from, 1) > _month(one.built_to, 12):
            yield problem(family, (*one.path, "to"), "built", vehicle=one.vehicle, since=one.built_from, until=one.built_to)


def _outside(family: Family, one: Application, first: int, last: int | None) -> Iterator[Problem]:
    since, until = one.built
    for name, own, month in (("from", one.built_from, since), ("to", one.built_to, until)):
        if month is None:
            continue
        path = (*one.path, name) if own else (*one.path, "when", "built", name)
        year = int(month[:4])
        # A second model year begins in the calendar year of the first one at the earliest (40 CFR 85.2304).
        earliest = first if name == "to" and last != first else first - 1
        if year < earliest or (last is not None and year > last):
            yield problem(family, path, "outside", vehicle=one.vehicle, name=name, month=month, years=one.years)


def _month(text: str, missing: int) -> tuple[int, int]:
    year, _, month = text.partition("-")
    return int(year), int(month or missing)


MESSAGES = {
    "years": Told(
        "{vehicle}: the years run from {first} back to {last}", "write `years: {last}-{first}`, or correct the year that is wrong"
    ),
    "built": Told(
        "{vehicle}: built from {since} up to {until}, which is earlier", "change the two about, or correct the one that is wrong"
    ),
    "outside": Told("{vehicle}: `{name}` is {month}, which is outside its years, {years}", "correct `{name}`, or the years"),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
