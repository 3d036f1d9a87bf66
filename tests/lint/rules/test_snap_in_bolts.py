"""snap-in-bolts."""

from __future__ import annotations

from collections.abc import Iterator

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "snap-in-bolts"


@operator("bolts of a switch that snaps in", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.nodes("mounts", "*", "bolts"):
            if source.at(*path[:-1], "motion") is None:
                key = source.key(*path)
                indent = source.text[source.text.rindex("\n", 0, key.start) : key.start]
                yield source.seed((key.start, key.start, f"motion: snap_in{indent}"), told=key.start + 1)


def _mount(lines: str) -> str:
    return f"    kind: switch\n    mounts:\n      short-boss:\n        motion: snap_in\n{lines}"


BOLTS = "[{at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}]\n"


def test_bolts_of_what_snaps_in() -> None:
    (found,) = found_at_marks(RULE, _mount(f"        »bolts: {BOLTS}"), alone=False)
    assert "short-boss" in found.message


def test_what_snaps_in_has_none() -> None:
    found_at_marks(RULE, _mount(""), alone=False)


def test_what_a_fork_moves_is_bolted_on() -> None:
    found_at_marks(RULE, _mount(f"        bolts: {BOLTS}").replace("snap_in", "fork"), alone=False)
