"""What changed in the book and when, as git knows it; and the same as a feed (Atom, RFC 4287).

A book that lies in no repository, or a machine without git, gives a site that says so in place of the list.
"""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from xml.etree import ElementTree

from rangebook.reading import git
from rangebook.reading.git import Commit
from rangebook.words.shown import shown

MOST = 200
"""So many changes are shown."""

FEED_URL = "history/changes.xml"
PAGE_URL = "history/"

_ATOM = "http://www.w3.org/2005/Atom"
_HOW = {"added": "new", "changed": "changed", "removed": "gone"}


@dataclass(frozen=True)
class History:
    """Commits that changed entries, the newest first. ``none`` says why there are none; empty where there are some."""

    commits: tuple[Commit, ...] = ()
    none: str = "The site was built without looking into git."


def read_history(root: Path) -> History:
    """What git tells of the book under ``root``. Never raises for what git lacks: the reason is in the answer."""
    try:
        commits = git.history(git.open_repository(root), MOST)
    except git.GitError:
        return History(none="This site was built without git, or from a book that is in no repository: what changed when is not known.")
    return History(tuple(commits), "" if commits else "Nothing of the book was committed yet.")


def anchor_of(commit: Commit) -> str:
    """A change's place on the page."""
    return f"Change-{commit.id[:12]}"


def words_of(commit: Commit) -> str:
    """Its entries in one line."""
    return "; ".join(f"{how_words(how)}: {Path(file).parent.name}/{Path(file).stem}" for file, how in commit.files)


def how_words(how: str) -> str:
    """What was done to an entry, in one word."""
    return _HOW[how]


def feed(commits: Sequence[Commit], name: str, site_url: str) -> str:
    """The changes as an Atom feed. ``site_url`` is where the site is published, empty where that is not known: the addresses in the feed
    are then relative to its own. The same commits give the same text; ``commits`` must not be empty."""
    base = f"{site_url.rstrip('/')}/" if site_url else ""
    top = ElementTree.Element("feed", {"xmlns": _ATOM})
    _add(top, "id", _urn(f"{base}{FEED_URL} {name}"))
    _add(top, "title", f"{name}: what changed")
    _add(top, "updated", max((one.when for one in commits), key=datetime.fromisoformat))
    _add(ElementTree.SubElement(top, "author"), "name", name)
    if base:
        ElementTree.SubElement(top, "link", {"rel": "self", "type": "application/atom+xml", "href": f"{base}{FEED_URL}"})
    page = f"{base}{PAGE_URL}" if base else "./"
    ElementTree.SubElement(top, "link", {"rel": "alternate", "type": "text/html", "href": page})
    for one in commits:
        entry = ElementTree.SubElement(top, "entry")
        _add(entry, "id", _urn(one.id))
        _add(entry, "title", one.subject or one.id[:12])
        _add(entry, "updated", one.when)
        ElementTree.SubElement(entry, "link", {"rel": "alternate", "type": "text/html", "href": f"{page}#{anchor_of(one)}"})
        _add(entry, "content", words_of(one)).set("type", "text")
    ElementTree.indent(top)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{ElementTree.tostring(top, encoding="unicode")}\n'


def _add(parent: ElementTree.Element, name: str, text: str) -> ElementTree.Element:
    child = ElementTree.SubElement(parent, name)
    child.text = shown(text)  # which leaves nothing that XML 1.0 (2.2, Char) has no place for
    return child


def _urn(name: str) -> str:
    """A name that stays the same for the same thing, whatever else the feed holds (RFC 4287, 4.2.6)."""
    return uuid.uuid5(uuid.NAMESPACE_URL, name).urn
