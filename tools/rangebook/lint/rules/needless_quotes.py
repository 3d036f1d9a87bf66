"""Quotes that do nothing.

A number, a yes or no, and a word from a list or with a form of its own (an id, a circuit, a letter for a lever position) stand
without quotes. Free text and part numbers may have them, and so may what some readers of YAML would take for something else: figures
that are a name (``"2"``), ``"NO"``, ``"-"``.

Why it matters: the same value looks different in two entries, and whoever searches the files for the one does not find the other.

Fails:

    kind: kit
    from: "oval-9"

Mended:

    kind: kit
    from: oval-9
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.fixing.edits import Edit, Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.hints import FIX, hints
from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.typed import Schema, is_free, paths_at, typed, ways_at
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, rule
from rangebook.reading.entry import Entry
from rangebook.schema.numbers import reads_as_number, reads_as_truth
from rangebook.schema.store import KINDS, Schemas

_CANDIDATE = re.compile(r"""(["'])[0-9A-Za-z+-][0-9A-Za-z_.+-]*\1""")

_WORD = re.compile(r"[A-Za-z][0-9A-Za-z_.-]*\Z")

_MEANT_OTHERWISE = frozenset({"y", "n", "yes", "no", "on", "off", "true", "false", "null"})
"""YAML 1.1 takes these for something else than text (https://yaml.org/type/bool.html, https://yaml.org/type/null.html)."""


def may_have_any(entry: Entry, schemas: Schemas) -> bool:
    """A quick look at whether an entry may have any: words alone in quotes, and not all of them in places for free text."""
    front = entry.front
    kind = front.get("kind") if front is not None else None
    if front is None or not isinstance(kind, str) or kind not in KINDS:
        return False
    marks = {
        (number, match.start() + 1)
        for number, line in enumerate(entry.source[: len(entry.source) - len(entry.prose)].split("\n"), start=1)
        if '"' in line or "'" in line
        for match in _CANDIDATE.finditer(line)
    }
    return bool(marks) and any(not all(map(is_free, ways_at(schemas, kind, path))) for path in paths_at(front, marks))


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each pair of quotes that does nothing. An entry written as JSON is left alone.

    Free text and part numbers keep their quotes, and so does what some readers of YAML would make something else of: ``"2"`` as a
    position, ``"NO"`` as a number, ``"-"`` in the rows of a connector.
    """
    if page.layout is None or page.layout.flow or page.kind is None:
        return
    for scalar, _, is_key, ways in typed(page.layout, page.schemas, page.kind):
        if scalar.quote not in ('"', "'") or page.text[scalar.start + 1 : scalar.end - 1] != scalar.value:
            continue
        if not _is_needless(scalar.value, ways):
            continue
        if is_key and page.text[scalar.end : scalar.end + 2] not in (": ", ":\n"):
            continue
        yield Fix(
            scalar.start,
            "needless",
            (Edit(scalar.start, scalar.end, scalar.value),),
            values={"found": page.text[scalar.start : scalar.end]},
        )


def _is_needless(value: str, ways: tuple[Schema, ...]) -> bool:
    kinds = {way.get("type") for way in ways}
    if kinds & {"number", "integer"} and reads_as_number(value):
        return True
    if "boolean" in kinds and reads_as_truth(value):
        return True
    if any(map(is_free, ways)):
        return False
    return bool(_WORD.match(value)) and value.lower() not in _MEANT_OTHERWISE


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at each pair of quotes that does nothing."""
    if entry.front is not None and may_have_any(entry, context.schemas):
        yield from hints(entry, context, find)


MESSAGES = {"needless": Told("{found} needs no quotes", ["take the quotes off; ", FIX])}

RULE = rule(
    __name__,
    __doc__,
    Severity.HINT,
    TextCheck(TextContext, check_text),
    messages=MESSAGES,
    fixer=Fixer("needless-quotes", Safety.FORM, Turn.QUOTES, find),
)
