"""status-and-links."""

from __future__ import annotations

import pytest

from tests.lint.marking import found_at_marks


def _part(facts: str) -> str:
    return f"""
    kind: switch
    parts:
      - number: A1
        {facts}
        sources: [{{kind: seen}}]
      - {{number: A2, status: current, sources: [{{kind: seen}}]}}
    applications: []
"""


@pytest.mark.parametrize("status", ["current", "discontinued", "withdrawn"])
def test_a_successor_makes_it_superseded(status: str) -> None:
    (found,) = found_at_marks("status-and-links", _part(f"status: »{status}\n        superseded_by: [{{number: A2}}]"), alone=False)
    assert f"A1 is {status}, but is said to be superseded by A2" in found.message


@pytest.mark.parametrize("facts", ["status: »superseded", "status: »superseded\n        superseded_by: []"])
def test_superseded_by_nothing(facts: str) -> None:
    (found,) = found_at_marks("status-and-links", _part(facts), alone=False)
    assert "by what is not stated" in found.message


@pytest.mark.parametrize(
    "facts",
    [
        "status: superseded\n        superseded_by: [{number: A2}]",
        "superseded_by: [{number: A2}]",
        "status: withdrawn",
        "note: nothing known",
    ],
)
def test_what_agrees_or_is_not_known_is_fine(facts: str) -> None:
    found_at_marks("status-and-links", _part(facts), alone=False)
