"""A rule's messages stand with the rule, in English; another language has them in a file. No rule makes a sentence itself."""

from __future__ import annotations

import ast
import json
import re
import shutil
from collections.abc import Iterator, Mapping
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any, NamedTuple

import pytest

from rangebook.lint import rules
from rangebook.lint.examples import example_book
from rangebook.lint.finding import Line, Problem
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Rule
from rangebook.lint.wording import finding_of
from rangebook.reading.located import Mark
from rangebook.words import catalogue
from rangebook.words.catalogue import places_of
from rangebook.words.problems import Told
from tests.lint.marking import found_in
from tests.words.speaking import NONSENSE, nonsense, spoken, written

ROOT = Path(__file__).parents[2]
LINT = ROOT / "tools" / "rangebook" / "lint"
RULES = list(all_rules().values())
HELPERS = ["conditions", "mentions", "safety", "readings", "prose", "fixing.hints"]
"""Modules beside the rules that make problems, or what is put into their words."""
MODULES = [*(f"rules.{rule.name.replace('-', '_')}" for rule in RULES), *HELPERS]
WORD = re.compile(r"[^\W\d_]{2,}")
KEY = re.compile(r"[a-z]+: ")
"""Of an entry's text."""
SEVERAL = re.compile(r"[^\W\d_]{2,}\W*\s\W*[^\W\d_]{2,}")

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


def own_messages(rule: Rule) -> Iterator[tuple[str, Told]]:
    yield from ((f"{rule.name}.{code}", told) for code, told in rule.messages.items())


@pytest.fixture(scope="module")
def nonsensical(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A language in which every message of every rule, and all that is shared, is nonsense."""
    own = {name: told for rule in RULES for name, told in own_messages(rule)}
    english: Mapping[str, Any] = {
        **catalogue.catalogue().data,
        "lint": {name: told.found for name, told in own.items()},
        "lint_fix": {name: told.fix for name, told in own.items()},
    }
    return written(tmp_path_factory.mktemp("words") / "nonsense", english, nonsense)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_another_language_says_all_that_a_rule_says(rule: Rule, nonsensical: Path) -> None:
    """What is told of the rule's example has no word but nonsense, those of the example itself, and what is typed into a file or a name."""
    example = example_book(rule.fails)
    english = [one for one in found_in(example, rule.name) if one.rule == rule.name]
    with spoken(nonsensical):
        found = [one for one in found_in(example, rule.name) if one.rule == rule.name]
    assert [one.identity for one in found] == [one.identity for one in english]
    stated = {word.casefold() for word in WORD.findall(f"{rule.fails} {example!r} {SCHEMA} {MADE} {OTHERS.get(rule.name, '')}")}
    for one in found:
        said = {word.casefold() for word in WORD.findall(f"{one.message} {one.fix}")}
        assert NONSENSE in said and said - stated - {NONSENSE} == set(), one


MADE = (
    "entries switches connectors kits md no_such_rule "  # names of files
    "BK BN RD OG YE GN BU VT GY WH PK GD TQ SR GNYE RDWH "  # colours, by IEC 60757
    "sources kind seen detail measured on the bench by bench "  # an example of what to type
    "JPEG PNG WEBP WebP"
)
"""Words that are the same in every language."""

SCHEMA = " ".join(file.read_text("utf-8") for file in sorted((ROOT / "schema").glob("*.json")))
"""Keys and values of the format, and what it says itself of how they are written."""

OTHERS = {
    "unseen-character": "right-to-left override left-to-right",
    "yaml-syntax": "mapping values are not allowed in this context",
}
"""What the names of Unicode's characters and the reader of YAML say, in English only."""


# What stands in the modules ---------------------------------------------------------------------------------------------------


def tree_of(module: str) -> ast.Module:
    return ast.parse((LINT / f"{module.replace('.', '/')}.py").read_text("utf-8"))


def own_words(tree: ast.Module) -> Iterator[str]:
    """Texts of several words, and f-strings with words in them, that are no docstring and stand in a function or class."""
    for top in tree.body:
        if not isinstance(top, ast.FunctionDef | ast.ClassDef):
            continue
        skipped = {id(node.value) for node in ast.walk(top) if isinstance(node, ast.Expr)}
        skipped |= {id(inner) for node in ast.walk(top) if isinstance(node, ast.Assert | ast.Raise) for inner in ast.walk(node)}
        for node in ast.walk(top):
            if id(node) in skipped:
                continue
            if isinstance(node, ast.JoinedStr):
                pieces = [one.value for one in node.values if isinstance(one, ast.Constant) and isinstance(one.value, str)]
                yield from (one for one in pieces if WORD.search(one) and re.search(r"\s", one) and not KEY.fullmatch(one))
            elif isinstance(node, ast.Constant) and isinstance(node.value, str) and SEVERAL.search(node.value):
                yield node.value


@pytest.mark.parametrize("module", MODULES)
def test_no_rule_makes_a_sentence(module: str) -> None:
    assert list(own_words(tree_of(module))) == []


def test_the_look_at_a_rule_sees_what_it_looks_for() -> None:
    code = 'TOLD = "two words"\ndef f(x):\n    """Some words here."""\n    yield g(f"{x} across"), "two words", f"kits/{x}"\n'
    assert sorted(own_words(ast.parse(code))) == [" across", "two words"]


class Yielded(NamedTuple):
    """A problem or a fix that a module makes: its codes, none where they are computed, and the names of its values, ``**`` for more."""

    codes: tuple[str, ...]
    given: frozenset[str]


def yielded(tree: ast.Module) -> Iterator[Yielded]:
    for call in ast.walk(tree):
        if not isinstance(call, ast.Call) or not isinstance(call.func, ast.Name):
            continue
        if call.func.id in ("problem", "problem_at", "problem_in"):
            names = {one.arg or "**" for one in call.keywords} - {"key"}
            yield Yielded(codes_in(call.args[2]), frozenset(names))
        elif call.func.id == "Fix":
            values = [*call.args[4:], *(one.value for one in call.keywords if one.arg == "values")]
            keys = [key for one in values if isinstance(one, ast.Dict) for key in one.keys]
            yield Yielded(codes_in(call.args[1]), frozenset(key.value for key in keys if isinstance(key, ast.Constant)))


def codes_in(node: ast.expr) -> tuple[str, ...]:
    if isinstance(node, ast.Constant):
        return (str(node.value),)
    if isinstance(node, ast.IfExp):
        both = codes_in(node.body), codes_in(node.orelse)
        return (*both[0], *both[1]) if all(both) else ()
    return ()


def module_of(rule: Rule) -> ModuleType:
    return import_module(f"{rules.__name__}.{rule.name.replace('-', '_')}")


def places(told: Told) -> set[str]:
    return {place.partition(".")[0] for place in (*places_of(told.found), *places_of(told.fix))}


@pytest.mark.parametrize("rule", [rule for rule in RULES if rule.messages and rule is not GONE], ids=lambda rule: rule.name)
def test_each_message_is_told_and_given_what_it_has_places_for(rule: Rule) -> None:
    """A code that stands where a problem is made is given all that its message has places for, and no more; one that is computed stands
    somewhere in the module, and what is given with it is enough."""
    helper = getattr(module_of(rule), "path_findings", None)
    trees = [tree_of("safety" if helper else f"rules.{rule.name.replace('-', '_')}")]
    made = [one for tree in trees for one in yielded(tree)]
    told = {code for one in made for code in one.codes}
    assert told <= set(rule.messages)
    for one in made:
        wanted = {code: places(rule.messages[code]) for code in one.codes}
        if "**" not in one.given:
            assert all(names <= one.given for names in wanted.values()), one
            assert not one.codes or one.given <= set().union(*wanted.values()), one
    if told != set(rule.messages):
        assert any(not one.codes for one in made), f"nothing tells {set(rule.messages) - told}"


def test_what_only_helps_has_a_place_in_what_was_found() -> None:
    for rule in RULES:
        for told in rule.messages.values():
            assert set(told.beside) <= {place.partition(".")[0] for place in places_of(told.found)}, rule.name


# The same finding -------------------------------------------------------------------------------------------------------------


def test_a_line_elsewhere_that_moves_makes_no_other_finding() -> None:
    one, other, another = (
        finding_of(
            Problem.of("duplicate-key", "f", Mark(9, 1), "yaml.duplicate_key", key=key, line=Line(line)), all_rules()["duplicate-key"]
        )
        for key, line in (("id", 3), ("id", 4), ("title", 3))
    )
    assert one.message != other.message and one.identity == other.identity != another.identity


def test_what_only_helps_makes_no_other_finding_and_another_value_does() -> None:
    """A cavity more on the housing leaves the wrong wire the same finding; a wire in another wrong cavity is another."""
    text = "    kind: kit\n    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: %s}\n"
    rows = "\nand\n\n    kind: connector\n    rows:\n      - [1, 2, 3, 4, 5]\n      - [6, 7, 8, 9, 10]\n      - [11, 12, 13, 14]\n"
    books = [text % "40", text % "40" + rows, text % "41"]
    one, other, another = (found_in(example_book(book), "kit-moves")[0] for book in books)
    assert one.message != other.message and one.identity == other.identity != another.identity
