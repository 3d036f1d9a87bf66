"""What lints without an error raises nothing anywhere. ``benchmarks/lint_clean.py`` tries thousands more, and builds some."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from lint_clean import books, built, clean, start, through
from rangebook.book.load import load_texts
from rangebook.lint.engine import lint

TODAY = date(2026, 6, 1)
FAMILY = "entries/switches/tamblin-gate.md"


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(30))
@pytest.mark.slow
def test_odd_books_through_every_answer(seed: int) -> None:
    tried = 0
    for before, files, loaded, day in books(seed):
        through(loaded, before, files, day)
        tried += 1
    assert tried, "no change of this seed left a clean book"


def with_value(key: str, value: str, file: str = FAMILY) -> dict[str, bytes]:
    """The small book with the first value of a key another one."""
    files = start()
    text, changes = re.subn(rf"{key}: (\"[^\"\n]*\"|[^,}}\n]+)", f"{key}: {value}", files[file].decode(), count=1)
    assert changes == 1
    return {**files, file: text.encode()}


BLANK = ('" "', '"\u00a0"', '"\u2003\u3000"', '" \u2028"')


@pytest.mark.parametrize("key", ["vehicle", "title", "detail"])
@pytest.mark.parametrize("blank", BLANK)
def test_blanks_alone_are_no_text(key: str, blank: str) -> None:
    assert clean(with_value(key, blank), TODAY) is None


@pytest.mark.parametrize("blank", BLANK)
@pytest.mark.parametrize("name", ["short-boss", "six-wire"])
def test_nor_a_name_of_a_mount_or_plug(name: str, blank: str) -> None:
    files = start()
    files[FAMILY] = files[FAMILY].replace(name.encode(), blank.encode())
    assert clean(files, TODAY) is None


def test_a_name_that_is_too_long_for_a_file_is_refused() -> None:
    """255 bytes are what most file systems have (from memory)."""
    files = {file: data.replace(b"oval-9", b"x" * 250) for file, data in start().items()}
    files[f"entries/connectors/{'x' * 250}.md"] = files.pop("entries/connectors/oval-9.md")
    assert clean(files, TODAY) is None


@pytest.mark.parametrize("day", [date.min, date.max, date(9999, 12, 30)])
def test_any_day_that_there_is(day: date) -> None:
    loaded = load_texts(start(), root=Path())
    lint(loaded, day)


@pytest.mark.parametrize(("key", "value"), [("on", "9999-12-31"), ("on", "1000-01-01"), ("vehicle", '"{{ x }} {% y %} %s"')])
def test_these_build(key: str, value: str) -> None:
    built(with_value(key, value))
