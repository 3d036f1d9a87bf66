"""mates-not-stated."""

from __future__ import annotations

from collections.abc import Iterator

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "mates-not-stated"


@operator("whether a plug is sealed forgotten", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    listed = {mate.connector for one in book.connectors.values() for mate in one.mates}
    for source in ground.of("connector"):
        connector = book.connectors[source.at("id").value]
        if connector.mates or connector.id in listed:
            start, end = source.whole("sealed")
            yield source.seed((start, end, ""), told=source.line(source.at("mates").start) if connector.mates else 0)


def entries(facts: str, mates: str = "»oval-9-x") -> str:
    other = "    # entries/connectors/oval-9-x.md\n    ---\n    kind: connector\n    id: oval-9-x\n    title: Another\n    outline: oval\n"
    other += f"    rows: [[1, 2, 3, 4, 5], [6, 7, 8, 9]]\n{facts}    sources: [{{kind: seen}}]\n    ---\n"
    return f"{other}and\n    # entries/connectors/oval-9.md\n    kind: connector\n    id: oval-9\n    mates: [{mates}]\n"


def test_what_of_the_terminals_is_not_stated_is_named() -> None:
    (found,) = found_at_marks(RULE, entries("    terminal: {style: blade}\n    sealed: yes\n"))
    assert "`width_mm`, `on_switch` of the `terminal` of oval-9-x" in found.message


def test_the_sealing_is_asked_for() -> None:
    (found,) = found_at_marks(RULE, entries("    terminal: {style: blade, width_mm: 2.8, on_switch: male}\n"))
    assert "`sealed` of oval-9-x" in found.message and "rubber mat" in found.fix


def test_both_are_asked_for_with_a_map_too() -> None:
    assert len(found_at_marks(RULE, entries("    sealed: yes\n", "»{connector: oval-9-x, cavities: {1: 2}}"))) == 1


def test_all_stated_is_fine() -> None:
    found_at_marks(RULE, entries("    terminal: {style: blade, width_mm: 2.8, on_switch: male}\n    sealed: yes\n", "oval-9-x"))
