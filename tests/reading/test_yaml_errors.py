"""A slip of the pen is told where it was made, not where YAML came to a halt over it."""

from __future__ import annotations

import pytest

from rangebook.reading.strict_yaml import parse
from rangebook.words.problems import problem_fix, problem_words

MARK = "»"


@pytest.mark.parametrize(
    ("front", "says"),
    [
        ("a: 1\nb: »[x, y\nc: 2\n", "bracket `[`"),
        ("a: 1\nb: »{x: 1\nc: {y: 2}\n", "bracket `{`"),
        ("parts:\n  - »{a: 1, b: [2]\n  - {a: 1}\n", "bracket `{`"),
        ("a: »[1,\n    2,\n    3\nb: 1\n", "bracket `[`"),
        ("a: »[1, 2\n", "bracket `[`"),
        ('a: »"x\nb: 1\n', "quote"),
        ('a: »"x\nb: [1]\nc: "y"\nd: 1\n', "quote"),
        ('p:\n- {a: »"b}\n- {a: "c"}\n', "quote"),
        ('a: "one\n  two"\nb: »"x\nc: "y"\n', "quote"),  # the first one goes over two lines, and rightly
        ("a: 1\nb:»[x]\nc: 1\n", "a space is missing"),
        ("a: 1\n»b\nc: 1\n", "`key: value`"),
        # Where it was made and where it was seen are the same.
        ("a: 1\nb»: c: d\n", "mapping values"),
        ("a: [1, 2]»]\n", "did not find"),
        ("a:\n  b: [1,\n      2 »x: 3, {]\n", "did not find"),  # the bracket is still open here, and rightly
    ],
)
def test_the_place_to_mend(front: str, says: str) -> None:
    at = front.index(MARK)
    wanted = front.count("\n", 0, at) + 2, at - front.rfind("\n", 0, at)
    found, problems = parse("a.md", front.replace(MARK, ""))
    if found is not None or problems[0].rule != "yaml-syntax":
        pytest.fail(f"{found} {problems}")
    assert says in problem_words(problems[0])
    if says not in ("mapping values", "did not find"):
        assert tuple(problems[0].mark) == wanted
    else:
        assert problems[0].mark.line == wanted[0]
    assert problem_fix(problems[0])


def test_too_deep() -> None:
    _, (problem,) = parse("a.md", "a: " + "[" * 5000)
    assert "deep" in problem_words(problem) and problem.mark.line == 2
