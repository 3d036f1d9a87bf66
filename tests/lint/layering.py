"""A layer `ours` over the example book."""

from __future__ import annotations

from datetime import date

from rangebook.book.load import load_texts
from rangebook.lint.engine import lint
from rangebook.lint.examples import example_book
from rangebook.lint.finding import Finding
from rangebook.reading.stacked import Stacked

FAMILY = "entries/switches/tamblin-gate.md"
TODAY = date(2026, 6, 1)
SEEN = "sources: [{kind: seen, by: us, on: 2026-03-02}]"


def over(upper: str, file: str = FAMILY, kind: str = "switch") -> list[Finding]:
    """What is found with these lines in a layer over the example book."""
    texts = dict(example_book(""))
    above = f"---\nkind: {kind}\nid: {file.rsplit('/', maxsplit=1)[-1].removesuffix('.md')}\n{upper}---\n"
    texts[file] = Stacked.of([(0, "shared", texts[file]), (1, "ours", above.encode())])
    return lint(load_texts(texts), TODAY)
