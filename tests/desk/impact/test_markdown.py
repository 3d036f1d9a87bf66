"""Text from entries shows as itself in a comment. Python-Markdown is the judge."""

from __future__ import annotations

import lxml.html
import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rangebook.desk.impact.markdown import escape

TEXT = st.text(st.characters(blacklist_categories=("Cs", "Cc", "Cf", "Co", "Cn"), max_codepoint=0x2FF), max_size=40)
SIGNS = st.text("\\`*_{}[]()#+-.!|<>&~$@:/ ab1", max_size=20)


def shown(text: str) -> str:
    return " ".join(lxml.html.fromstring(markdown.markdown(f"- was: {text} end")).text_content().split())


@given(TEXT | SIGNS)
def test_it_shows_as_itself(text: str) -> None:
    assert shown(escape(text)) == " ".join(f"was: {text} end".split())


@given(TEXT | SIGNS)
def test_it_makes_no_element(text: str) -> None:
    found = lxml.html.fromstring(markdown.markdown(f"- was: {escape(text)} end"))
    assert {one.tag for one in found.iter() if isinstance(one.tag, str)} == {"ul", "li"}


@pytest.mark.parametrize(
    "text", ["@bench", "a @bench-2 b", "#12", "see #12", "https://example.org", "www.example.org", ":x:", "mail@example.org"]
)
def test_nobody_is_addressed_and_nothing_is_linked(text: str) -> None:
    """How GitHub finds names, issues and addresses in text: from memory."""
    assert text not in escape(text).replace("\\", "")
    assert escape(text).count("<!-- -->") == 1


def test_it_stays_in_its_cell_of_a_table() -> None:
    table = f"| a | b |\n| --- | --- |\n| {escape('x | y')} | z |\n"
    cells = lxml.html.fromstring(markdown.markdown(table, extensions=["tables"])).findall(".//td")
    assert [cell.text_content() for cell in cells] == ["x | y", "z"]
