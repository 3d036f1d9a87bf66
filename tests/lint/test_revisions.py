"""Two revisions linted side by side differ by what two whole lints differ by. More edits are tried in tests/desk/impact."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from rangebook.book.load import load_texts
from rangebook.lint.engine import lint
from rangebook.lint.revisions import lint_both
from rangebook.revisions.states import States, two_states
from rangebook.schema.store import Schemas
from tests.lint.test_inputs import CHANGES, START, State, changed

OF_FILES = [name for name in CHANGES if CHANGES[name](START).files != START.files]
DISTURBED = [[], ["a pin with another circuit"], ["an unreadable connector"], ["an id twice"], ["it mates"]]


def sources(state: State) -> list[tuple[str, bytes | OSError]]:
    return [(file, text.encode()) for file, text in sorted(state.files.items())]


def states_of(old: State, new: State) -> States:
    schemas = Schemas(old.schemas)
    return two_states(Path(), sources(old), sources(new), schemas, schemas)


def differences(old: list, new: list) -> tuple[Counter, Counter]:
    return Counter(old) - Counter(new), Counter(new) - Counter(old)


@pytest.mark.parametrize("name", OF_FILES)
@pytest.mark.slow
def test_they_differ_as_two_whole_lints_do(name: str) -> None:
    allow = 'allow: [{rule: wire-circuit-disagrees, reason: "as seen on both"}]\npositions:'
    allowing = START.put("entries/switches/other-lever.md", "positions:", allow)
    for first in [*(changed(START, names) for names in DISTURBED), allowing]:
        old, new = first, CHANGES[name](first)
        states = states_of(old, new)
        both = lint_both(states.old, states.new, START.day, states.fitters)
        whole = [lint(load_texts(dict(sources(state)), Schemas(state.schemas)), START.day) for state in (old, new)]
        assert differences(*both) == differences(*whole)


def test_what_is_the_same_in_both_is_not_looked_at() -> None:
    old = START.put("entries/connectors/oval-9.md", "[1, 2", "[1, 2, 2")
    states = states_of(old, old.put("entries/switches/tamblin-gate.md", "closed: [P, N]", "closed: [P, D]"))
    before, after = lint_both(states.old, states.new, START.day)
    assert "cavity-twice" not in {one.rule for one in (*before, *after)} and "start-path" in {one.rule for one in after}
    assert "cavity-twice" in {one.rule for one in lint(states.new, START.day)}
