"""Data flows one way through the folders of the package, as DEVELOPERS.md draws it."""

from __future__ import annotations

import ast
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from packaging.requirements import Requirement

MAY_USE = {
    "reading": set(),
    "schema": {"reading"},
    "book": {"reading", "schema"},
    "reasons": set(),
    "electrics": {"book", "reasons"},
    "mounting": {"book", "reasons"},
    "fitting": {"book", "reasons", "electrics", "mounting"},
    "words": {"book", "reasons", "electrics", "mounting", "fitting"},
    "lint": {"reading", "schema", "book", "reasons", "electrics", "mounting", "fitting", "words"},
    "desk": {"reading", "schema", "book", "reasons", "electrics", "mounting", "fitting", "words"},
    "site": {"reading", "schema", "book", "reasons", "electrics", "mounting", "fitting", "words", "lint", "desk"},
    "cli": {"reading", "schema", "book", "reasons", "electrics", "mounting", "fitting", "words", "lint", "desk", "site"},
}
"""Folder -> the folders that it may import from, beside itself."""

GENERATOR = {"mkdocs", "material", "markdown", "jinja2"}
"""What only the site may know of."""


def imported(file: Path) -> Iterator[str]:
    """The dotted names of all modules that a file imports, wherever in it."""
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}: a relative import hides where things come from"
            module = node.module or ""
            yield from (f"{module}.{alias.name}" for alias in node.names)


@pytest.mark.parametrize("folder", MAY_USE)
def test_a_folder_imports_only_from_those_before_it(root: Path, folder: str) -> None:
    files = list((root / "tools" / "rangebook" / folder).rglob("*.py"))
    assert files
    for file in files:
        for name in imported(file):
            top, *rest = name.split(".")
            if top == "rangebook" and rest and rest[0] in MAY_USE:
                assert rest[0] == folder or rest[0] in MAY_USE[folder], f"{file.relative_to(root)} imports {name}"


@pytest.mark.parametrize("folder", sorted(set(MAY_USE) - {"site"}))
def test_the_generator_can_be_replaced(root: Path, folder: str) -> None:
    for file in (root / "tools" / "rangebook" / folder).rglob("*.py"):
        for name in imported(file):
            assert name.split(".")[0] not in GENERATOR, f"{file.relative_to(root)} imports {name}"


def test_every_folder_is_in_the_drawing(root: Path) -> None:
    package = root / "tools" / "rangebook"
    folders = {path.name for path in package.iterdir() if (path / "__init__.py").is_file()}
    assert folders == set(MAY_USE)
    line = next(line for line in (root / "DEVELOPERS.md").read_text("utf-8").splitlines() if "reading ->" in line)
    assert {name.strip() for part in line.split("->") for name in part.split(",")} == folders


DISTRIBUTION = {"yaml": "pyyaml", "PIL": "pillow"}
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
