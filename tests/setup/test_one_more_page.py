"""A page is a module and a template with its words: put beside the others, all three are found by being there."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from jinja2 import ChoiceLoader, FileSystemLoader
from tests.site.kinds import of_each_kind
from tests.words.speaking import spoken

from rangebook.book.load import load_texts
from rangebook.lint.examples import example_book
from rangebook.site import pages
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import every
from rangebook.site.shared import render
from rangebook.words import catalogue

MODULE = """
from rangebook.site.pages import Page
from rangebook.words.catalogue import say

def pages(computed):
    yield Page(source="tried.md", title=say("tried_page.title"), template="tried.html", data=lambda: {"n": len(computed.book.families)})
"""
TEMPLATE = "<h1>{{ title }}</h1><p>{{ say('tried_page.families', count=n) }}</p>"
WORDS = {"tried_page": {"title": "Tried", "families": {"plural": "count", "one": "{count} family & more", "other": "{count} families"}}}


def test_what_is_put_beside_the_others_is_a_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "pages").mkdir()
    (tmp_path / "pages" / "tried.py").write_text(MODULE, "utf-8")
    (tmp_path / "tried.html").write_text(TEMPLATE, "utf-8")
    shutil.copytree(catalogue.FOLDER / "en", tmp_path / "words" / "en")
    (tmp_path / "words" / "en" / "tried.json").write_text(json.dumps(WORDS), "utf-8")
    monkeypatch.setattr(pages, "__path__", [*pages.__path__, str(tmp_path / "pages")])
    environment = render.environment()
    assert environment.loader is not None
    monkeypatch.setattr(environment, "loader", ChoiceLoader([environment.loader, FileSystemLoader(tmp_path)]))
    every.modules.cache_clear()
    try:
        with spoken(tmp_path / "words" / "en"):
            page = of_each_kind(Computed(load_texts(example_book(""))))["tried"]
            assert page.url == "tried/" and page.title == "Tried"
            html = render.render(page.template or "", "..", "", {**page.data(), "title": page.title})
    finally:
        every.modules.cache_clear()
    assert html == "<h1>Tried</h1><p>1 family &amp; more</p>"
