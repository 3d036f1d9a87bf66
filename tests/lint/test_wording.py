"""A rule's messages stand with the rule, in English; another language has them in a file."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from rangebook.lint.finding import Line, Problem
from rangebook.lint.registry import all_rules
from rangebook.lint.wording import finding_of
from rangebook.reading.located import Mark
from rangebook.words import catalogue
from rangebook.words.catalogue import places_of
from tests.words.speaking import spoken

GONE = all_rules()["number-gone"]
PROBLEM = Problem("", "entries/kits/a.md", Mark(1, 1), "kit", {"number": "TB-1"})


def test_another_language_is_a_file(tmp_path: Path) -> None:
    english = finding_of(PROBLEM, GONE)
    shutil.copytree(catalogue.FOLDER / "en", tmp_path / "xx")
    words = {"lint": {"number-gone.kit": "zik {number}"}, "lint_fix": {"number-gone.kit": "zak"}}
    (tmp_path / "xx" / "lint.json").write_text(json.dumps(words), "utf-8")
    with spoken(tmp_path / "xx"):
        other = finding_of(PROBLEM, GONE)
        assert finding_of(Problem(*("", "f", Mark(1, 1), "part"), {"number": "1"}), GONE).message.startswith("1 was in the book")
    assert (other.message, other.fix) == ("zik TB-1", "zak")
    assert "TB-1 was in the book" in english.message and other.identity == english.identity


def test_a_line_elsewhere_that_moves_makes_no_other_finding() -> None:
    one, other, another = (
        finding_of(
            Problem.of("duplicate-key", "f", Mark(9, 1), "yaml.duplicate_key", key=key, line=Line(line)), all_rules()["duplicate-key"]
        )
        for key, line in (("id", 3), ("id", 4), ("title", 3))
    )
    assert one.message != other.message and one.identity == other.identity != another.identity


@pytest.mark.parametrize("name", [name for name, rule in all_rules().items() if rule.messages])
def test_each_message_is_given_what_it_has_places_for(name: str) -> None:
    """Each code and each place of its messages stands in the rule's module."""
    module = Path(__file__).parents[2] / "tools" / "rangebook" / "lint" / "rules" / f"{name.replace('-', '_')}.py"
    source = module.read_text("utf-8")
    for told in all_rules()[name].messages.values():
        for place in (*places_of(told.found), *places_of(told.fix)):
            assert re.search(rf"\b{place.partition('.')[0]}=|\"{place.partition('.')[0]}\":", source), place
