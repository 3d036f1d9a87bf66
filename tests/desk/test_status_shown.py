"""Wherever a number stands, its status stands with it where it is not to be had by it any more; nobody is told a withdrawn number bare."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests import making

from rangebook.cli import main
from rangebook.desk.identify.standing import as_data, as_lines, standing
from rangebook.desk.identify.table import make_table
from rangebook.desk.prove import proof_lines, prove
from rangebook.fitting.fitter import Fitter

STATUS = {"TB-10417": "withdrawn", "TB-10418": "superseded", "TB-10419": "current"}
ENTRIES = (
    making.connector("c", 2),
    making.family(
        "f",
        [making.part(number, status=status, pins={"1": "ground", "2": "ground"}, contacts=[]) for number, status in STATUS.items()],
        applications=[],
    ),
)


def test_while_a_switch_is_identified() -> None:
    book = making.book(*ENTRIES)
    now = standing(make_table(Fitter(book)), {})
    (line,) = (text for _, text in as_lines(book, now) if "TB-10419" in text)
    assert "TB-10417 (withdrawn)" in line and "TB-10418 (superseded)" in line and line.endswith("TB-10419")
    assert {one["number"]: one["status"] for one in as_data(now)["parts"]} == STATUS


def test_on_the_proof_sheet_of_a_terminal() -> None:
    fitter = Fitter(making.book(*ENTRIES))
    heads = {number: next(text for _, text in proof_lines(prove(fitter, number))) for number in STATUS}
    assert "withdrawn" in heads["TB-10417"] and "superseded" in heads["TB-10418"] and "current" not in heads["TB-10419"]


@pytest.mark.parametrize("command", [["fit"], ["prove"], ["look"]])
def test_among_the_nearest_numbers(command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for file, data in making.texts(*ENTRIES).items():
        (tmp_path / file).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / file).write_bytes(data)
    assert main([*command, "TB-104177", "--root", str(tmp_path)]) == 1
    assert "TB-10417 (withdrawn)" in capsys.readouterr().err
