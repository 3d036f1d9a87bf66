"""supersession-dead-end."""

from __future__ import annotations

import pytest

from tests.lint.marking import found_at_marks


def _chain(last: str, mark: str = "»") -> str:
    return f"""
    kind: switch
    parts:
      - number: A1
        status: superseded
        superseded_by: [{{number: A2}}]
        sources: [{{kind: seen}}]
      - number: A2
        status: superseded
        superseded_by: [{{number: {mark}a-3}}]
        sources: [{{kind: seen}}]
      - number: A3
        {last}
        sources: [{{kind: seen}}]
    applications: []
"""


@pytest.mark.parametrize(
    ("status", "words"),
    [("discontinued", "discontinued and has no successor"), ("withdrawn", "must not be fitted"), ("superseded", "by what is not stated")],
)
def test_the_link_that_leads_to_the_end_is_told(status: str, words: str) -> None:
    (found,) = found_at_marks("supersession-dead-end", _chain(f"status: {status}"), alone=False)
    assert found.message.startswith("A2 is said to be superseded by A3,") and words in found.message


@pytest.mark.parametrize("last", ["status: current", "note: nobody knows"])
def test_an_end_that_can_be_ordered_or_may_be_is_fine(last: str) -> None:
    found_at_marks("supersession-dead-end", _chain(last, mark=""), alone=False)


def test_a_successor_that_is_not_in_the_book_is_another_rule() -> None:
    found_at_marks("supersession-dead-end", _chain("status: discontinued", mark="").replace("a-3", "B9"), alone=False)


def test_of_two_successors_the_dead_one_is_told() -> None:
    text = """
    kind: switch
    parts:
      - number: A1
        status: superseded
        superseded_by: [{number: A2}, {number: »A3}]
        sources: [{kind: seen}]
      - {number: A2, status: current, sources: [{kind: seen}]}
      - {number: A3, status: withdrawn, sources: [{kind: seen}]}
    applications: []
"""
    found_at_marks("supersession-dead-end", text, alone=False)


def test_a_discontinued_part_that_is_superseded_after_all_is_no_end() -> None:
    text = _chain("status: discontinued\n        superseded_by: [{number: A4}]", mark="").replace(
        "    applications", "      - {number: A4, status: current, sources: [{kind: seen}]}\n    applications"
    )
    found_at_marks("supersession-dead-end", text, alone=False)
