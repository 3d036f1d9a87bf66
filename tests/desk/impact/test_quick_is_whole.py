"""The quick way, which judges only what may have changed, against judging and linting both books whole."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

import pytest
from tests.desk.impact.editing import edited, some_of
from tests.oracles.answers import every_verdict_change

from rangebook.book.load import load_texts
from rangebook.lint.engine import lint
from rangebook.lint.revisions import lint_both
from rangebook.revisions.report import finding_changes
from rangebook.revisions.safety_circuits import SafetyCircuits
from rangebook.revisions.states import States, two_states
from rangebook.revisions.verdicts import VerdictChange, verdict_changes
from rangebook.schema.store import load_schemas

TODAY = date(2026, 6, 1)

EDITS = int(os.environ.get("RANGEBOOK_EDITS", "24"))
"""How many; more of them are tried by hand."""


def states_of(old: dict[str, bytes], new: dict[str, bytes]) -> States:
    schemas = load_schemas()
    return two_states(Path(), old.items(), new.items(), schemas, schemas)


def apart(old: dict[str, bytes], new: dict[str, bytes]) -> States:
    """Two books that share nothing."""
    return States(load_texts(dict(old)), load_texts(dict(new)), states_of(old, new).files)


def plain(changes: list[VerdictChange]) -> list[tuple]:
    return [(one.seat.key, one.number, one.part_family, one.old, one.new, one.differs, one.safety, one.vehicles) for one in changes]


@pytest.mark.parametrize("seed", range(EDITS))
def test_the_quick_way_tells_the_same(demo: dict[str, bytes], seed: int) -> None:
    old = edited(some_of(demo, seed), 1_000_000 + seed, seed % 4 == 3)
    new = edited(old, seed, 1 + seed % 3)
    shared, whole = states_of(old, new), apart(old, new)
    quick = plain(verdict_changes(shared, SafetyCircuits(shared)))
    assert quick == plain(every_verdict_change(whole, SafetyCircuits(whole)))
    found = lint_both(shared.old, shared.new, TODAY, shared.fitters)
    each = [lint(loaded, TODAY) for loaded in (whole.old, whole.new)]
    assert finding_changes(*found) == finding_changes(*each)


@pytest.mark.slow
def test_the_edits_do_change_verdicts_and_findings(demo: dict[str, bytes]) -> None:
    """The test above would prove nothing with edits that change nothing."""
    kinds = set()
    for seed in range(EDITS):
        shared = states_of(demo, edited(demo, seed, 2))
        kinds |= {(one.differs, one.old.state, one.new.state, bool(one.safety)) for one in verdict_changes(shared, SafetyCircuits(shared))}
        if len(kinds) >= 8:
            return
    pytest.fail(f"only {len(kinds)} kinds of changes: {kinds}")
