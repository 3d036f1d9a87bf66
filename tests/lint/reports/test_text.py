"""The report that people read."""

from __future__ import annotations

from rangebook.lint.finding import Finding, Severity
from rangebook.lint.reports import text
from rangebook.lint.reports.text import WIDEST, excerpt


def test_place_words_source_line_caret_and_what_to_do(loaded) -> None:
    one = Finding("entries/kits/oval-9-renewal.md", 8, 27, "kit-moves", Severity.ERROR, "it goes nowhere", "give it a place")
    assert text.write([one], loaded).splitlines() == [
        "entries/kits/oval-9-renewal.md:8:27: error: it goes nowhere [kit-moves]",
        "    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}",
        "                              ^",
        "    give it a place",
        "4 entries: 1 error",
    ]


def test_it_counts_each_severity(findings, loaded) -> None:
    assert text.write(findings, loaded).splitlines()[-1] == "4 entries: 1 error, 1 warning, 1 hint"
    assert text.write([findings[0]] * 2, loaded).splitlines()[-1] == "4 entries: 2 errors"
    assert text.write([], loaded) == "4 entries: nothing found\n"


def test_a_file_that_could_not_be_read_has_no_excerpt(loaded) -> None:
    one = Finding("entries/kits/gone.md", 1, 1, "unreadable-file", Severity.ERROR, "not UTF-8", "save it as UTF-8")
    assert text.write([one], loaded).splitlines()[:2] == [
        "entries/kits/gone.md:1:1: error: not UTF-8 [unreadable-file]",
        "    save it as UTF-8",
    ]


def test_the_caret_counts_what_a_terminal_shows() -> None:
    assert excerpt(["ab"], 1, 2) == ("ab", " ^")
    assert excerpt(["ab"], 1, 9) == ("ab", "  ^"), "behind the last character where something is missing"
    assert excerpt(["\tab"], 1, 2) == (" ab", " ^"), "a tab is one column here as it is in the place that is named"
    assert excerpt(["漢字x"], 1, 3) == ("漢字x", "    ^"), "wide characters take two columns"
    assert excerpt(["e\u0301x"], 1, 3) == ("e\u0301x", " ^"), "a combining accent takes none"
    assert excerpt(["a\x1b[31mb"], 1, 1) == ("a\\u{1B}[31mb", "^"), "nothing that a terminal would act on"


def test_of_a_long_line_the_part_about_the_caret_is_shown() -> None:
    line = "".join(chr(ord("a") + place % 26) for place in range(400))
    for column in (1, 61, 200, 399, 400):
        shown, caret = excerpt([line], 1, column)
        assert shown[caret.index("^")] == line[column - 1]
        assert len(shown) <= WIDEST + 4
    assert excerpt([line], 1, 1)[0].endswith(" …") and excerpt([line], 1, 400)[0].startswith("… ")


def test_a_line_that_is_not_there_has_no_excerpt() -> None:
    assert excerpt(["a"], 2, 1) == () and excerpt(["a"], 0, 1) == () and excerpt([], 1, 1) == ()
