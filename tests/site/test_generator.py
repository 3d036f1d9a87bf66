"""What a move to another site generator would touch stands in DEVELOPERS.md, and is all there is."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from mkdocs.utils import get_theme_dir

PACKAGE = Path("tools/rangebook")
THEME = Path(get_theme_dir("material"))
OF_THE_THEME = re.compile(r"(?<![\w-])(?:md-[a-z]|data-md|__md_)|(?<![\w-])assets/")
"""Class names, attributes and addresses that are the theme's own."""


def imports(text: str) -> set[str]:
    """The top-level packages that a module imports, wherever in it."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found |= {name.name.partition(".")[0] for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            found.add(node.module.partition(".")[0])
    return found


def bound_to_the_generator(root: Path) -> set[str]:
    """Every file that imports MkDocs or the theme, takes the place of a template of the theme's, or names what is its own."""
    found = {"mkdocs.yml"}
    for path in (root / PACKAGE).rglob("*.py"):
        if imports(path.read_text("utf-8")) & {"mkdocs", "material"}:
            found.add(path.relative_to(root).as_posix())
    for path in (root / "site_overrides").rglob("*"):
        if path.is_file() and (
            (THEME / path.relative_to(root / "site_overrides")).exists() or OF_THE_THEME.search(path.read_text("utf-8"))
        ):
            found.add(path.relative_to(root).as_posix())
    for folder in (root / PACKAGE, root / "tools" / "hosting"):
        for path in folder.rglob("*"):
            if path.suffix in (".py", ".js", ".css", ".html", ".conf") and OF_THE_THEME.search(path.read_text("utf-8")):
                found.add(path.relative_to(root).as_posix())
    return found


def test_what_a_move_would_touch_is_written_down_and_complete(root: Path) -> None:
    text = (root / "DEVELOPERS.md").read_text("utf-8")
    section = re.search(r"^## Leaving Material\n(.*?)^## ", text, re.MULTILINE | re.DOTALL)
    assert section
    listed = {path for row in re.findall(r"^\| (`.*?`) \|", section[1], re.MULTILINE) for path in re.findall(r"`([^`]+)`", row)}
    assert listed == bound_to_the_generator(root)


def test_an_import_inside_a_function_is_seen_too() -> None:
    assert imports("def late():\n    from mkdocs.config import load_config\n") == {"mkdocs"}
