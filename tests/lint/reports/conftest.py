"""What the report formats are tried on: the example book, and one finding of each severity."""

from __future__ import annotations

import pytest

from rangebook.book.load import Loaded, load_texts
from rangebook.lint.examples import example_book
from rangebook.lint.finding import Finding, Severity

SWITCH = "entries/switches/tamblin-gate.md"
WRONG = '100 % wrong: <1, 2> & "3"'


@pytest.fixture
def loaded() -> Loaded:
    return load_texts(example_book(""))


@pytest.fixture
def findings() -> list[Finding]:
    """In the order of a report. The words hold what each format has to escape."""
    return [
        Finding("entries/kits/oval-9-renewal.md", 8, 10, "kit-moves", Severity.ERROR, WRONG, "move it, then\ntry again"),
        Finding(SWITCH, 3, 5, "lever-order", Severity.WARNING, "two bolts at 0° and 150°", "turn it"),
        Finding(SWITCH, 9, 1, "no-seat", Severity.HINT, "nothing can be said of it", "state the plug"),
    ]
