"""terminal-outside."""

from __future__ import annotations

from collections.abc import Iterator

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "terminal-outside"


@operator("a terminal of a cavity that is not there", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for kind in ("connector", "kit"):
        for source in ground.of(kind):
            for _, key in source.key_nodes("terminals"):
                yield source.put(key, "77")


def test_of_a_connector() -> None:
    (found,) = found_at_marks(RULE, "    kind: connector\n    terminals: {»77: {width_mm: 6.3}, 7: {width_mm: 6.3}}\n")
    assert "cavity 77" in found.message


def test_of_the_plug_that_a_kit_supplies() -> None:
    (found,) = found_at_marks(RULE, "    kind: kit\n    terminals: {»77: {width_mm: 2.8}, 7: {width_mm: 2.8}}\n")
    assert "cavity 77" in found.message
