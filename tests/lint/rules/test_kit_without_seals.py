"""kit-without-seals."""

from __future__ import annotations

from collections.abc import Iterator

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "kit-without-seals"


@operator("the seals of a kit for a sealed plug forgotten", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    for source in ground.of("kit"):
        kit = book.kits[source.at("id").value]
        if kit.seals and book.connectors[kit.new].sealed:
            start, end = source.whole("seals")
            yield source.seed((start, end, ""), told=source.at("to").start)


def test_a_bag_that_is_said_to_hold_none_is_told_of() -> None:
    (found,) = found_at_marks(RULE, "    kind: kit\n    seals: »[]\n")
    assert "hold no rear seal" in found.message


def test_a_bag_of_which_nothing_is_stated_is_asked_for() -> None:
    text = "    # entries/kits/oval-9-renewal.md\n    ---\n    kind: kit\n    id: oval-9-renewal\n"
    text += "    number: TW-7706\n    title: Plug renewal\n"
    text += "    from: oval-9\n    to: »oval-13\n    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}\n    sources: [{kind: seen}]\n    ---\n"
    (found,) = found_at_marks(RULE, text, alone=False)
    assert "not stated" in found.message and "`seals`" in found.fix


def test_a_plug_that_is_not_sealed_needs_none() -> None:
    text = "    # entries/connectors/oval-13.md\n    kind: connector\n    id: oval-13\n    sealed: no\nand\n    kind: kit\n    seals: []\n"
    found_at_marks(RULE, text, alone=False)


def test_a_lead_that_is_ready_made_has_no_bag() -> None:
    text = "    # entries/kits/oval-9-renewal.md\n    ---\n    kind: kit\n    id: oval-9-renewal\n    number: TW-7706\n    title: Lead\n"
    text += "    from: oval-9\n    to: oval-13\n    joins: plug_in\n"
    text += "    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}\n    sources: [{kind: seen}]\n    ---\n"
    found_at_marks(RULE, text, alone=False)
