"""tried-otherwise."""

from __future__ import annotations

import pytest

from tests.lint.marking import found_at_marks, part, parts
from tests.lint.seeding.operators.entering import sow

RULE = "tried-otherwise"


def _tried(record: str) -> str:
    return parts(part(more=f"fitted: [{{{record}}}]"))


def test_what_failed_and_fits_is_told_at_the_record() -> None:
    (found,) = found_at_marks(RULE, _tried("vehicle: Corran Delver 2.4, outcome: »fails"))
    assert "said to have failed in the Corran Delver 2.4" in found.message


@pytest.mark.parametrize(
    "record",
    ["vehicle: Corran Delver 2.4, outcome: works", "vehicle: Corran Nowhere 9.9, outcome: fails", "outcome: fails"],
)
def test_what_agrees_or_is_of_no_vehicle_of_the_book_is_fine(record: str) -> None:
    found_at_marks(RULE, _tried(record))


def test_what_worked_and_does_not_fit_is_told() -> None:
    other = part("TB-20455", "oval-13", more="fitted: [{vehicle: corran  delver 2.4, outcome: »works}]").replace(
        "closed: [P, N]", "closed: [P, N, D]"
    )
    (found,) = found_at_marks(RULE, parts(part(), other), alone=False)
    assert "TB-20455 is said to have worked" in found.message


sow("a record of the bay turned round", RULE, "switch", "parts.*.fitted.*.outcome", {"works": "fails"}.get)
