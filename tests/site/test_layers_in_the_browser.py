"""Pages that the browser makes say from which layer of a book a part is."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import pytest
from playwright.sync_api import expect
from tests.cli.test_layers import OWN_PART, over, settings, write
from tests.site.conftest import Tab

from rangebook.lint.examples import base_book
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import listen


@pytest.fixture(scope="module")
def layered_url(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A site of a shop's entries over a shared book, with a part in a shared family that only the shop has."""
    home = tmp_path_factory.mktemp("layers")
    write(home / "shared", dict(base_book()))
    write(home / "ours", {**over(f"parts:\n{OWN_PART}"), **settings("{path: ../shared, name: The common book}")})
    build_site(checked(home / "ours"), home / "site")
    server = listen(home / "site", 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


@pytest.mark.parametrize(("part", "layer"), [("OU-1", "Our shop"), ("TB-20417", "The common book")])
@pytest.mark.parametrize("page", ["label", "lever", "prove"])
def test_a_page_of_one_part_says_its_layer(tab: Tab, layered_url: str, page: str, part: str, layer: str) -> None:
    tab.page.goto(f"{layered_url}{page}/?part={part}")
    expect(tab.page.locator("main")).to_contain_text(f"from the layer {layer}", ignore_case=True)
