"""A branch's own ``schema/``: it hangs nothing, and of a wrong shape it is refused in one plain message."""

from __future__ import annotations

import copy
import itertools
import json
import re
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from rangebook.lint.examples import base_book
from rangebook.reading.entry import read_entry
from rangebook.schema.check import Checker
from rangebook.schema.errors import SchemaError
from rangebook.schema.patterns import matches
from rangebook.schema.shape import check_circuits, check_schema
from rangebook.schema.store import FILES, Schemas, load_schemas

SHIPPED = load_schemas()
BUDGET_SECONDS = 5
"""A check that goes back in the text takes longer than the machine is old; this is for slow machines."""


def own(tmp_path: Path, **files: Any) -> Path:
    """A small book with some schema files of its own: text or bytes as they are, anything else as JSON."""
    root = tmp_path / "branch"
    for name, text in base_book().items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, "utf-8")
    (root / "schema").mkdir()
    for name, content in files.items():
        data = content if isinstance(content, bytes | str) else json.dumps(content)
        (root / "schema" / f"{name}.json").write_bytes(data if isinstance(data, bytes) else data.encode("utf-8"))
    return root


def changed(name: str, *way: str, **values: Any) -> Any:
    """A shipped file with other values at a place."""
    content = copy.deepcopy(SHIPPED.files[name])
    node = content
    for step in way:
        node = node[step]
    node.update(values)
    return content


def refused(root: Path) -> str:
    with pytest.raises(SchemaError) as raised:
        Checker(load_schemas(root))
    message = str(raised.value)
    assert "\n" not in message and len(message) < 700
    return message


def test_what_is_shipped_has_the_shape_itself() -> None:
    check_circuits(SHIPPED.files["circuits"])
    for name in FILES:
        if name != "circuits":
            check_schema(name, SHIPPED.files)


HOSTILE = ["^(a+)+$", "^(a|a)*$", "^(a|aa)+$", "(x+x+)+y", "^(([a-z])+.)+[A-Z]([a-z])+$", "^(.*a){30}$"]


@pytest.mark.parametrize("pattern", HOSTILE)
def test_no_pattern_hangs_the_check_its_words_or_the_fixes(tmp_path: Path, pattern: str) -> None:
    """Most are those of OWASP's page on regular expression denial of service (from memory)."""
    root = own(tmp_path, common=changed("common", "$defs", "title", pattern=pattern))
    checker = Checker(load_schemas(root))
    started = time.process_time()
    entry = read_entry("entries/kits/a.md", f"---\nkind: kit\nid: a\ntitle: {'a' * 390}!\n---\n".encode())
    problems = checker.check(entry)
    assert 4 in {problem.mark.line for problem in problems}, "the title is not as the pattern has it"
    assert not matches(pattern, "x" * 4000 + "!")
    assert time.process_time() - started < BUDGET_SECONDS


def test_the_whole_linter_with_a_hostile_pattern(tmp_path: Path) -> None:
    root = own(tmp_path, common=changed("common", "$defs", "title", pattern="^(x+x+)+y$"))
    entry = next((root / "entries" / "connectors").glob("*.md"))
    lines = [f"title: {'x' * 300}" if line.startswith("title:") else line for line in entry.read_text("utf-8").split("\n")]
    entry.write_text("\n".join(lines), "utf-8")
    for more in ((), ("--fix",)):
        done = subprocess.run(
            [sys.executable, "-m", "rangebook", "lint", *more, "--root", str(root)], capture_output=True, text=True, timeout=60, check=False
        )
        assert done.returncode == 1 and "xxxxx" in done.stdout and "Traceback" not in done.stderr


@pytest.mark.parametrize("pattern", ["(?=a)b", r"(a)\1", "[", "(a{1,1000}){1,1000}", 5, None, ["a"]])
def test_a_pattern_that_cannot_be_tried_so_is_refused(tmp_path: Path, pattern: Any) -> None:
    assert "pattern" in refused(own(tmp_path, common=changed("common", "$defs", "title", pattern=pattern)))


def test_case_is_no_label_of_a_cavity_however_it_is_spelt() -> None:
    """Said without looking ahead, which the engine does not do; `case` is the metal of the housing."""
    cavity, row = SHIPPED.files["common"]["$defs"]["cavity"], SHIPPED.files["connector"]["properties"]["rows"]["items"]["items"]
    for word in map("".join, itertools.product("cCk1", "aAk1", "sSk1", "eEk1")):
        for node in (cavity, row):
            assert matches(node["pattern"], word) == (word.lower() != "case"), word
    for node in (cavity, row):
        assert all(matches(node["pattern"], word) for word in ("7", "B2", "cas", "ase"))
        assert not any(matches(node["pattern"], word) for word in ("", "cases", "a-b", "case\n"))


def circuits(**facts: Any) -> Any:
    return {"circuits": {"horn": {"role": "output", "name": "horn", **facts}}}


WRONG_CIRCUITS = {
    "a list": [],
    "a number": 5,
    "nothing": None,
    "no list": {},
    "a list of names": {"circuits": ["horn"]},
    "a circuit that is text": {"circuits": {"horn": "output"}},
    "no role": {"circuits": {"horn": {"name": "horn"}}},
    "no name": {"circuits": {"horn": {"role": "output"}}},
    "a role that is a list": circuits(role=["output"]),
    "a name of blanks": circuits(name=" "),
    "a name that works a terminal": circuits(name="\x1b[2Jhorn"),
    "a name of two lines": circuits(name="horn\nentries/x.md:1:1: error"),
    "an about that is a list": circuits(about=["x"]),
    "safety that is text": circuits(safety="no"),
    "joined in a number": circuits(safety=True, joined_in=5),
    "joined in an object": circuits(safety=True, joined_in={"P": True}),
    "joined in a list of lists": circuits(safety=True, joined_in=[["P"]]),
    "joined in a position that works a terminal": circuits(safety=True, joined_in=["\x1b[2J"]),
    "fed by a number": circuits(feeds=5),
    "fed by a name that is no list": circuits(feeds="start_feed"),
    "a danger that is a list": circuits(danger=["x"]),
    "something else said of it": circuits(id="../horn"),
    "a circuit called as no circuit is": {"circuits": {"../horn": {"role": "output", "name": "horn"}}},
    "ten thousand": {"circuits": {f"c{number}": {"role": "output", "name": "x"} for number in range(10_000)}},
}


@pytest.mark.parametrize("case", WRONG_CIRCUITS)
def test_circuits_of_a_wrong_shape(tmp_path: Path, case: str) -> None:
    message = refused(own(tmp_path, circuits=WRONG_CIRCUITS[case]))
    assert "circuits.json" in message and message.isprintable()


WRONG_FILES = {
    "not JSON": b"{",
    "not UTF-8": b'{"$defs": "\xff"}',
    "empty": b"",
    "deep": b"[" * 100_000 + b"]" * 100_000,
    "deep objects": b'{"$defs":' * 50_000 + b"1" + b"}" * 50_000,
    "huge": b'{"$defs": {}}' + b" " * 3_000_000,
    "a number too long": b'{"$defs": ' + b"9" * 100_000 + b"}",
    "no number": b'{"$defs": NaN}',
    "a list": b"[]",
    "text": b'"x"',
    "true": b"true",
    "null": b"null",
    "nothing in it": b"{}",
}


@pytest.mark.parametrize("name", ["common", "switch"])
@pytest.mark.parametrize("case", WRONG_FILES)
def test_files_that_are_no_schema(tmp_path: Path, case: str, name: str) -> None:
    assert f"{name}.json" in refused(own(tmp_path, **{name: WRONG_FILES[case]}))


def nested(depth: int) -> Any:
    node: Any = {"type": "string"}
    for _ in range(depth):
        node = {"type": "array", "items": node}
    return node


def doubling(steps: int) -> Any:
    """Each of so many holds the next one twice."""
    defs = {f"d{n}": {"type": "object", "properties": {k: {"$ref": f"#/$defs/d{n + 1}"} for k in "ab"}} for n in range(steps)}
    return {**SHIPPED.files["common"]["$defs"], **defs, f"d{steps}": {"type": "string"}}


WRONG_NODES: dict[str, Any] = {
    "a reference to nothing": {"$ref": "common.json#/$defs/nothing"},
    "a reference to no file": {"$ref": "../../../etc/passwd#/x"},
    "a reference to another host": {"$ref": "http://elsewhere.invalid/schema.json"},
    "a reference to itself": {"$ref": "#/properties/title"},
    "a reference to all of it": {"$ref": "#"},
    "a reference round a corner": {"type": "array", "items": {"$ref": "#/properties/title"}},
    "a reference that is a list": {"$ref": ["x"]},
    "a reference through a list": {"$ref": "#/required/0"},
    "a node that is a list": [],
    "a node that is true": True,
    "a type that is none": {"type": "elephant"},
    "a type that is a list": {"type": ["string", "null"]},
    "a type that is a mapping": {"type": {}},
    "properties that are a list": {"type": "object", "properties": []},
    "properties that are text": {"type": "object", "properties": {"a": "b"}},
    "items that are a list": {"type": "array", "items": [{}]},
    "items that are false": {"type": "array", "items": False},
    "anyOf that is a mapping": {"anyOf": {}},
    "anyOf of nothing": {"anyOf": []},
    "an enum that is text": {"enum": "abc"},
    "an enum of lists": {"enum": [[1]]},
    "required that is text": {"type": "object", "required": "id"},
    "a length that is text": {"type": "string", "maxLength": "long"},
    "a length below nothing": {"type": "string", "maxLength": -1},
    "an annotation that is a list": {"type": "string", "x-label": ["a"]},
    "a description that is a mapping": {"type": "string", "description": {}},
    "patternProperties": {"type": "object", "patternProperties": {"^(a+)+$": {}}},
    "a dynamic reference": {"$dynamicRef": "#x"},
    "if and then": {"if": {}, "then": False},
    "deeply nested": nested(200),
    "deeper than Python goes": nested(900),
}


@pytest.mark.parametrize("case", WRONG_NODES)
def test_nodes_of_a_wrong_shape(tmp_path: Path, case: str) -> None:
    started = time.process_time()
    assert "switch.json" in refused(own(tmp_path, switch=changed("switch", "properties", title=WRONG_NODES[case])))
    assert time.process_time() - started < BUDGET_SECONDS


def test_references_that_double_again_and_again(tmp_path: Path) -> None:
    started = time.process_time()
    assert "common.json" in refused(own(tmp_path, common=changed("common", **{"$defs": doubling(40)})))
    assert time.process_time() - started < BUDGET_SECONDS


def run(root: Path, *words: str) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [sys.executable, "-m", "rangebook", *words, "--root", str(root)], capture_output=True, text=True, timeout=60, check=False
    )
    assert "Traceback" not in done.stderr + done.stdout, done.stderr
    return done


def test_every_command_says_it_in_one_line(tmp_path: Path) -> None:
    root = own(tmp_path, circuits=[])
    for words in (["lint"], ["lint", "--fix"], ["fit", "TB-20417"], ["prove", "TB-20417"], ["look", "TB"], ["build"]):
        done = run(root, *words)
        assert done.returncode == 2 and "circuits.json" in done.stderr and len(done.stderr.strip().split("\n")) <= 2, (words, done.stderr)


LOOSE: dict[str, Any] = {
    "no key is needed": changed("kit", required=[]),
    "anything may be anything": {"type": "object", "properties": {"kind": {"const": "kit"}}},
    "other keys may be there": changed("kit", additionalProperties=True),
    "a mapping is a list": changed("kit", "properties", moves={"type": "array", "items": {"type": "string"}}),
    "a mapping of anything": changed("kit", "properties", "moves", additionalProperties=True),
    "a list of anything": changed("kit", "properties", "seals", items={}),
    "a figure is text": changed("kit", "properties", blanks={"type": "string"}),
    "a seal of no hole": changed("kit", "properties", "seals", "items", minimum=-5),
    "text without end": changed("kit", "properties", note={"type": "string"}),
}


@pytest.mark.parametrize("case", LOOSE)
def test_a_schema_that_asks_for_less_than_the_shipped_one_is_refused(tmp_path: Path, case: str) -> None:
    """The model is made by what the shipped one asks for."""
    assert "kit.json" in refused(own(tmp_path, kit=LOOSE[case]))


def test_one_that_asks_for_more_is_not(tmp_path: Path) -> None:
    more = changed("kit", "properties", shelf={"type": "string", "pattern": "^[A-Z][0-9]$"}, blanks={"type": "integer", "minimum": 1})
    more["required"] = [*more["required"], "shelf"]
    checker = Checker(load_schemas(own(tmp_path, kit=more)))
    assert "shelf" in checker.schemas.of("kit")["properties"]


def test_a_loose_pattern_that_lets_through_what_nothing_can_be_made_of(tmp_path: Path) -> None:
    root = own(tmp_path, common=changed("common", "$defs", years={"type": "string"}))
    family = next((root / "entries" / "switches").glob("*.md"))
    text = family.read_text("utf-8")
    family.write_text(re.sub(r"years: [^,}\n]+", "years: soon", text, count=1), "utf-8")
    for words in (["lint"], ["fit", "TB-20417"]):
        assert run(root, *words).returncode in (0, 1, 2)


def test_an_earlier_state_of_the_book_is_looked_at_in_the_same_way() -> None:
    from rangebook.revisions.states import schemas_over

    for data in (b"[]", b"\xff", b"[" * 100_000):
        with pytest.raises(SchemaError, match=r"an earlier state: schema/circuits\.json"):
            schemas_over(SHIPPED, {"circuits.json": data}, "an earlier state")
    found: Schemas = schemas_over(SHIPPED, {"circuits.json": json.dumps(circuits()).encode()}, "an earlier state")
    assert list(found.circuits) == ["horn"]
