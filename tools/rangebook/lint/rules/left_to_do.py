"""A place that is marked as still to be filled in.

A comment line in the front matter that begins with ``TODO`` says what somebody has yet to see or measure. ``rangebook new`` writes
such lines. They change no answer: what is not stated is not known.

Why it matters: what is not known makes an answer ``unknown``, and the one who can settle it may be the next to have the part in the
hand. A comment is seen by nobody who does not open the file.

Fails:

    kind: kit
    # TODO seals: the rear seals in the bag, each by its number of wire holes
    sources: [{kind: seen}]

Mended:

    kind: kit
    seals: [4, 6]
    sources: [{kind: seen}]
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from rangebook.lint.context import TextContext
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, problem_at, rule
from rangebook.reading import front_matter
from rangebook.reading.entry import Entry
from rangebook.reading.located import Mark

MOST = 50
"""After so many in one entry the rest is not told."""

_TODO = re.compile(r"^[ ]*(#[ ]*TODO\b[ :]*(.*?))[ ]*$", re.MULTILINE)


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at each comment line in the front matter that begins with ``TODO``."""
    if "TODO" not in entry.source:
        return
    halves = front_matter.split(entry.file, entry.source)
    if isinstance(halves, Problem):
        return
    for found in islice(_TODO.finditer(halves.front), MOST):
        line = halves.front.count("\n", 0, found.start(1)) + 2
        column = found.start(1) - (halves.front.rfind("\n", 0, found.start(1)) + 1) + 1
        yield problem_at(entry, Mark(line, column), "to_do", what=found.group(2))


MESSAGES = {
    "to_do": Told(
        ["marked as still to be filled in: ", {"given": "what", "yes": "{what}", "no": "it does not say what"}],
        "fill it in once somebody has seen it, then take the comment out; if nobody will, take it out: left out means not known",
    ),
}

RULE = rule(__name__, __doc__, Severity.HINT, TextCheck(TextContext, check_text), messages=MESSAGES)
