"""no-seat."""

from __future__ import annotations

from tests.lint.marking import found_at_marks


def _application(facts: str) -> str:
    return f"    kind: switch\n    applications:\n      - {{{facts}, years: 2007-2012, gearbox: Tamblin Short}}\n"


def test_what_is_missing_is_named() -> None:
    (found,) = found_at_marks("no-seat", _application("vehicle: »Corran Delver 2.4, plug: six-wire"))
    assert "which part it came with (`came_with`) is not stated" in found.message and "plug" not in found.message.split("came_with")[0]
    (found,) = found_at_marks("no-seat", _application("vehicle: »Corran Delver 2.4, came_with: TB-20417"))
    assert "which plug it has (`plug`) is not stated" in found.message
    (found,) = found_at_marks("no-seat", _application("vehicle: »Corran Delver 2.4"))
    assert "(`plug`) and which part" in found.message


def test_a_name_that_is_not_in_the_book_is_another_rule() -> None:
    found_at_marks("no-seat", _application("vehicle: Corran Delver 2.4, plug: six-wires, came_with: TB-9"), alone=False)
