"""One page of each kind, as the pages themselves say: a kind is a template. So no test has a list of them of its own. And what a page shows
once it is asked for something: the states of pages."""

from __future__ import annotations

from typing import NamedTuple
from urllib.parse import quote

from playwright.sync_api import Page as Shown

from rangebook.book.load import load_texts
from rangebook.fitting.fitter import Fitter
from rangebook.lint.examples import base_book
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.site.pages.every import every_page
from rangebook.site.shared import urls


def of_each_kind(computed: Computed) -> dict[str, Page]:
    """Name of the template -> the first page that has it; of connectors the widest, which is the one to try on a phone."""
    found: dict[str, Page] = {}
    widest = max(computed.book.connectors.values(), key=lambda one: max(map(len, one.rows)), default=None)
    for page in every_page(computed):
        if widest is not None and page.source == f"connectors/{widest.id}.md":
            found["connector"] = page
        found.setdefault((page.template or "handbook").removesuffix(".html"), page)
    return found


KINDS = sorted(of_each_kind(Computed(load_texts({file: text.encode() for file, text in base_book().items()}))))
"""Every kind, by a book that has one entry of each."""


STATES: dict[str, tuple[str, str]] = {
    "home": ("", "[data-find-start]"),
    "answer": ("?q={number}", "[data-find-answer] > *"),
    "answer of one plug": ("?q={number}&seat={seat}", ".seat"),
    "not in the book": ("?q=ZZ-9999", "[data-not-in-book]"),
    "identify": ("identify/", "[data-question]"),
    "identify, pins": ("identify/?outline=oval&cavities=13", "[data-question]"),
    "family": ("switches/{family}/", "h1"),
    "prove": ("prove/?part={number}", "[data-prove-place] > *"),
    "lever": ("lever/?part={number}", "[data-meter]"),
    "lever on a plug": ("lever/?part={number}&seat={seat}", "[data-meter]"),
    "compare": ("compare/?a={number}&seat={seat}", "[data-wire]"),
    "compare, which plug": ("compare/?a={number}", "[data-compare-place] > *"),
    "job": ("job/?seat={seat}&fit={number}", "[data-job-place] > *"),
    "label": ("label/?part={number}", "h1"),
    "impact": ("handbook/impact/", "h1"),
    "write": ("write/", "[data-write-fields] > *"),
}
"""State of a page -> its address and what stands there once it is shown. A kind of page that is not here has one state: as it is."""

EVERY_STATE = sorted({*KINDS, *STATES})


class Place(NamedTuple):
    """An address below the site's, and what stands there once all is shown."""

    address: str
    there: str


def every_place(computed: Computed, fitter: Fitter) -> dict[str, Place]:
    """State -> its place, of a part that has an answer with a kit, and the seat on which it has it."""
    seat = next(seat for seat in fitter.seats for one in fitter.candidates(seat) if one.needs and one.part.status == "current")
    words = {"number": quote(seat.original.number), "seat": quote(urls.seat_key(seat)), "family": seat.family.id}
    plain = {kind: Place(page.url, "h1") for kind, page in of_each_kind(computed).items()}
    return {**plain, **{state: Place(address.format(**words), there) for state, (address, there) in STATES.items()}}


def text_size(page: Shown, times: float) -> None:
    """Text as many times as large as the browser has it by itself (16 CSS px), as its reader can set it."""
    session = page.context.new_cdp_session(page)
    session.send("Page.setFontSizes", {"fontSizes": {"standard": round(16 * times), "fixed": round(13 * times)}})
    session.detach()
