"""Words are made late, and nothing goes by them: no module compares, searches or splits a text that was made for people.

Held twice. The book is answered in a language that nobody speaks, in which every message is its own name: whatever is decided has to
come out the same. And no code takes what a maker of words gives to pieces, compares it or looks anything up in it.
"""

from __future__ import annotations

import ast
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.desk.impact.editing import edited
from tests.words.speaking import spoken, written

from rangebook.book.load import load
from rangebook.desk.answer import leading_reasons, seat_answer
from rangebook.desk.fit import as_data, fit
from rangebook.desk.impact.groups import sections
from rangebook.desk.worklists import measurements
from rangebook.fitting.fitter import Fitter
from rangebook.revisions.report import impact
from rangebook.revisions.states import two_states
from rangebook.schema.store import load_schemas
from rangebook.site.facts.computed import Computed
from rangebook.site.model.answer import shown_seat
from rangebook.site.pages.worklists import worklists_data
from rangebook.words.catalogue import catalogue
from rangebook.words.reasons import reason_words

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "tools" / "rangebook"
TEXTS = {
    "text",
    "says",
    "why",
    "what",
    "words",
    "unsaid",
    "stands_on",
    "known",
    "checks",
    "moves_why",
    "idle_words",
    "short",
    "status_words",
    "of",
    "tried",
    "record",
}
"""Keys whose values are for people."""


def muddled(message: Any, name: str) -> Any:
    """A message without a word of its own: the same choices, each of which says only where it stands."""
    if isinstance(message, dict):
        places = {key: inner for key, inner in message.items() if key in ("select", "plural", "given")}
        return {**places, **{key: muddled(inner, f"{name}/{key}") for key, inner in message.items() if key not in places}}
    return f"«{name}»"


@pytest.fixture
def no_language(tmp_path: Path) -> Iterator[None]:
    """Every message says its own name and nothing else."""
    with spoken(written(tmp_path / "none", catalogue().data, muddled)):
        yield


def without_texts(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: without_texts(value) for key, value in data.items() if key not in TEXTS}
    return [without_texts(one) for one in data] if isinstance(data, list | tuple) else data


def decided() -> list[Any]:
    """Everything that is told of the demo book, and of an edit of it, but for the words."""
    loaded = load(ROOT)
    fitter = Fitter(loaded.book)
    computed = Computed(loaded, fitter)
    files = {f"entries/{path.parent.name}/{path.name}": path.read_bytes() for path in sorted((ROOT / "entries").rglob("*.md"))}
    schemas = load_schemas()
    told: list[Any] = []
    judged = [(seat, verdict) for seat in fitter.seats for verdict in computed.candidates(seat)]
    told.append([(one.name, one.what, one.how.code, len(one.settles), len(one.waits)) for one in measurements(judged)])
    told.append(without_texts(json.loads(json.dumps(worklists_data(computed)))))
    for seat in fitter.seats:
        answer = seat_answer(fitter, seat)
        told.append(
            [(one.verdict.part.number, one.group, one.unsaid, one.known_from, leading_reasons(one.verdict)) for one in answer.candidates]
        )
        told.append(
            [
                (one.number, one.verdict, one.group, one.orders and len(one.orders), one.idle)
                for one in shown_seat(computed, seat).candidates
            ]
        )
    told.extend(without_texts(as_data(fit(fitter, part.number))) for part in loaded.book.parts[:20])
    for seed in (3, 8):
        states = two_states(ROOT, files.items(), edited(files, seed, 3).items(), schemas, schemas)
        report = impact(states, "", "", (), ())
        told.append(
            [
                (one.heading, one.folded, [[(two.number, two.seat.key) for two in group.changes] for group in one.groups])
                for one in sections(report)
            ]
        )
        told.append([(page.kind, page.id, page.why) for page in report.pages])
    return told


@pytest.mark.slow
def test_in_a_language_that_nobody_speaks_everything_is_decided_the_same(request: pytest.FixtureRequest) -> None:
    spoken = decided()
    assert any(len(one) > 3 for one in spoken)
    request.getfixturevalue("no_language")
    assert reason_words(measured()).startswith("«reasons:")
    assert decided() == spoken


def measured() -> Any:
    fitter = Fitter(load(ROOT).book)
    return next(reason for seat in fitter.seats for one in fitter.candidates(seat) for reason in one.checked)


# The same by looking at the code ------------------------------------------------------------------------------------------

TAKEN_APART = {
    *("split", "rsplit", "partition", "rpartition", "splitlines", "removeprefix", "removesuffix", "startswith", "endswith"),
    *("find", "rfind", "index", "rindex", "count", "replace", "strip", "lstrip", "rstrip", "translate"),
}
"""Methods of a text that look into it or cut it."""
SEARCHED = {"match", "search", "fullmatch", "findall", "finditer", "sub", "split", "subn"}


def modules() -> Iterator[tuple[Path, ast.Module]]:
    for file in sorted(PACKAGE.rglob("*.py")):
        yield file, ast.parse(file.read_text("utf-8"))


def makers_of_words() -> frozenset[str]:
    """Every function that is said to give ``Words``."""
    return frozenset(
        node.name
        for _, tree in modules()
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef) and isinstance(node.returns, ast.Name) and node.returns.id == "Words"
    )


def is_made(node: ast.AST, makers: frozenset[str], known: frozenset[str]) -> bool:
    """Whether an expression is words, or a name in this function that holds them."""
    if isinstance(node, ast.Call):
        called = node.func
        name = called.id if isinstance(called, ast.Name) else called.attr if isinstance(called, ast.Attribute) else ""
        return name in makers
    return isinstance(node, ast.Name) and node.id in known


def offences(tree: ast.AST, makers: frozenset[str]) -> Iterator[int]:
    """The lines on which words decide."""
    for function in (node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)):
        known = frozenset(
            target.id
            for node in ast.walk(function)
            if isinstance(node, ast.Assign) and is_made(node.value, makers, frozenset())
            for target in node.targets
            if isinstance(target, ast.Name)
        )
        made: Callable[[ast.AST], bool] = lambda node, known=known: is_made(node, makers, known)  # noqa: E731
        for node in ast.walk(function):
            if any(map(made, gone_by(node))):
                yield node.lineno


def gone_by(node: ast.AST) -> Iterator[ast.AST]:
    """What an expression compares, looks up, looks into or cuts."""
    match node:
        case ast.Compare():
            yield from (node.left, *node.comparators)
        case ast.Subscript():
            yield from (node.value, node.slice)
        case ast.Match():
            yield node.subject
        case ast.Call(func=ast.Attribute(attr=name, value=value)):
            if name in TAKEN_APART:
                yield value
            if name in SEARCHED:
                yield from node.args


@pytest.mark.slow
def test_no_module_compares_searches_or_splits_words() -> None:
    makers = makers_of_words()
    assert len(makers) > 25 and {"reason_words", "say", "listed"} <= makers
    found = [f"{file.relative_to(ROOT)}:{line}" for file, tree in modules() for line in offences(tree, makers)]
    assert found == []


@pytest.mark.parametrize(
    "code",
    [
        "if 'original' in reason_words(one): pass",
        "words = reason_words(one)\n    return words.split(';')",
        "return reason_words(one) == 'x'",
        "return re.search('x', reason_words(one))",
        "return TABLE[reason_words(one)]",
        "words = reason_words(one)\n    return words[:3]",
    ],
)
def test_the_look_at_the_code_finds_what_it_looks_for(code: str) -> None:
    assert list(offences(ast.parse(f"def f(one):\n    {code}\n"), frozenset({"reason_words"})))


def test_only_the_room_of_words_makes_them_and_no_room_that_decides_takes_them() -> None:
    """``Words(...)`` stands in ``words/`` alone; and verdicts know nothing of words at all."""
    for file, tree in modules():
        room = file.relative_to(PACKAGE).parts[0]
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Words":
                assert room == "words", file
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("rangebook.words"):
                assert room not in ("reading", "schema", "book", "reasons", "electrics", "mounting", "fitting"), file
