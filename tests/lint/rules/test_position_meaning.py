"""position-meaning. Source: 49 CFR 571.102 S3.1.1, which calls park, reverse and neutral by name; the levers are typed by hand."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "position-meaning"


@operator("drive said to mean neutral", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        lever = source.at("positions")
        if "D" in [one.value for one in lever.items] and source.at("means") is None:
            _, end = source.line_span(lever.end - 1)
            seed = source.seed((end, end, "means: {D: N}\n"))
            yield type(seed)(seed.what, seed.files, frozenset({(source.file, source.line(end))}))


def lever(means: str) -> str:
    return f"    kind: switch\n    positions: [P, R, N, D, 2, 1]\n    means: {means}\n"


@pytest.mark.parametrize("means", ["{1: L}", "{2: S, 1: L}", "{R: R, 2: 2}"])
def test_what_can_be(means: str) -> None:
    found_at_marks(RULE, lever(means), alone=False)


@pytest.mark.parametrize("means", ["{»R: N}", "{»N: D}", "{»P: N}", "{»D: N}", "{»1: P, »2: R}", "{»2: 1, 1: L}"])
def test_what_cannot_be(means: str) -> None:
    found_at_marks(RULE, lever(means), alone=False)
