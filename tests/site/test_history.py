"""What changed when: git's own words on the page and in the feed.

The feed is read by feedparser (PyPI, an independent reader of feeds) and held against what RFC 4287 says a feed must have; the clauses are
named beside the checks (from memory).
"""

from __future__ import annotations

import json
import os
from datetime import datetime
from functools import partial
from pathlib import Path
from urllib.parse import urljoin

import feedparser
import lxml.etree
import lxml.html
import pytest
from tests.committing import git as git_in

from rangebook.cli import main
from rangebook.reading import git
from rangebook.reading.git import Commit
from rangebook.revisions import past
from rangebook.site.facts.history import FEED_URL, feed, read_history
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked

ATOM = "{http://www.w3.org/2005/Atom}"
FAMILY = "entries/switches/tamblin-gate.md"
run = partial(git_in, when="2026-03-04T10:00:00+01:00")
SPARE = "---\nkind: kit\nid: spare\n---\n"


@pytest.fixture
def book(small_book: Path) -> Path:
    """The small book in a folder of a repository, with five changes: the whole of it, an edit, and a kit that came, moved and went."""
    top = small_book.parent
    run(top, "init", "-q", "-b", "main")
    run(top, "add", "-A")
    run(top, "commit", "-q", "-m", "The book begins")
    path = small_book / FAMILY
    path.write_text(path.read_text("utf-8") + "\nOne line more.\n", "utf-8")
    (small_book / "README.md").write_text("not an entry", "utf-8")
    run(top, "add", "-A")
    run(top, "commit", "-q", "-m", 'Measured <b>twice</b> & "once"', when="2026-03-05T23:30:00-05:00")
    (small_book / "entries/kits/spare.md").write_text(SPARE, "utf-8")
    run(top, "add", "-A")
    run(top, "commit", "-q", "-m", "A kit by mistake", when="2026-03-06T09:00:00Z")
    (small_book / "entries/kits/spare.md").rename(small_book / "entries/kits/wrong.md")
    run(top, "add", "-A")
    run(top, "commit", "-q", "-m", "", "--allow-empty-message", when="2026-03-06T10:00:00Z")
    (small_book / "entries/kits/wrong.md").unlink()
    run(top, "add", "-A")
    run(top, "commit", "-q", "-m", "And away", when="2026-03-06T11:00:00Z")
    (small_book / "README.md").write_text("no entry either", "utf-8")
    run(top, "commit", "-q", "-am", "Nothing of the book")
    return small_book


def test_it_is_what_git_says(book: Path) -> None:
    found = git.history(git.open_repository(book), 10)
    ids = run(book, "log", "--format=%H", "--", "entries").split()
    assert [one.id for one in found] == ids and len(ids) == 5
    assert found[0].files == (("entries/kits/wrong.md", "removed"),)
    assert found[1].files == (("entries/kits/spare.md", "removed"), ("entries/kits/wrong.md", "added")) and found[1].subject == ""
    assert found[3] == Commit(ids[3], "2026-03-05T23:30:00-05:00", 'Measured <b>twice</b> & "once"', ((FAMILY, "changed"),))
    assert {how for _, how in found[4].files} == {"added"} and len(found[4].files) == 4
    assert len(git.history(git.open_repository(book), 2)) == 2


def test_there_is_no_repository_or_nothing_in_it(small_book: Path) -> None:
    assert "in no repository" in read_history(small_book).none
    run(small_book, "init", "-q")
    assert "Nothing of the book was committed yet." in read_history(small_book).none


def test_there_is_no_git(book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", os.devnull)
    assert read_history(book).commits == () and "without git" in read_history(book).none


@pytest.mark.parametrize("site_url", ["", "https://book.example.org/shop"])
def test_the_feed_is_one(book: Path, site_url: str) -> None:
    commits = read_history(book).commits
    text = feed(commits, "A <book> & more", site_url)
    read = feedparser.parse(text.encode(), response_headers={"content-type": "application/atom+xml; charset=utf-8"})
    assert not read.bozo and read.version == "atom10"
    assert read.feed.title == "A <book> & more: what changed" and len(read.entries) == 5
    assert read.entries[3].title == 'Measured <b>twice</b> & "once"'
    assert read.entries[3].updated_parsed[:5] == (2026, 3, 6, 4, 30), "in UTC"
    top = lxml.etree.fromstring(text.encode())
    for name in ("id", "title", "updated"):  # 4.1.1 and 4.1.2: exactly one of each in the feed and in each entry
        for one in (top, *top.iter(f"{ATOM}entry")):
            assert len(one.findall(f"{ATOM}{name}")) == 1
    assert top.find(f"{ATOM}author/{ATOM}name") is not None  # 4.1.1: an author where the entries have none
    ids = [one.text for one in top.iter(f"{ATOM}id")]
    assert len(set(ids)) == len(ids) and all(one and one.startswith("urn:uuid:") for one in ids)  # 4.2.6
    for one in top.iter(f"{ATOM}updated"):  # 3.3: RFC 3339 with an offset
        assert one.text and datetime.fromisoformat(one.text).utcoffset() is not None
    assert read.feed.updated == max((one.updated for one in read.entries), key=datetime.fromisoformat)
    links = [(one.get("rel"), one.get("href")) for one in top.findall(f"{ATOM}link")]
    assert ("self", f"{site_url}/{FEED_URL}") in links if site_url else [rel for rel, _ in links] == ["alternate"]


def test_the_same_commits_give_the_same_feed_and_a_new_one_leaves_their_names(book: Path) -> None:
    before = read_history(book).commits
    assert feed(before, "Book", "") == feed(read_history(book).commits, "Book", "")
    names = {one.text for one in lxml.etree.fromstring(feed(before[1:], "Book", "").encode()).iter(f"{ATOM}id")}
    assert names < {one.text for one in lxml.etree.fromstring(feed(before, "Book", "").encode()).iter(f"{ATOM}id")}


def test_a_message_with_signs_that_xml_has_no_place_for() -> None:
    one = Commit("a" * 40, "2026-01-01T00:00:00+00:00", "a\x0cb\udcffc\ufffe", (("entries/kits/k.md", "added"),))
    text = feed([one], "Book", "")
    assert lxml.etree.fromstring(text.encode()).findtext(f"{ATOM}entry/{ATOM}title") == "a\\u{C}b\\u{DCFF}c\\u{FFFE}"


def test_the_page_and_the_feed_on_the_site(book: Path, tmp_path: Path) -> None:
    build_site(checked(book), tmp_path / "site")
    content = lxml.html.fromstring((tmp_path / "site/history/index.html").read_bytes())
    said = " ".join(content.text_content().split())
    assert 'Measured <b>twice</b> & "once"' in said and "Nothing of the book" not in said
    assert [one.get("datetime") for one in content.xpath("//article//time")] == ["2026-03-06", "2026-03-05", "2026-03-04"]
    read = feedparser.parse((tmp_path / "site" / FEED_URL).read_bytes())
    for entry in read.entries:
        there = urljoin("history/changes.xml", entry.link)
        assert there.startswith("history/#"), "from where the feed lies"
        content.get_element_by_id(there.partition("#")[2])


def test_what_vehicles_were_told_before_and_are_told_since(book: Path, tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    """The same as ``rangebook impact`` says of the commit, and as ``rangebook fit --at`` says of the number then."""
    path = book / FAMILY
    text = path.read_text("utf-8")
    number = "TB-20455"
    path.write_text(text.replace("status: current", "status: withdrawn"), "utf-8")
    run(book, "commit", "-q", "-am", "Taken back", when="2026-03-07T11:00:00Z")
    (change,) = (one.id for one in read_history(book).commits if one.subject == "Taken back")
    assert main(["impact", f"{change}^", change, "--root", str(book), "--format", "json"]) == 0
    told = [one for one in json.loads(capsys.readouterr().out)["applications"] if one["old"]["first"] != one["new"]["first"]]
    assert told, "the small book has a vehicle for it"
    build_site(checked(book), tmp_path / "site")
    page = lxml.html.fromstring((tmp_path / "site/history/index.html").read_bytes())
    (section,) = page.xpath(f"//section[@id='Change-{change[:12]}']")
    said = [" ".join(item.text_content().split()) for item in section.xpath("./h4/following-sibling::ul[1]/li")]
    assert len(said) == len(told)
    for one, line in zip(told, said, strict=True):
        assert line.startswith(f"{one['vehicle']} {one['years']}") and f"was {number} " in line and "; now " in line
    capsys.readouterr()
    assert main(["fit", number, "--at", f"{change}^", "--root", str(book)]) == 0
    then = capsys.readouterr().out
    assert main(["fit", number, "--at", change[:12], "--root", str(book)]) == 0
    assert "withdrawn" in capsys.readouterr().out and "withdrawn" not in then


def test_what_is_too_much_to_compare_is_said_with_the_command_that_does(
    book: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(past, "MOST_SEATS", 0)
    path = book / FAMILY
    path.write_text(path.read_text("utf-8").replace("status: current", "status: withdrawn", 1), "utf-8")
    run(book, "commit", "-q", "-am", "Taken back", when="2026-03-07T11:00:00Z")
    change = read_history(book).commits[0].id[:12]
    build_site(checked(book), tmp_path / "site")
    page = lxml.html.fromstring((tmp_path / "site/history/index.html").read_bytes())
    (section,) = page.xpath(f"//section[@id='Change-{change}']")
    assert f"rangebook impact {change}^ {change}" in section.text_content() and not section.xpath("./h4")


def test_a_site_built_without_git_says_so_and_has_no_feed(small_book: Path, tmp_path: Path) -> None:
    build_site(checked(small_book), tmp_path / "site")
    assert "in no repository" in (tmp_path / "site/history/index.html").read_text("utf-8")
    assert not (tmp_path / "site" / FEED_URL).exists()


def test_withdrawn_numbers_are_listed_with_their_way(small_book: Path, tmp_path: Path) -> None:
    """With git or without; the demo's words for it are nowhere else on the page."""
    entry = small_book / FAMILY
    entry.write_text(entry.read_text("utf-8").replace("\nparts:\n", "\nparts:\n  - number: TB-20499\n    status: withdrawn\n", 1), "utf-8")
    build_site(checked(small_book), tmp_path / "site")
    content = lxml.html.fromstring((tmp_path / "site/history/index.html").read_bytes())
    links = content.xpath("//section[@aria-labelledby='Withdrawn']//li//a")
    assert [link.text_content().strip() for link in links] == ["TB-20499"]
    for link in links:
        address, _, anchor = urljoin("/history/", link.get("href")).partition("#")
        page = lxml.html.fromstring((tmp_path / "site" / address.lstrip("/") / "index.html").read_bytes())
        assert not anchor or page.get_element_by_id(anchor) is not None
