"""What a device needs to keep the book, written beside the finished pages: the worker, the list of files with their hashes, which edition
it is, the web app manifest and its icons."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from rangebook.schema.settings import COLOURS
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.edition import Edition
from rangebook.site.facts.photos import offline as pictures
from rangebook.site.offline.icons import ICONS
from rangebook.site.offline.keeping import Kept, choose
from rangebook.site.output.folder import Folder, There
from rangebook.site.shared.compact import compact

WORKER_URL = "sw.js"
LIST_URL = "offline.json"
EDITION_URL = "edition.json"
MANIFEST_URL = "manifest.webmanifest"
SEARCH_URL = "search.xml"

_SHORTCUTS = (("Which switch is it?", "identify/"), ("Several at once", "several/"), ("Prove a switch", "prove/"))
"""What a device offers on the book's icon: words and address."""

_HOME = Path(__file__).parent


@dataclass(frozen=True)
class Facts:
    """What has to be known of a book: its name, where it is published, its colours, its edition, its families in their order, and the
    pictures that may be kept (address and bytes of each, and how many are left out). All of it is plain data."""

    name: str
    site_url: str
    colours: Mapping[str, str]
    edition: tuple[str | None, str]
    families: Sequence[str]
    pictures: Sequence[str]
    left_out: int


def facts_of(computed: Computed, name: str) -> Facts:
    """The facts of a book that is called ``name``."""
    photos = pictures(computed)
    one = computed.edition
    edition = (one.date, one.mark)
    kept = [address for address, _ in photos["files"]]
    return Facts(name, computed.site_url, dict(computed.settings.colours), edition, list(computed.book.families), kept, photos["left_out"])


def write_offline(out: Folder, files: There, facts: Facts) -> Kept:
    """Add these files to a site that is otherwise finished: ``files``, and what was written into ``out``. The same site gives the same
    bytes."""
    out.json(MANIFEST_URL, web_app_manifest(facts.name, facts.colours))
    if facts.site_url:
        out.text(SEARCH_URL, search_description(facts.name, facts.site_url))
    every = {**files, **{one.address: one for one in out.wrote}}
    sizes = {address: every[address].size for address in sorted(every)}
    kept = choose(sizes, facts.families, facts.pictures)
    keep = [[path, every[path].digest, sizes[path]] for path in kept.paths]
    of = Edition(*facts.edition)
    edition = {**about(of), "digest": _digest(of, keep)}
    out.json(LIST_URL, {**edition, "families": kept.families, "of": kept.of, "left": kept.left + facts.left_out, "keep": keep})
    out.json(EDITION_URL, edition)
    # Another book may be published below this one: what is not among these is not this one's to answer.
    tops = sorted({EDITION_URL, *(path.partition("/")[0] for path in sizes)})
    book = {**edition, "list": LIST_URL, "edition": EDITION_URL, "tops": tops}
    out.text(WORKER_URL, f"const BOOK = {compact(book)};\n{(_HOME / 'worker.js').read_text('utf-8')}")
    return kept


def about(edition: Edition) -> dict[str, Any]:
    """An edition for programs: its mark, its date (``None`` where no source has one), and both in words."""
    return {"mark": edition.mark, "date": edition.date, "words": edition.words}


def web_app_manifest(name: str, colours: Mapping[str, str] = COLOURS) -> dict[str, Any]:
    """What makes the book installable. Source: W3C, Web Application Manifest (members from memory); addresses are relative to it."""
    return {
        "name": name,
        "short_name": name[:12],
        "description": "What fits in place of a gearbox range switch, what else to order, how to set it and prove it.",
        "lang": "en",
        "start_url": "./",
        "scope": "./",
        "display": "standalone",
        "background_color": "#f4f3ef",
        "theme_color": colours["bar"],
        "shortcuts": [{"name": words, "url": f"./{url}"} for words, url in _SHORTCUTS],
        "icons": [
            *({"src": address, "sizes": f"{side}x{side}", "type": "image/png", "purpose": purpose} for address, side, purpose in ICONS),
            {"src": "book/mark.svg", "sizes": "any", "type": "image/svg+xml"},
        ],
    }


def search_description(name: str, top: str) -> str:
    """What lets a browser ask the book from its own address line. Source: OpenSearch 1.1, draft 6 (elements from memory); it asks for the
    whole address, so it is there only where ``site_url`` says under which one the book is published."""
    root = ElementTree.Element("OpenSearchDescription", xmlns="http://a9.com/-/spec/opensearch/1.1/")
    ElementTree.SubElement(root, "ShortName").text = name[:16]
    ElementTree.SubElement(root, "Description").text = f"Part numbers, vehicles and gearboxes in {name}"
    ElementTree.SubElement(root, "InputEncoding").text = "UTF-8"
    ElementTree.SubElement(root, "Url", type="text/html", template=f"{top.rstrip('/')}/?q={{searchTerms}}")
    return ElementTree.tostring(root, encoding="unicode", xml_declaration=False) + "\n"


def _digest(edition: Edition, keep: list[list[Any]]) -> str:
    return hashlib.sha256(compact([edition.mark, keep]).encode()).hexdigest()[:16]
