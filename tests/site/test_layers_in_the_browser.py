"""Pages that the browser makes say from which layer of a book a part is, and the form writes into the shop's own."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

import pytest
from playwright.sync_api import Route, expect
from tests.cli.test_layers import FAMILY, OWN_PART, over, settings, write
from tests.site.conftest import Tab

from rangebook.cli import main
from rangebook.lint.examples import base_book
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import listen


@contextmanager
def served(home: Path, own: dict[str, str]) -> Iterator[str]:
    """A site of a shop's entries over the linter's example book."""
    write(home / "shared", dict(base_book()))
    write(home / "ours", {**own, **settings("{path: ../shared, name: The common book}")})
    (home / "ours" / "entries").mkdir(exist_ok=True)
    build_site(checked(home / "ours"), home / "site")
    server = listen(home / "site", 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="module")
def layered_url(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """With a part in a shared family that only the shop has."""
    with served(tmp_path_factory.mktemp("layers"), over(f"parts:\n{OWN_PART}")) as url:
        yield url


@pytest.mark.parametrize(("part", "layer"), [("OU-1", "Our shop"), ("TB-20417", "The common book")])
@pytest.mark.parametrize("page", ["label", "lever", "prove"])
def test_a_page_of_one_part_says_its_layer(tab: Tab, layered_url: str, page: str, part: str, layer: str) -> None:
    tab.page.goto(f"{layered_url}{page}/?part={part}")
    expect(tab.page.locator("main")).to_contain_text(f"from the layer {layer}", ignore_case=True)


def with_editor(tab: Tab) -> None:
    """As if the shop's book lay where entries can be edited."""
    to = ' data-write data-add="https://git.example.org/new/" data-edit="https://git.example.org/edit/" '

    def answer(route: Route) -> None:
        route.fulfill(body=route.fetch().text().replace(" data-write ", to), content_type="text/html; charset=utf-8")

    tab.page.route("**/write/", answer)


def test_what_goes_into_a_family_of_the_shared_book_alone_is_a_new_file(
    open_tab: Callable[..., Tab], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with served(tmp_path, {}) as url:
        tab = open_tab()
        with_editor(tab)
        tab.page.goto(f"{url}write/")
        tab.page.get_by_label("Family", exact=True).select_option("tamblin-gate")
        tab.page.get_by_label("Part number, as it is printed").fill("OU-7")
        link = tab.page.locator("[data-write-editor]")
        expect(link).to_have_text("Open a new file in the repository's editor")
        address = urlsplit(link.get_attribute("href") or "")
        asked = dict(parse_qsl(address.query))
        assert address.path == "/new/switches" and asked["filename"] == "tamblin-gate.md"
        assert asked["value"] == tab.page.locator("[data-write-text]").text_content()
    write(tmp_path / "ours", {FAMILY: asked["value"]})
    capsys.readouterr()
    assert main(["look", "OU-7", "--root", str(tmp_path / "ours")]) == 0
    assert "tamblin-gate.md, Our shop)" in capsys.readouterr().out


def test_what_goes_into_a_file_that_the_shop_has_is_put_into_it(tab: Tab, layered_url: str) -> None:
    with_editor(tab)
    tab.page.goto(f"{layered_url}write/")
    tab.page.get_by_label("Family", exact=True).select_option("tamblin-gate")
    tab.page.get_by_label("Which part").select_option("OU-1")
    expect(tab.page.locator("[data-write-editor]")).to_have_attribute("href", "https://git.example.org/edit/switches/tamblin-gate.md")
    expect(tab.page.locator("[data-write-text]")).to_contain_text("number: OU-1")
