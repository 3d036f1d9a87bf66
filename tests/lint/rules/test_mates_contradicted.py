"""mates-contradicted."""

from __future__ import annotations

import pytest

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import sow

RULE = "mates-contradicted"

sow("a plug of another kind that is said to go on", RULE, "connector", "mates.*", lambda value: "bayonet-9")
sow("a map to a cavity that there is not", RULE, "connector", "mates.*", lambda value: f"{{connector: {value}, cavities: {{1: 99}}}}")


def entries(
    mates: str,
    rows: str = "[1, 2, 3, 4, 5], [6, 7, 8, 9]",
    made: str = "blade, width_mm: 2.8, on_switch: male",
    outline: str = "oval",
    sealed: str = "yes",
) -> str:
    other = f"    # entries/connectors/oval-9-x.md\n    kind: connector\n    id: oval-9-x\n    title: Another\n    outline: {outline}\n"
    other += f"    rows: [{rows}]\n    terminal: {{style: {made}}}\n    sealed: {sealed}\n"
    return f"{other}and\n    # entries/connectors/oval-9.md\n    kind: connector\n    id: oval-9\n    mates: [{mates}]\n"


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"rows": "[1, 2, 3, 4, 6], [5, 7, 8, 9]"}, "other labels"),
        ({"rows": "[1, 2, 3], [4, 5, 6], [7, 8, 9]"}, "not in the same places"),
        ({"made": "blade, width_mm: 1.5, on_switch: male"}, "1.5 mm, male on the switch against blade, 2.8 mm"),
        ({"made": "blade, width_mm: 2.8, on_switch: female"}, "female on the switch against blade"),
        ({"made": "pin, width_mm: 2.8, on_switch: male"}, "pin, 2.8 mm"),
        ({"outline": "round"}, "round and the other oval"),
        ({"sealed": "no"}, "oval-9 is sealed and the other is not"),
    ],
)
def test_each_fact_that_is_not_the_same_is_told(changes: dict[str, str], says: str) -> None:
    (found,) = found_at_marks(RULE, entries("»oval-9-x", **changes))
    assert says in found.message


def test_what_is_the_same_is_fine_and_widths_within_a_twentieth_are() -> None:
    found_at_marks(RULE, entries("oval-9-x"))
    found_at_marks(RULE, entries("oval-9-x", made="blade, width_mm: 2.84, on_switch: male"))


def test_a_map_stands_for_the_rows_and_for_nothing_else() -> None:
    found_at_marks(RULE, entries("{connector: oval-9-x, cavities: {1: 2, 2: 1}}", rows="[1, 2], [3, 4]"))
    (found,) = found_at_marks(RULE, entries("»{connector: oval-9-x, cavities: {1: 2}}", rows="[1, 2], [3, 4]", outline="round"))
    assert "round" in found.message


def test_each_cavity_of_a_map_is_there_and_met_once() -> None:
    first, second = found_at_marks(RULE, entries("{connector: oval-9-x, cavities: {1: 1, »12: 2, 3: »12}}"))
    assert "oval-9-x does not have" in first.message and "meets 12, which oval-9 does not have" in second.message
    doubled = found_at_marks(RULE, entries("{connector: oval-9-x, cavities: {1: »4, 2: »4, 3: 5}}"))
    assert all("two cavities of the plug meet 4" in one.message for one in doubled)


def test_itself_and_one_listed_twice() -> None:
    (itself,) = found_at_marks(RULE, entries("oval-9-x, »oval-9"))
    assert "lists itself" in itself.message
    (twice,) = found_at_marks(RULE, entries("oval-9-x, »oval-9-x"))
    assert "listed twice" in twice.message


def test_a_plug_that_is_not_in_the_book_is_the_business_of_another_rule() -> None:
    found_at_marks(RULE, "    # entries/connectors/oval-9.md\n    kind: connector\n    id: oval-9\n    mates: [oval-99]\n", alone=False)
