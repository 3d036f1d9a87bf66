"""What ``schema/README.md`` promises of editors, as far as it can be tried without one."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import jsonschema
import pytest
import yaml
from referencing import Registry, Resource
from referencing.jsonschema import DRAFT202012

from rangebook.cli import main
from rangebook.schema.editor import as_text, editor_schemas
from rangebook.schema.store import load_schemas

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "schema" / "README.md").read_text("utf-8")


class EditorsYaml(yaml.SafeLoader):
    """As editors read, by YAML 1.2: numbers are made of what looks like one; days, `yes` and `on` stay text."""


_NOT_IN_1_2 = ("tag:yaml.org,2002:timestamp", "tag:yaml.org,2002:bool")
EditorsYaml.yaml_implicit_resolvers = {
    sign: [one for one in listed if one[0] not in _NOT_IN_1_2] for sign, listed in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def _keys_as_text(node: object) -> object:
    """Keys are text to a JSON Schema."""
    if isinstance(node, dict):
        return {str(key): _keys_as_text(value) for key, value in node.items()}
    return [_keys_as_text(item) for item in node] if isinstance(node, list) else node


def _front(path: Path) -> dict:
    return _keys_as_text(yaml.load(path.read_text("utf-8").split("---\n", 2)[1], EditorsYaml))


@pytest.fixture(scope="module")
def validators() -> dict:
    made = editor_schemas(load_schemas())
    registry = Registry().with_resources([(name, Resource(schema, DRAFT202012)) for name, schema in made.items()])
    return {name.removesuffix(".json"): jsonschema.Draft202012Validator(schema, registry=registry) for name, schema in made.items()}


@pytest.mark.parametrize("name", ["switch", "connector", "kit", "common"])
def test_the_editors_schema_is_the_one_that_the_schema_makes(name: str) -> None:
    made = editor_schemas(load_schemas())[f"{name}.json"]
    found = (ROOT / "schema" / "editor" / f"{name}.json").read_text("utf-8")
    assert found == as_text(made), "run: .venv/bin/python -m rangebook.schema.editor"


@pytest.mark.parametrize("path", sorted((ROOT / "entries").glob("*/*.md")), ids=lambda path: path.stem)
def test_an_editor_has_nothing_against_the_demo_book(path: Path, validators: dict) -> None:
    front = _front(path)
    assert list(validators[front["kind"]].iter_errors(front)) == []


@pytest.mark.parametrize(
    ("good", "bad"),
    [
        ("title:", "titel:"),
        ("status: current", "status: curent"),
        ("torque_nm: 11", "torque_nm: about 8"),
        ("oval-9\n", "Oval 9\n"),
        ("P0705", "P07O5"),
    ],
)
def test_but_it_has_against_what_is_wrong(good: str, bad: str, validators: dict) -> None:
    text = (ROOT / "entries/switches/tamblin-lever.md").read_text("utf-8").split("---\n", 2)[1]
    assert good in text
    front = _keys_as_text(yaml.load(text.replace(good, bad, 1), EditorsYaml))
    assert not validators["switch"].is_valid(front)


def test_the_line_that_names_the_schema_may_stand_in_an_entry(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    line = re.search(r"^# yaml-language-server: \$schema=(\S+)$", README, re.MULTILINE)
    assert (ROOT / "entries" / "switches" / line.group(1)).is_file()
    paths = list((ROOT / "entries").glob("*/*.md"))
    for path in paths:
        copy = tmp_path / path.relative_to(ROOT)
        copy.parent.mkdir(parents=True, exist_ok=True)
        pictures = path.parent / "photos" / path.stem
        if pictures.is_dir():
            shutil.copytree(pictures, copy.parent / "photos" / path.stem)
        copy.write_text(path.read_text("utf-8").replace("---\n", f"---\n{line.group()}\n", 1), "utf-8")
    assert main(["lint", "--root", str(tmp_path)]) == 0
    assert capsys.readouterr().out == f"{len(paths)} entries: nothing found\n"


def test_the_problem_matcher_reads_what_the_linter_writes(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    (block,) = (found for found in re.findall(r"```json\n(.*?)```", README, re.DOTALL) if "problemMatcher" in found)
    pattern = json.loads(block)["tasks"][0]["problemMatcher"]["pattern"]
    paths = list((ROOT / "entries").glob("*/*.md"))
    for path in paths:
        copy = tmp_path / path.relative_to(ROOT)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_text(path.read_text("utf-8").replace("closed: [P, N]", "closed: [P, N, D]").replace("RDBK", "rd: bk"), "utf-8")
    main(["lint", "--root", str(tmp_path), "--format", "json"])
    expected = json.loads(capsys.readouterr().out)
    main(["lint", "--root", str(tmp_path)])
    lines = capsys.readouterr().out.splitlines()
    found = [match for line in lines if (match := re.search(pattern["regexp"], line))]
    groups = {key: group for key, group in pattern.items() if key != "regexp"}
    assert len(expected) > 10
    assert [{key: match.group(group) for key, group in groups.items()} for match in found] == [
        {key: str(one["rule" if key == "code" else key]) for key in groups} for one in expected
    ]
