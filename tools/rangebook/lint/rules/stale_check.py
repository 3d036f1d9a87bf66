"""Something that nobody has looked at for ten years.

Of the dated sources of a family, a part, a supersession, a connector or a kit, the newest is not older than ten years.
(Ten is this book's own choice.) Sources without a date are not looked at.

Why it matters: makers change a switch and keep its number. What was measured on a part from the shelf ten years ago may
not be what the shelf has today; before someone relies on it, someone should look again.

Fails:

    kind: kit
    sources: [{kind: seen, detail: "bag opened", by: bench, on: 2013-02-11}]

Mended:

    kind: kit
    sources:
      - {kind: seen, detail: "bag opened", by: bench, on: 2013-02-11}
      - {kind: seen, detail: "a new bag, the same seals", by: bench, on: 2026-02-11}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book import build
from rangebook.lint.context import Day
from rangebook.lint.mentions import WHAT, sourced
from rangebook.lint.rule import Problem, Severity, Told, every_kind, problem, rule

YEARS = 10
"""A check older than this is told."""


def check(owner: build.Item, context: Day) -> Iterator[Problem]:
    """Yield a finding for the entry, and for each part and supersession in it, that was last looked at too long ago."""
    # As text: February 29th of a year that has none sorts as it should.
    oldest = f"{context.today.year - YEARS:04}{context.today.isoformat()[4:]}"
    for one in sourced(owner):
        dated = [(source.on, index) for index, source in enumerate(one.sources) if source.on]
        if dated and max(dated)[0] < oldest:
            newest, index = max(dated)
            yield problem(
                owner,
                (*one.path, "sources", index, "on"),
                "stale",
                of=one.of,
                instead_of=one.instead_of,
                date=newest,
                years=YEARS,
            )


MESSAGES = {
    "stale": Told(
        [WHAT, " was last looked at on {date}, more than {years} years ago"],
        "look again when one comes in, and add a source with the day",
    ),
}

RULE = rule(__name__, __doc__, Severity.HINT, *every_kind(Day, check), messages=MESSAGES)
