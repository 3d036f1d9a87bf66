"""Prose that anyone may have written cannot run anything, and facts that anyone may have typed cannot either."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

import lxml.html
import markdown
import pytest
from tests.site.conftest import Tab

from rangebook.book.load import load
from rangebook.lint.examples import base_book
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import Checked
from rangebook.site.live.serve import listen

PAYLOADS = [
    "<script>document.title='run'</script>",
    "<img src=x onerror=\"document.title='run'\">",
    "<svg onload=\"document.title='run'\"></svg>",
    "<details open ontoggle=\"document.title='run'\">",
    "<a href=\"javascript:document.title='run'\">x</a>",
    "[x](javascript:document.title='run')",
    "[x](JaVaScRiPt:document.title='run')",
    "[x](java&#115;cript:document.title='run')",
    "[x](&#1;javascript:document.title='run')",
    "[x](java&amp;#115;cript:document.title='run')",
    "[x](&Tab;java&NewLine;script:document.title='run')",
    "[x](java\\script:document.title='run')",
    "[x](\\j\\a\\vascript:document.title='run')",
    "<javascript:document.title='run'>",
    "[x](data:text/html,<script>1</script>)",
    "[x](vbscript:run)",
    "![x](javascript:run)",
    "![x](https://elsewhere.example/pixel.png)",
    "![x](//elsewhere.example/pixel.png)",
    '<iframe src="https://elsewhere.example"></iframe>',
    "<style>body{display:none}</style>",
    '<base href="https://elsewhere.example/">',
    '<form action="https://elsewhere.example"><button>x</button></form>',
    "<!-- --><script>document.title='run'</script>",
    "<https://elsewhere.example/\" onmouseover=\"document.title='run'>",
    "`<script>document.title='run'</script>`",
    "    <script>document.title='run'</script>",
    "x{: onclick=\"document.title='run'\" }",
    "| a |\n|---|\n| <script>document.title='run'</script> |",
    "[x]: javascript:document.title='run'\n\n[x]",
]


@pytest.mark.parametrize("payload", PAYLOADS)
def test_nothing_that_runs_comes_out_of_prose(payload: str) -> None:
    html = markdown.markdown(payload, extensions=["toc", "tables", "fenced_code", "rangebook.site.prose"])
    tree = lxml.html.fragment_fromstring(html, create_parent="div")
    for element in tree.iter():
        assert element.tag in {"div", "p", "a", "img", "code", "pre", "em", "strong", "table", "thead", "tbody", "tr", "th", "td"}, html
        assert not any(name.startswith("on") or name in ("style", "srcset") for name in element.attrib), html
        for name in ("href", "src"):
            address = element.get(name, "").strip().lower()
            assert address == "" or address.startswith(("http://", "https://", "mailto:", "tel:")) or ":" not in address, html
            assert name == "href" or "//" not in address, "a picture of another host would be asked for"


def test_an_address_of_mail_stays() -> None:
    """Markdown writes it in entities, letter by letter."""
    html = markdown.markdown("<bench@example.org>", extensions=["rangebook.site.prose"])
    assert lxml.html.fragment_fromstring(html).find("a").get("href") == "mailto:bench@example.org"


def test_what_is_harmless_stays() -> None:
    html = markdown.markdown(
        "**bold** <5 ohm & more, [a](../kits/x.md), [b](https://example.org/), [c](#below), [d](mailto:bench@example.org)",
        extensions=["rangebook.site.prose"],
    )
    assert "<strong>bold</strong> &lt;5 ohm &amp; more" in html
    for address in ("../kits/x.md", "https://example.org/", "#below", "mailto:bench@example.org"):
        assert f'href="{address}"' in html


def test_no_text_field_of_an_entry_becomes_markup(tmp_path: Path, open_tab: Callable[..., Tab]) -> None:
    """Script and quotes in every free text of a switch, connector and kit: shown as typed, on the pages and in the answers.

    The linter, which refuses markup there, is left out: the pages must not depend on it.
    """
    bad = "<img src=x onerror=document.title='run'>\\\"'&<script>document.title='run'</script>"
    for name, text in base_book().items():
        text = text.replace('detail: "', f'detail: "{bad}').replace("title: ", f'title: "{bad}', 1)
        lines = [line + '"' if line.startswith("title:") else line for line in text.split("\n")]
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("\n".join(lines).replace("\n---\n", f'\nnote: "{bad}"\n---\n', 1), "utf-8")
    book = Checked(load(tmp_path), [])
    assert not book.loaded.book.lost
    build_site(book, tmp_path / "site")
    server = listen(tmp_path / "site", 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    tab = open_tab()
    base = f"http://127.0.0.1:{server.server_port}/"
    family = next(iter(book.loaded.book.families.values()))
    for address in (
        "",
        f"?q={family.parts[0].number}",
        f"switches/{family.id}/",
        "kits/oval-9-renewal/",
        "connectors/oval-13/",
        "vehicles/",
        "numbers/",
    ):
        tab.page.goto(base + address)
        tab.page.wait_for_load_state("networkidle")
        assert tab.page.title() != "run"
        assert tab.page.locator("img, main script").count() == 0
    server.shutdown()
    server.server_close()


def test_columns_set_to_a_side_need_no_style_that_the_policy_refuses() -> None:
    text = "| old | new | which |\n| ---: | :---: | --- |\n| 1 | 8 | start |"
    made = markdown.markdown(text, extensions=["tables", "rangebook.site.prose"])
    assert "style=" not in made
    cells = lxml.html.fromstring(made).xpath("//th | //td")
    assert [cell.get("class") for cell in cells] == ["to-right", "to-middle", None] * 2
