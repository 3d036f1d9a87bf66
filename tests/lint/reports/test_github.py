"""GitHub's workflow annotations.

Source of form and escaping: actions/toolkit, packages/core/src/command.ts (from memory): %, CR and LF in a message; in a
property : and , as well.
"""

from __future__ import annotations

import re
from dataclasses import replace

from rangebook.lint.finding import Finding, Severity
from rangebook.lint.reports import github

# What the runner takes as a command, from memory (actions/runner, ActionCommand.cs): ::name key=value,key=value::data
COMMAND = re.compile(r"::(?P<name>[a-z]+) (?P<properties>[^:]*)::(?P<data>.*)")


def _read(line: str) -> tuple[str, dict[str, str], str]:
    """What the runner makes of a line: the steps of the escaping, undone in reverse."""
    match = COMMAND.fullmatch(line)
    assert match, line
    undo = (("%3A", ":"), ("%2C", ","), ("%0D", "\r"), ("%0A", "\n"), ("%25", "%"))

    def plain(text: str, steps) -> str:
        for code, sign in steps:
            text = text.replace(code, sign)
        return text

    pairs = (pair.partition("=") for pair in match["properties"].split(","))
    return match["name"], {key: plain(value, undo) for key, _, value in pairs}, plain(match["data"], undo[2:])


def test_one_line_for_each_finding(findings, loaded) -> None:
    lines = github.write(findings, loaded, {}).splitlines()
    assert lines == [
        (
            "::error file=entries/kits/oval-9-renewal.md,line=8,col=10,title=kit-moves::"
            '100 %25 wrong: <1, 2> & "3"%0Amove it, then%0Atry again'
        ),
        "::warning file=entries/switches/tamblin-gate.md,line=3,col=5,title=lever-order::two bolts at 0° and 150°%0Aturn it",
        "::notice file=entries/switches/tamblin-gate.md,line=9,col=1,title=no-seat::nothing can be said of it%0Astate the plug",
    ]


def test_nothing_found_says_nothing(loaded) -> None:
    assert github.write([], loaded, {}) == ""


def test_what_comes_back_is_what_went_in(loaded) -> None:
    odd = Finding("entries/kits/a,b:c%2C.md", 1, 2, "kit-moves", Severity.ERROR, "50 %0A of\r\nit: x,y", "::error::no")
    (line,) = github.write([odd], loaded, {}).splitlines()
    assert _read(line) == (
        "error",
        {"file": odd.file, "line": "1", "col": "2", "title": "kit-moves"},
        "50 %0A of\r\nit: x,y\n::error::no",
    )


def test_file_names_begin_at_the_checkout(findings, loaded, tmp_path) -> None:
    book = replace(loaded, root=tmp_path / "shop" / "book")
    inside = github.write(findings[:1], book, {"GITHUB_WORKSPACE": str(tmp_path)})
    assert "file=shop/book/entries/kits/oval-9-renewal.md," in inside
    for elsewhere in (str(tmp_path / "shop" / "book"), str(tmp_path / "other"), ""):
        assert "file=entries/kits/oval-9-renewal.md," in github.write(findings[:1], book, {"GITHUB_WORKSPACE": elsewhere})
