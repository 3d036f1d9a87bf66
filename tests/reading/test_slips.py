"""What a mechanic is told of a slip: what it is, where, and where the lines beside it begin."""

from __future__ import annotations

import pytest

from rangebook.reading.strict_yaml import parse
from rangebook.words.problems import problem_fix, problem_words

MARK = "»"


@pytest.mark.parametrize(
    ("front", "says", "fix"),
    [
        # Moved in too far or not far enough: the columns of the keys beside it.
        ("a:\n  - n: 1\n    c: 2\n     »m: 3\n    s: 4\n", "`c` on line 4, which it seems to stand beside, begins in column 5", "column 5"),
        ("a:\n  - n: 1\n    c: 2\n   »m: 3\n", "this line begins in column 4; `c` on line 4", "column 5"),
        ("a: 1\n  »b: 2\nc: 3\n", "begins in column 3; `a` on line 2", "column 1"),
        ("a:\n  - {x: 1}\n    »- {x: 2}\n", "column 5; `-` on line 3", "column 3"),
        ("a:\n  - {x: 1}\n »- {x: 2}\n", "column 2; `-` on line 3", "column 3"),
        # The first of several is the odd one.
        ("f:\n   »s: N\n  m: 1\n  t: 2\nz: 1\n", "this line begins in column 4; `m` on line 4", "column 3"),
        # A decimal comma in braces is a comma.
        ("a: {x: 10,»5, y: 2}\n", "`10,5` in braces is two things", "`10.5`"),
        ("o: {P: 2,»2, R: 4, 2: 7}\n", "`2,2` in braces", "`2.2`"),
        # A colon without its space.
        ("p: {»1:start_feed, 2: start_out}\n", "a space is missing behind the colon of `1`", "`1: start_feed`"),
        ("a: 1\nc:»oval\nd: 2\n", "a space is missing behind the colon of `c`", "`c: oval`"),
        # Signs of a phone.
        ("a: »“x: y”\nb: 1\n", "the quote `“` of a phone", "straight"),
        ("a: 1\nm:»\u00a0x\nb: 2\n", "a no-break space (U+00A0) stands here", "--fix"),
        ("a:\n  b: x\n»\u00a0\u00a0m: x\n  c: 2\n", "a no-break space", "plain space"),
        # What a merge left.
        ("a: 1\n»<<<<<<< HEAD\nb: 1\n=======\nb: 2\n>>>>>>> x\n", "a merge left the line `<<<<<<<`", "keep the one"),
        # A hash that takes the closing bracket with it.
        ("a: {n: see »#3, b: 1}\nc: 2\n", "a hash with a space before it begins a remark", "quotes"),
    ],
)
def test_the_slip_is_named_where_it_was_made(front: str, says: str, fix: str) -> None:
    at = front.index(MARK)
    _, problems = parse("a.md", front.replace(MARK, ""))
    assert says in problem_words(problems[0]) and fix in problem_fix(problems[0])
    assert tuple(problems[0].mark) == (front.count("\n", 0, at) + 2, at - front.rfind("\n", 0, at))
    assert len(problems) == 1


@pytest.mark.parametrize("front", ["a: {1: x, 2: y}\n", "a: {x: 10, 5: y}\n", "a: [10,5]\n", "a: http://x/y\n", "a: {b: 'x:y'}\n"])
def test_what_is_no_slip(front: str) -> None:
    assert parse("a.md", front)[1] == []
