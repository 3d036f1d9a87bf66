"""What the reader takes, and what it refuses with file, line and column."""

from __future__ import annotations

import pytest

from rangebook.reading.entry import read_entry
from rangebook.reading.files import MAX_BYTES
from rangebook.reading.located import mark_at
from rangebook.words.problems import problem_fix, problem_words

FILE = "entries/switches/a.md"


def read(text: str | bytes):
    return read_entry(FILE, text.encode() if isinstance(text, str) else text)


@pytest.mark.parametrize(
    "typed", ["0123", "NO", "no", "1e3", "1E5", "12:30", "3", "~", "null", "yes", "0x1F", "1_000", ".5", "2026-02-11", "<<", "=", "+1"]
)
def test_every_scalar_stays_what_was_typed(typed: str) -> None:
    # YAML 1.1 (https://yaml.org/type/) would read these as numbers, truth values, nothing, dates and sexagesimals.
    entry = read(f"---\na: {typed}\nb: [{typed}, {{x: {typed}}}]\n---\n")
    assert entry.problems == []
    assert entry.front == {"a": typed, "b": [typed, {"x": typed}]}


def test_values_and_keys_know_line_and_column() -> None:
    entry = read("---\nkind: kit\nmoves: {1: 2, 3: 4}\nseals:\n  - 6\n  - {x: 7}\n---\nprose\n")
    front = entry.front
    assert mark_at(front, ["kind"]) == (2, 7)
    assert mark_at(front, ["moves", "3"], key=True) == (3, 15)
    assert mark_at(front, ["moves", "3"]) == (3, 18)
    assert mark_at(front, ["seals", 1, "x"]) == (6, 9)
    assert mark_at(front, ["seals", 9]) == mark_at(front, ["seals"])  # where it is missing
    assert (entry.prose, entry.prose_line) == ("prose\n", 8)


def test_columns_count_characters_not_bytes() -> None:
    assert mark_at(read("---\na: {é: ü, b: c}\n---\n").front, ["a", "b"]) == (2, 14)


REFUSED = [
    ("duplicate key", "---\na: 1\nb: 2\na: 3\n---\n", "duplicate-key", (4, 1)),
    ("duplicate key inside", "---\na: {x: 1, y: 2, x: 3}\n---\n", "duplicate-key", (2, 17)),
    ("anchor", "---\na: &x 1\n---\n", "yaml-feature", (2, 4)),
    ("alias", "---\na: &x 1\nb: *x\n---\n", "yaml-feature", (3, 4)),
    ("tag", "---\na: !!int 3\n---\n", "yaml-feature", (2, 4)),
    ("own tag on a list", "---\na: !mine [1]\n---\n", "yaml-feature", (2, 4)),
    ("tab", "---\na: [1,\t2]\n---\n", "yaml-feature", (2, 7)),
    ("tab as indent", "---\na:\n\tb: 1\n---\n", "yaml-feature", (3, 1)),
    ("two documents", "---\nkind: kit\n---\nkind: kit\nid: b\n---\n", "front-matter", (3, 1)),
    ("document end and more", "---\na: 1\n...\nb: 2\n---\n", "yaml-syntax", (4, 1)),
    ("document begins anew", "---\na: 1\n--- {b: 2}\n---\n", "front-matter", (3, 1)),
    ("list as key", "---\n? [a]\n: b\n---\n", "yaml-feature", (2, 3)),
    ("no front matter", "hello\n", "front-matter", (1, 1)),
    ("empty file", "", "front-matter", (1, 1)),
    ("no end", "---\na: 1\n", "front-matter", (1, 1)),
    ("nothing in it", "---\n---\n", "front-matter", (2, 1)),
    ("a list", "---\n- a\n---\n", "front-matter", (2, 1)),
    ("bracket not closed", "---\na: [1, 2\nb: 3\n---\n", "yaml-syntax", (2, 4)),
    ("brace not closed", "---\nx: 1\na: {b: [1]\nc: 3\n---\n", "yaml-syntax", (3, 4)),
    ("quote not closed", '---\na: "x\n---\n', "yaml-syntax", (2, 4)),
    ("nested too deep", "---\na: " + "[" * 40 + "]" * 40 + "\n---\n", "yaml-syntax", (2, 19)),
    ("NEL counts as a line for YAML only", "---\na: 'x\u0085y'\n---\n", "unreadable-file", (2, 6)),
    ("NUL", "---\na: \x00\n---\n", "unreadable-file", (2, 4)),
]


@pytest.mark.parametrize(("text", "rule", "place"), [one[1:] for one in REFUSED], ids=[one[0] for one in REFUSED])
def test_what_is_refused_is_named_with_its_place(text: str, rule: str, place: tuple[int, int] | None) -> None:
    problems = read(text).problems
    ours = [problem for problem in problems if problem.rule == rule]
    assert ours and all(problem.file == FILE and problem_words(problem) and problem_fix(problem) for problem in ours)
    if place:
        assert place in [tuple(problem.mark) for problem in ours]


def test_bytes_that_are_not_utf8() -> None:
    (problem,) = read("---\na: é\nb: x".encode() + b"\xff\n---\n").problems
    assert (problem.rule, tuple(problem.mark)) == ("unreadable-file", (3, 5))
    assert "0xff" in problem_words(problem)


def test_more_than_one_mebibyte() -> None:
    head = b"---\na: b\n---\n"
    assert read(head + b"x" * (MAX_BYTES - len(head))).problems == []
    (problem,) = read(head + b"x" * (MAX_BYTES - len(head) + 1)).problems
    assert (problem.rule, tuple(problem.mark)) == ("unreadable-file", (1, 1))


def test_a_byte_order_mark_and_other_line_ends_do_no_harm() -> None:
    entry = read(b"\xef\xbb\xbf---\r\na: b\r\nc: d\r\n---\r\nprose\r\n")
    assert (entry.problems, entry.front, entry.prose) == ([], {"a": "b", "c": "d"}, "prose\n")
    assert mark_at(entry.front, ["c"]) == (3, 4)


def test_a_doubled_key_does_not_hide_the_next_problem() -> None:
    problems = read("---\na: 1\na: 2\nb: {c: 1, c: 2}\n---\n").problems
    assert [(problem.rule, problem.mark.line) for problem in problems] == [("duplicate-key", 3), ("duplicate-key", 4)]


def test_a_rule_of_dashes_in_the_prose_is_prose() -> None:
    entry = read("---\na: b\n---\n\nA heading\n---\n\nkind of thing\n\n---\nmore\n")
    assert entry.problems == [] and entry.prose.count("---") == 2


def test_an_error_reading_the_file_is_a_problem_of_that_file() -> None:
    (problem,) = read_entry(FILE, PermissionError(13, "Permission denied")).problems
    assert problem.rule == "unreadable-file" and "Permission denied" in problem_words(problem)
