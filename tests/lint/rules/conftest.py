"""Shared by the tests of single rules."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import NamedTuple

import pytest

from rangebook.book.load import load_texts
from rangebook.lint.engine import lint
from rangebook.lint.examples import example_book


class Seen(NamedTuple):
    """A finding, with ``at``: the text that stands at its place, to the end of the line."""

    file: str
    at: str
    message: str
    fix: str


Look = Callable[..., list[Seen]]


@pytest.fixture
def look() -> Look:
    """What one rule finds in the example book with an example laid over it, or in a book of file names and texts."""

    def looked(rule: str, example: str | Mapping[str, str | bytes], today: date = date(2026, 6, 1)) -> list[Seen]:
        book = example_book(example) if isinstance(example, str) else example
        files = {name: text.encode("utf-8") if isinstance(text, str) else text for name, text in book.items()}
        found = [one for one in lint(load_texts(files), today) if one.rule == rule]
        seen = []
        for one in found:
            line = files[one.file].decode("utf-8", "replace").split("\n")[one.line - 1]
            seen.append(Seen(one.file.removeprefix("entries/"), line[one.column - 1 :], one.message, one.fix))
        return seen

    return looked


PARTS = """
    kind: switch
    applications: []
    parts:
      - number: TB-20461
        connector: oval-13
        status: current
        sources: [{{kind: seen}}]
        {facts}
"""


@pytest.fixture
def look_at_part(look: Look) -> Look:
    """The same for a family of one part of which some facts are stated, each ``key: value`` an argument."""
    return lambda rule, *facts: look(rule, PARTS.format(facts="\n        ".join(facts)))
