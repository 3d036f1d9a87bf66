"""trouble-code: codes that are none of a range switch. PyPI obd (older SAE J2012 wording) is the judge of which there are."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from obd.codes import DTC

from rangebook.book.trouble_codes import TEXTS, is_of_another
from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import each, operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "trouble-code"

OF_A_RANGE_SWITCH = re.compile(
    r"Transmission Range|PRNDL|Park/Neutral|Drive Switch|Reverse (Input|Output) Circuit|Gear Shift Position Circuit|Starter Relay Circuit"
)


@operator("the code of the temperature sensor", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source, _, node in each("switch", "trouble_codes", "*")(ground):
        yield source.seed((node.start, node.end, "P0710"))


def test_every_code_that_the_list_has_for_a_range_switch_is_known_and_no_other() -> None:
    listed = {code for code, words in DTC.items() if OF_A_RANGE_SWITCH.search(words)}
    assert listed == set(TEXTS)
    assert {"P0705", "P0819", "P0855", "P0914", "P0918"} <= listed


def test_every_other_code_of_the_list_is_told() -> None:
    others = {code for code in DTC if code[1] in "02" and code not in TEXTS}
    assert len(others) > 1000 and [code for code in others if not is_of_another(code)] == []


def test_one_of_something_else_is_found_at_its_place() -> None:
    (found,) = found_at_marks(RULE, "    kind: switch\n    trouble_codes: [P0705, »P0710]\n")
    assert found.message == "P0710 is not a code of a range switch"


@pytest.mark.parametrize("code", ["P0706", "P0918", "P1705", "P2801", "P3000", "U1000"])
def test_known_ones_and_those_of_makers_pass(code: str) -> None:
    found_at_marks(RULE, f"    kind: switch\n    trouble_codes: [{code}]\n")
