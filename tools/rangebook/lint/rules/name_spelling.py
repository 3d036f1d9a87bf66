"""A vehicle or gearbox spelled in two ways.

Vehicles in ``applications`` and gearboxes in ``gearboxes`` are written the same way throughout the book. Names that
differ only in capitals, spaces or hyphens are one name; the spelling that the book has least often is told, or the later
one where both are as frequent. (An application's ``gearbox`` is compared with its family's list by unknown-gearbox.)

Why it matters: the lists by vehicle and by gearbox would have it twice, each with half of the switches, and whoever looks
at one half does not know of the other.

Fails:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2010, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
      - {vehicle: Corran-Delver 2.4, years: 2011-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}

Mended:

    kind: switch
    applications:
      - {vehicle: Corran Delver 2.4, years: 2007-2010, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
      - {vehicle: Corran Delver 2.4, years: 2011-2012, gearbox: Tamblin Short, plug: six-wire, came_with: TB-20417}
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from rangebook.book.model import Family, KeyPath
from rangebook.lint.context import WholeBook
from rangebook.lint.rule import BookCheck, Line, Problem, Severity, Told, place_of, problem, rule

_LEFT_OUT = re.compile(r"[\s\-\u2010-\u2015]+")

_Place = tuple[Family, KeyPath]


def check_book(context: WholeBook) -> Iterator[Problem]:
    """Yield a finding at each vehicle and gearbox in the less frequent spelling."""
    families = context.book.families.values()
    vehicles = ((one.vehicle, (family, (*one.path, "vehicle"))) for family in families for one in family.applications)
    yield from _spelled_twice("vehicle", vehicles)
    gearboxes = ((name, (family, ("gearboxes", index))) for family in families for index, name in enumerate(family.gearboxes))
    yield from _spelled_twice("gearbox", gearboxes)


def _spelled_twice(what: str, named: Iterable[tuple[str, _Place]]) -> Iterator[Problem]:
    places: dict[str, list[_Place]] = {}
    for name, at in named:
        places.setdefault(name, []).append(at)
    spellings: dict[str, list[str]] = {}
    for name in places:
        spellings.setdefault(_LEFT_OUT.sub("", name).casefold(), []).append(name)
    for names in spellings.values():
        if len(names) == 1:
            continue
        # `max` takes the first of equals, which is the one that the book has first.
        usual = max(names, key=lambda name: len(places[name]))
        there, path = places[usual][0]
        line = place_of(there.entry, path).line
        for name in names:
            for family, where in places[name] if name != usual else ():
                yield problem(family, where, what, name=name, usual=usual, file=there.entry.file, line=Line(line))


_ELSEWHERE = "is spelled {usual} elsewhere, as in {file}, line {line}"

MESSAGES = {
    "vehicle": Told(f"the vehicle {{name}} {_ELSEWHERE}", "write `{usual}`, or correct the other spelling"),
    "gearbox": Told(f"the gearbox {{name}} {_ELSEWHERE}", "write `{usual}`, here and in the applications, or correct the other spelling"),
}

RULE = rule(__name__, __doc__, Severity.WARNING, BookCheck(WholeBook, check_book), messages=MESSAGES)
