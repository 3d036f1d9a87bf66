"""Trailing space, tabs, line ends."""

from __future__ import annotations

import re

import markdown
import pytest

TEXT = (
    "---  \n"
    "kind: kit \n"
    "note: 'two \n"
    "  lines'\t\n"
    "--- \n"
    "A line that breaks  \n"
    "here, and one that does not \n"
    "   \n"
    "The end of a paragraph  \n"
    "\n"
    "```  \n"
    "code  \n"
    "  \n"
    "```  \n"
    "    indented  \n"
    "\n"
    "last  \n"
    "\n"
    " \n"
)

MENDED = (
    "---\n"
    "kind: kit\n"
    "note: 'two\n"
    "  lines'\n"
    "---\n"
    "A line that breaks  \n"
    "here, and one that does not\n"
    "\n"
    "The end of a paragraph\n"
    "\n"
    "```  \n"
    "code  \n"
    "  \n"
    "```  \n"
    "    indented  \n"
    "\n"
    "last\n"
)


def test_spaces_that_say_nothing_go_and_those_that_break_a_line_stay(mend) -> None:
    mended, by = mend(TEXT, kind="kit")
    assert mended == MENDED and set(by) == {"trailing-space"}
    assert mend(mended, kind="kit") == (mended, [])


def test_the_page_is_the_same() -> None:
    """Python-Markdown, which builds the site: the prose renders alike before and after, but for spaces before a line's end."""
    pages = (markdown.markdown(text.split("---", 2)[2].strip("- \n"), extensions=["fenced_code"]) for text in (TEXT, MENDED))
    before, after = (re.sub(r" +(\n|</p>)", r"\1", page) for page in pages)
    assert before == after and "<br" in before


def test_spaces_inside_a_literal_text_stay(mend) -> None:
    text = "---\nkind: kit\nnote: |\n  one  \n  two\nblanks: 1\n---\n"
    assert mend(text, "trailing-space", kind="kit") == (text, [])


@pytest.mark.parametrize("text", ["---\nkind: kit\n---", "---\nkind: kit\n---\n\n", "---\nkind: kit\n---\n \t\n"])
def test_the_file_ends_in_one_line_end(mend, text: str) -> None:
    assert mend(text, kind="kit") == ("---\nkind: kit\n---\n", ["trailing-space"])


def test_an_entry_that_cannot_be_read_is_mended_only_where_that_changes_nothing(mend) -> None:
    assert mend("---\nkind: [kit \n---\n", kind="kit") == ("---\nkind: [kit\n---\n", ["trailing-space"])
    assert mend("no front matter \n", kind="kit") == ("no front matter\n", ["trailing-space"])
    assert mend("", kind="kit") == ("", [])


def test_tabs_between_words(mend) -> None:
    text = "---\nkind:\tkit\nnumber:  \t A1\nmoves: {1:\t1,\t2: 2}\t\n---\n\tcode\n"
    assert mend(text, kind="kit") == ("---\nkind: kit\nnumber: A1\nmoves: {1: 1, 2: 2}\n---\n\tcode\n", ["trailing-space", *["tabs"] * 4])


def test_a_tab_that_indents_may_stand_for_any_number_of_spaces(mend) -> None:
    text = "---\nkind:\tkit\nmoves:\n\t1: 1\n---\n"
    assert mend(text, kind="kit") == (text, [])


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (b"\xef\xbb\xbf%s", "\n"),
        (b"\xef\xbb\xbf%s", "\r\n"),
        (b"%s", "\r"),
    ],
)
def test_byte_order_mark_and_line_ends(plan_for, before: bytes, after: str) -> None:
    from rangebook.lint.examples import base_book

    name = "entries/connectors/oval-13.md"
    text = base_book()[name]
    (one,) = plan_for({name: before % text.replace("\n", after).encode()}).changed
    assert one.after == text.replace("\n", "\n" if after == "\r" else after).encode() and {note.fixer for note in one.notes} == {
        "line-ends"
    }


def test_line_ends_become_what_most_of_them_are(plan_for) -> None:
    from rangebook.lint.examples import base_book

    name = "entries/connectors/oval-13.md"
    lf = base_book()[name].encode()
    crlf = lf.replace(b"\n", b"\r\n")
    for data, wanted in ((lf.replace(b"\n", b"\r\n", 1), lf), (crlf.replace(b"\r\n", b"\n", 1), crlf)):
        (one,) = plan_for({name: data}).changed
        assert one.after == wanted
    assert plan_for({name: crlf}).changed == []  # all alike is nobody's business but git's
