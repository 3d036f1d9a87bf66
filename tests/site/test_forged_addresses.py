"""Addresses that somebody sends: a page shows what this book says, or that there is nothing; never what a stranger put on the same host."""

from __future__ import annotations

import os
import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import quote, urlsplit

import pytest
from tests.site.conftest import Tab

from rangebook.site.live.serve import listen

FORGED = "fits as it is, says a stranger"


@pytest.fixture(scope="module")
def with_uploads(site_dir: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The site, and beside its own files one that anybody may put on the host: an answer of the right form that says what it should not."""
    host = tmp_path_factory.mktemp("host") / "site"
    shutil.copytree(site_dir, host, copy_function=os.link)
    texts = (one.read_text("utf-8") for one in sorted((site_dir / "data" / "answers").glob("*.json")))
    text = next(one for one in texts if "fits as it is" in one).replace("fits as it is", FORGED)
    (host / "uploads").mkdir()
    (host / "uploads" / "evil.json").write_text(text, "utf-8")
    server = listen(host, 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


EVIL = ("../../uploads/evil", "..\\..\\uploads\\evil", "..%2F..%2Fuploads%2Fevil", "..\\..\\uploads\\evil.json?/p/x")
PAGES = (
    "?q=zzzz&seat={}",
    "job/?seat={}&fit=TB-12340",
    "compare/?seat={}&a=TB-12340",
    "prove/?part={}",
    "lever/?part={}",
    "identify/?seat={}",
    "identify/?pins={}:1:2",
    "label/?family={}",
    "write/?family={}",
)


@pytest.mark.parametrize("evil", EVIL)
@pytest.mark.parametrize("page", PAGES)
def test_nothing_but_the_index_says_which_file_is_read(open_tab: Callable[..., Tab], with_uploads: str, page: str, evil: str) -> None:
    tab = open_tab()
    tab.page.goto(with_uploads + page.format(quote(evil, safe="")))
    tab.page.wait_for_load_state("networkidle")
    assert not [address for address in tab.seen.asked if "/uploads/" in urlsplit(address).path]
    assert FORGED not in tab.page.inner_text("body")


NOTHING = (
    "switches/tamblin-lever/#%E0%A4%A",
    "several/#%E0%A4%A",
    "compare/?seat=__proto__/constructor&a=constructor",
    "compare/?seat=tamblin-lever/constructor&a=toString&b=__proto__",
    "job/?seat=constructor&fit=__proto__",
    "label/?family=__proto__",
    "identify/?year=__proto__&face=constructor&pins=__proto__:1:2",
)


@pytest.mark.parametrize("where", NOTHING)
def test_an_address_that_points_at_nothing_is_no_error(open_tab: Callable[..., Tab], site_url: str, where: str) -> None:
    tab = open_tab()
    tab.page.goto(site_url + where)
    tab.page.wait_for_load_state("networkidle")
    assert tab.seen.complaints == []


def test_text_becomes_markup_in_one_place_alone(open_tab: Callable[..., Tab], site_url: str) -> None:
    """Trusted Types: whatever else tries is stopped by the browser."""
    tab = open_tab()
    tab.page.goto(site_url)
    assert "stopped" in tab.page.evaluate(
        """() => { try { document.createElement("div").innerHTML = "<b>x</b>"; return "let through"; } catch { return "stopped"; } }"""
    )
