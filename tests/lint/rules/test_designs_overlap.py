"""designs-overlap."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

PART = """
    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        pins: {{1: start_feed, 2: start_out}}
        revisions: [{{when: {{{one}}}, mount: short-boss}}, {{when: {{{other}}}, mount: short-boss}}]
        sources: [{{kind: seen}}]
"""


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("marked: K", "marked: k"),
        ("built: {to: 2009-04}", "built: {from: 2009-04}"),
        ("serial: {from: 5, to: 9}", "serial: [3, 7]"),
        ("marked: K, built: {to: 2009}", "built: {from: 2009}, marked: K"),
    ],
)
def test_both_may_be_meant(look, one, other):
    (found,) = look("designs-overlap", PART.format(one=one, other=other))
    assert found.at.startswith("{") and "number 1" in found.message


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("marked: K", "marked: L"),
        ("built: {to: 2009-04}", "built: {from: 2009-05}"),
        ("serial: {to: A9}", "serial: {from: B1, to: B5}"),
        ("marked: K", "built: {from: 2009}"),  # one more thing to read, and nothing against the other
        ("steering: left", "steering: right"),
    ],
)
def test_let_be(look, one, other):
    assert look("designs-overlap", PART.format(one=one, other=other)) == []


@operator("a design written down twice", "designs-overlap")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.nodes("parts", "*", "revisions", "*"):
            start, end = source.line_span(node.start)[0], source.line_span(node.end - 1)[1]
            yield source.seed((end, end, source.text[start:end]), told=end)
