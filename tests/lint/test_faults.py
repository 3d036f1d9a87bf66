"""What is held against a verdict before a rule goes by it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest

from rangebook.book.load import load_texts
from rangebook.lint.context import Chains
from rangebook.lint.engine import lint
from rangebook.lint.examples import example_book
from rangebook.lint.faults import Faults
from rangebook.lint.finding import Finding
from rangebook.lint.rule import BookCheck
from rangebook.lint.rules import original_misfit
from tests.lint.marking import CONTACTS, part, parts

TWO_PLUGS = """    plugs:
      six-wire:
        connector: oval-9
        wires: {1: {}, 2: {}}
      other:
        connector: oval-9
        wires: {1: {}, 2: {}}
"""


def _is_sound(text: str) -> bool:
    """What a rule sees that goes by verdicts is asked about the first seat and the first two parts."""
    said: list[bool] = []

    def ask(context: Chains) -> Iterator[Finding]:
        said.append(not Faults(context).are_in(context.seats[0], context.book.parts[:2]))
        yield from ()

    asking = replace(original_misfit.RULE, generators=(BookCheck(Chains, ask),))
    lint(load_texts(example_book(text)), date(2026, 6, 1), [asking])
    return said == [True]


GOOD = parts(part(), part("TB-20455", "oval-13"), part("TB-9")) + TWO_PLUGS


def test_a_clean_book_is_sound() -> None:
    assert _is_sound(GOOD)


@pytest.mark.parametrize(
    ("found", "put"),
    [
        ("closed: [P, N]", "closed: [P, D]"),  # in a part that takes part
        ("wires: {1: {}, 2: {}}", "wires: {1: {}, 2: {}, 10: {}}"),  # in the plug
        ("    plugs:", "    positions: [P, R, N, D, 1, 2, 2]\n    plugs:"),  # in the lever
        ("    plugs:", "    mounts: {short-boss: {bolts: [{at_mm: 38, at_deg: 0, bolt_mm: 8, hole_mm: 6}]}}\n    plugs:"),  # in the mount
        ("number: TB-20455", "number: tb 20417"),  # which of the two is meant
    ],
)
def test_a_fault_in_what_takes_part_is_held_against_it(found: str, put: str) -> None:
    assert found in GOOD
    assert not _is_sound(GOOD.replace(found, put, 1))


@pytest.mark.parametrize(
    "text",
    [
        parts(part(), part("TB-20455", "oval-13"), part("TB-9", contacts=CONTACTS.replace("[P, N]", "[P, D]"))) + TWO_PLUGS,
        GOOD[: GOOD.index("other:")] + GOOD[GOOD.index("other:") :].replace("{1: {}", "{99: {}"),
        GOOD.replace("sources: [{kind: seen}]", "status: superseded\n        sources: [{kind: seen}]", 1),
        GOOD.replace("sources: [", "photos: [{file: front.jpg, view: front, shows: front.jpg}]\n        sources: [", 1),
        GOOD + "    trouble_codes: [P0705]\n    fitting: {set_in: M}\n",
        GOOD.replace("closed: [P, N]", "closed: [P, D]", 1)
        + "    allow: [{rule: start-path, at: parts.TB-20417, reason: seen with two meters}]\n",
    ],
)
def test_what_has_nothing_to_do_with_it_is_not(text: str) -> None:
    assert _is_sound(text)


def test_a_fault_in_a_kit_that_leads_there() -> None:
    assert not _is_sound("    kind: kit\n    moves: {1: 1, 2: 1}\nand\n" + GOOD)
    assert _is_sound("    kind: kit\n    moves: {1: 1, 2: 1}\n    allow: [{rule: kit-moves, reason: seen with two meters}]\nand\n" + GOOD)


def test_a_fault_in_a_connector() -> None:
    assert not _is_sound("    kind: connector\n    rows: [[1, 2, 3, 4, 5, 6, 7], [8, 9, 10, 11, 12, 12]]\nand\n" + GOOD)
