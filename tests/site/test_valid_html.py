"""No error found by an HTML validator on any kind of page, as it is written and as the browser's scripts have filled it.

Source: html-validate (MIT), its rules for what the HTML standard says; it needs Node and `npm ci`.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.site.conftest import Tab
from tests.site.kinds import KINDS, STATES, Place

ROOT = Path(__file__).resolve().parents[2]
VALIDATOR = ROOT / "node_modules" / ".bin" / "html-validate"

pytestmark = pytest.mark.skipif(
    shutil.which("node") is None or not VALIDATOR.exists(),
    reason="needs Node and `npm ci`, which only those who change the browser's code have to have",
)

OF_THE_THEME = {"autocomplete attribute cannot be used on", 'Attribute "tabindex" has invalid value ""'}
"""What the handbook's theme writes itself and no template of ours can change: on its two hidden boxes and on the labels in its contents."""


def errors(folder: Path, pages: dict[str, Path]) -> list[str]:
    """What the validator has against files, each line with the name of its page."""
    settings = folder / "settings.json"
    settings.write_text(json.dumps({"root": True, "extends": ["html-validate:standard"]}), "utf-8")
    command = [str(VALIDATOR), "--config", str(settings), "--formatter", f"json={folder / 'found.json'}", *map(str, pages.values())]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=120, check=False)
    assert not done.stderr, done.stderr
    names = {str(path): name for name, path in pages.items()}
    return [
        f"{names[of['filePath']]}: {one['line']}: {one['ruleId']}: {one['message']}"
        for of in json.loads((folder / "found.json").read_text("utf-8"))
        for one in of["messages"]
    ]


def test_each_kind_of_page_as_it_is_written(site_dir: Path, places: dict[str, Place], tmp_path: Path) -> None:
    found = errors(tmp_path, {kind: site_dir / places[kind].address / "index.html" for kind in KINDS})
    assert [one for one in found if not any(begin in one for begin in OF_THE_THEME)] == []


def test_each_state_as_scripts_have_filled_it(
    open_tab: Callable[..., Tab], site_url: str, places: dict[str, Place], tmp_path: Path
) -> None:
    page = open_tab().page
    shown = {}
    for at, state in enumerate(STATES):
        page.goto(site_url + places[state].address)
        page.locator(places[state].there).first.wait_for()
        page.wait_for_load_state("networkidle")
        shown[state] = tmp_path / f"{at}.html"
        shown[state].write_text("<!doctype html>\n" + page.evaluate("document.documentElement.outerHTML"), "utf-8")
    assert [one for one in errors(tmp_path, shown) if not any(begin in one for begin in OF_THE_THEME)] == []


def test_the_validator_would_find_something(tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text(
        "<!doctype html><html lang=en><head><title>T</title></head><body><p id=a></p><p id=a><div></div></p></body></html>", "utf-8"
    )
    assert any("no-dup-id" in one for one in errors(tmp_path, {"page": page}))
