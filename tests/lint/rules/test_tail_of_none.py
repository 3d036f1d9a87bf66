"""tail-of-none."""

from __future__ import annotations

from collections.abc import Iterator

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "tail-of-none"


@operator("a tail beside several connectors", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.nodes("parts", "*", "connectors"):
            key = source.key(*path)
            indent = source.text[source.text.rindex("\n", 0, key.start) : key.start]
            yield source.seed((key.start, key.start, f"tail: {{length_mm: 180}}{indent}"))


def _part(lines: str) -> str:
    return f"    kind: switch\n    parts:\n      - number: TB-20417\n{lines}        mount: short-boss\n        sources: [{{kind: seen}}]\n"


SEVERAL = "        connectors: {main: oval-9, lamp: {connector: oval-13, tail: {length_mm: 180}}}\n"


def test_a_tail_that_is_of_none_of_several() -> None:
    (found,) = found_at_marks(RULE, _part(SEVERAL + "        »tail: {length_mm: 180}\n"), alone=False)
    assert "main and lamp" in found.message


def test_of_a_design() -> None:
    more = "        revisions:\n          - {when: {marked: B}, connectors: {main: oval-9, lamp: oval-13}, »tail: {length_mm: 180}}\n"
    found_at_marks(RULE, _part("        connector: oval-9\n" + more), alone=False)


def test_the_tail_of_a_connector_and_of_one_of_several() -> None:
    found_at_marks(RULE, _part("        connector: oval-9\n        tail: {length_mm: 180}\n"), alone=False)
    found_at_marks(RULE, _part(SEVERAL), alone=False)
