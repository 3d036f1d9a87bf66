"""Shared by the tests of mending."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from rangebook.lint.examples import base_book
from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.typed import Known
from rangebook.lint.plan import Plan, fix_text, plan
from rangebook.schema.store import load_schemas

TODAY = date(2026, 6, 1)
FILES = {
    "switch": "entries/switches/tamblin-gate.md",
    "connector": "entries/connectors/oval-13.md",
    "kit": "entries/kits/oval-9-renewal.md",
}
SCHEMAS = load_schemas()
KNOWN = Known(frozenset({"oval-13", "oval-9", "tamblin-gate", "oval-9-renewal"}), frozenset(SCHEMAS.circuits))


@pytest.fixture(scope="session")
def mend() -> Callable[..., tuple[str, list[str]]]:
    """The text of an entry mended, by all fixers or some, with the names of those that mended something."""

    def mended(text: str, *fixers: str, kind: str = "switch") -> tuple[str, list[str]]:
        page, notes = fix_text(Page(FILES[kind], text, SCHEMAS, KNOWN), *([fixers] if fixers else []))
        return page.text, [note.fixer for note in notes]

    return mended


@pytest.fixture(scope="session")
def plan_for() -> Callable[..., Plan]:
    """The plan for the example book with some files in place of its own."""

    def planned(changed: Mapping[str, str | bytes], only: set[str] | None = None) -> Plan:
        texts = {**base_book(), **changed}
        files = {name: text.encode("utf-8") if isinstance(text, str) else text for name, text in sorted(texts.items())}
        return plan(Path(), files, SCHEMAS, TODAY, only)

    return planned
