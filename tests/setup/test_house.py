"""The rooms of the package are those that DEVELOPERS.md draws, and what is imported is asked for.

That data flows one way through the rooms, and that nothing outside the site knows its generator, is held by the import contracts in
pyproject.toml: `python3 tools/start.py check` runs them.
"""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from packaging.requirements import Requirement


def contracts(root: Path) -> dict[str, dict]:
    """The import contracts by their id."""
    tools = tomllib.loads((root / "pyproject.toml").read_text("utf-8"))["tool"]
    return {one["id"]: one for one in tools["importlinter"]["contracts"]}


def imported(file: Path) -> Iterator[str]:
    """The dotted names of all modules that a file imports, wherever in it."""
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}: a relative import hides where things come from"
            module = node.module or ""
            yield from (f"{module}.{alias.name}" for alias in node.names)


def test_the_rooms_drawn_are_those_that_the_contract_holds_in_order(root: Path) -> None:
    package = root / "tools" / "rangebook"
    folders = {path.name for path in package.iterdir() if (path / "__init__.py").is_file()}
    line = next(line for line in (root / "DEVELOPERS.md").read_text("utf-8").splitlines() if "reading ->" in line)
    drawn = [set(re.findall(r"\w+", part)) for part in line.split("->")]
    assert set().union(*drawn) == folders
    held = contracts(root)["one-way"]
    assert held["exhaustive"] and held["containers"] == ["rangebook"]
    rooms = [set(re.findall(r"\w+", layer)) & folders for layer in reversed(held["layers"])]
    assert [room for room in rooms if room] == drawn


def test_the_modules_that_may_know_the_generator_are_those_listed_under_leaving_it(root: Path) -> None:
    (_, text) = (root / "DEVELOPERS.md").read_text("utf-8").split("## Leaving Material")
    listed = set(re.findall(r"`tools/(rangebook/[\w/]+)[.]py`", text.split("\n## ")[0]))
    allowed = {one.split(" -> ")[0].replace(".", "/") for one in contracts(root)["generator"]["ignore_imports"]}
    assert allowed and allowed <= listed


DISTRIBUTION = {"yaml": "pyyaml", "PIL": "pillow", "fpdf": "fpdf2", "material": "mkdocs-material"}
"""Module -> the package that it comes in, where the names differ by more than a hyphen."""

OURS = {"rangebook", "tests"}


@pytest.mark.parametrize(("folder", "groups"), [("tools/rangebook", ()), ("benchmarks", ("test",)), ("tests", ("test", "build"))])
def test_what_is_imported_is_asked_for(root: Path, folder: str, groups: tuple[str, ...]) -> None:
    """A package that is there only because another one needs it may be gone with the next version of that one."""
    project = tomllib.loads((root / "pyproject.toml").read_text("utf-8"))
    listed = project["project"]["dependencies"] + [text for group in groups for text in project["dependency-groups"][group]]
    asked = {Requirement(text).name.lower() for text in listed}
    ours = OURS | ({path.stem for path in (root / "benchmarks").glob("*.py")} if groups else set())
    for file in (root / folder).rglob("*.py"):
        for name in imported(file):
            top = name.split(".")[0]
            if top not in sys.stdlib_module_names and top not in ours:
                assert DISTRIBUTION.get(top, top.replace("_", "-").lower()) in asked, f"{file.relative_to(root)} imports {top}"
