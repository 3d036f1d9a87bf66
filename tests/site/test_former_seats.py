"""A link to an answer that was sent or printed leads on when the family has another id now."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

from playwright.sync_api import expect
from tests.site.conftest import Tab

from rangebook.book.load import load
from rangebook.fitting.fitter import Fitter
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import listen
from rangebook.site.shared import urls

OLD, NEW = "ostrand-van", "ostrand-vans"


def test_the_seat_of_a_family_that_was_renamed(demo_book: Path, tmp_path: Path, open_tab: Callable[..., Tab]) -> None:
    fitter = Fitter(load(demo_book).book)
    seat = next(one for one in fitter.seats if one.family.id == OLD and fitter.candidates(one)[0].goes_on)
    key, number, fit = urls.seat_key(seat), seat.original.number, fitter.candidates(seat)[0].part.number
    entry = demo_book / "entries" / "switches" / f"{OLD}.md"
    text = entry.read_text("utf-8").replace(f"\nid: {OLD}\n", f"\nid: {NEW}\nformer_ids: [{OLD}]\n")
    entry.unlink()
    (entry.parent / f"{NEW}.md").write_text(text, "utf-8")
    pictures = entry.parent / "photos" / OLD
    if pictures.exists():
        pictures.rename(pictures.with_name(NEW))
    site = tmp_path / "site"
    build_site(checked(demo_book), site)
    server = listen(site, 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    page = open_tab().page
    top = f"http://127.0.0.1:{server.server_port}/"
    try:
        for address, shows in (
            (f"?q={quote(number)}&seat={key}", ".choice--first"),
            (f"job/?seat={key}&fit={quote(fit)}", "[data-job] dd"),
            (f"compare/?a={quote(number)}&b={quote(fit)}&seat={key}", ".compare__cards"),
            (f"prove/?part={quote(fit)}&seat={key}", "[data-prove-place] input"),
        ):
            page.goto(top + address)
            expect(page.locator(shows).first).to_be_visible()
            assert f"seat={NEW}%2F" in page.url, address
    finally:
        server.shutdown()
        server.server_close()
