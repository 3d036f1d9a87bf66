"""A kind of page is a module and a template, both found by being there: what is forgotten of them is seen here."""

from __future__ import annotations

import posixpath
import re
from pathlib import Path
from urllib.parse import unquote, urlsplit

import lxml.html
from tests.site.kinds import KINDS, of_each_kind

import rangebook.site
from rangebook.book.load import Loaded
from rangebook.fitting.fitter import Fitter
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Shell
from rangebook.site.pages.every import every_page, handbook_nav

SITE = Path(rangebook.site.__file__).parent
NOT_LINKED = {"not-kept": "what the device shows itself, in place of a page that it has not kept"}


def test_each_template_is_of_a_page_and_each_page_has_its_template(loaded: Loaded, fitter: Fitter) -> None:
    there = {path.stem for path in (SITE / "templates").glob("[!_]*.html")} - {"live_findings"}
    wanted = {page.template.removesuffix(".html") for page in of_each_kind(Computed(loaded, fitter)).values() if page.template}
    assert there == wanted
    assert set(KINDS) - {"handbook"} == wanted, "the small book has a page of each kind"


def test_each_page_of_the_handbook_is_in_its_contents(loaded: Loaded) -> None:
    listed = set(re.findall(r"handbook/[\w/-]+\.md", repr(handbook_nav())))
    pages = {page.source for page in every_page(Computed(loaded)) if page.shell is Shell.HANDBOOK}
    assert {one for one in pages if not re.match(r"handbook/rules/(?!index)", one)} == listed


def test_each_page_is_linked_from_another(site_dir: Path, loaded: Loaded) -> None:
    """What no page and no script leads to is found by nobody."""
    linked = set()
    for path in site_dir.rglob("*.html"):
        own = path.parent.relative_to(site_dir).as_posix()
        for element in lxml.html.fromstring(path.read_bytes()).iter("a", "form"):
            to = urlsplit(element.get("href") or element.get("action") or "").path
            linked |= {one for one in [posixpath.normpath(posixpath.join(own, unquote(to)))] if one != own}
    scripts = "".join(path.read_text("utf-8") for path in (SITE / "client").rglob("*.js"))
    addresses = {page.url.rstrip("/") for page in every_page(Computed(loaded))} - {""}
    assert {one for one in addresses - linked if f"{one}/" not in scripts} == set(NOT_LINKED)
