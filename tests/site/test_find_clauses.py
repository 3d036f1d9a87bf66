"""Everything that the one box takes, each clause in the browser, with the server there and gone: what is typed, and what is shown.

The numbers, vehicles and codes are those of the demo book; that each is in it is asked of the book first.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page, expect
from tests.site.conftest import Tab
from tests.site.test_offline import Host

from rangebook.book.load import Loaded

PART = "TB-12415"
ANSWER = ".answer__head h2 .number"
ROWS = "[data-find-answer] a.row"
SLIP = "[data-slip], [data-look-alike]"

CLAUSES: list[tuple[str, str, str, str]] = [
    # what it is, what is typed, where it is to be seen, and what is to stand there
    ("any spelling", " tb.12/415 ", ANSWER, "^TB-12415$"),
    ("a fragment", "2415", ANSWER, "^TB-12415$"),
    ("a fragment of several", "1156", ANSWER, "^TB-11568$"),
    ("the address on our own label", "https://shop.example/book/?q=TB-12415", ANSWER, "^TB-12415$"),
    ("the address of a bin label", "https://shop.example/book/label/?part=TB-12415", ANSWER, "^TB-12415$"),
    ("a box code's prefix P", "PTB-12415", ANSWER, "^TB-12415$"),
    ("a box code's prefix 1P", "1PTB12415", ANSWER, "^TB-12415$"),
    ("a box code's prefix 30P", "30PTB-12415", ANSWER, "^TB-12415$"),
    ("a box code's prefix 240", "(240)TB-12415", ANSWER, "^TB-12415$"),
    ("another number", "72-63-118", "[data-other-number]", "72 63 118 is TB-12415 by another name"),
    ("a kit", "tw 8871", ROWS, "^TW-8871"),
    ("a fragment of a kit", "8871", ROWS, "^TW-8871"),
    ("a stamped mark", "two bars under the latch", ROWS, "^TB-12415"),
    ("a piece of a stamped mark", "blue dot", ROWS, "^HL-4431"),
    ("a trouble code: what it means", "P0705", "[data-find-answer] h2", "^P0705: .*[Rr]ange sensor"),
    ("a trouble code: its families", "p 0705", ROWS, "^Tamblin lever switch"),
    ("a trouble code: a circuit, not a part", "P0705", "[data-find-answer] .box--unknown", "names a circuit, not a part"),
    ("a trouble code with its kind of fault", "P0705-13", "[data-find-answer] h2", "^P0705: "),
    ("a trouble code with O for 0", "PO7O5", SLIP, "Meant, it seems: .P0705."),
    ("a trade name", "inhibitor", ROWS, "^Penvose Cross"),
    ("a trade name of several words, some of them", "starter inhib", ROWS, "^Tamblin drum switch"),
    ("a trade name beside a vehicle", "Mirren inhibitor switch", ROWS, "^Yessick Mirren 1.3"),
    ("a vehicle", "Yessick Mirren", ROWS, "^Yessick Mirren 1.3"),
    ("a vehicle with a slip", "Yesick Miren", SLIP, "Meant, it seems: .yessick mirren"),
    ("a vehicle with a slip: its lines", "Mirrne", ROWS, "^Yessick Mirren"),
    ("a slip that could be two words, and one that settles it", "Pellworth Brackely 2.3", ROWS, "^Pellworth Brackley 2.3"),
    ("any order of words", "1.3 mirren YESSICK", ROWS, "^Yessick Mirren 1.3"),
    ("a year", "Mirren 1994", ".seat", "Yessick Mirren 1.3 1992.1997"),
    ("month and year", "Mirren 10/1994", ".seat", "Yessick Mirren 1.3 1992.1997"),
    ("year and month", "1994-10 mirren", ".seat", "Yessick Mirren 1.3 1992.1997"),
    ("month and short year", "mirren 10/94", ".seat", "Yessick Mirren 1.3 1992.1997"),
    ("the month's name", "Mirren Oct 1994", ".seat", "Yessick Mirren 1.3 1992.1997"),
    ("slip, order, month and year at once", "10/1994 Mirrne yessick", ".seat", "Yessick Mirren 1.3 1992.1997"),
    # 49 CFR 565.15: 1M8GDM9AXKP042788 is the example of the check digit that is passed on everywhere (from memory); K is 1989 or 2019,
    # and the figure in place 7 leaves both open.
    ("a VIN", "1M8GDM9AXKP042788", "[data-vin='1989.2019'] a", "Vehicles of 1989 / 2019"),
    ("a VIN that was read wrongly", "1M8GDM9A1KP042788", "[data-vin=''] p", "[Cc]heck digit"),
    ("O for 0, with a word", "31-O7-4O5", SLIP, "31-07-405 looks the same"),
    ("O for 0, and the answer", "31-O7-4O5", ANSWER, "^31-07-405$"),
    ("I for 1 behind a prefix", "1PTB-I24I5", ANSWER, "^TB-12415$"),
    ("B for 8 in a kit's number", "TW-BB71", ROWS, "^TW-8871"),
    ("B for 8 in a fragment", "TB-I15", SLIP, "numbers look the same"),
    ("what is not there", "ZZ-99990", "[data-not-in-book] h2", "is not in the book"),
]


def test_the_book_has_what_is_asked_for(loaded: Loaded) -> None:
    book = loaded.book
    assert {PART, "TB-11568", "HL-4431", "31-07-405"} <= {part.number for part in book.parts}
    assert "TW-8871" in {kit.number for kit in book.kits.values()}
    mirren = [one for family in book.families.values() for one in family.applications if one.vehicle == "Yessick Mirren 1.3"]
    assert (1992, 1997) in {(one.first_year, one.last_year) for one in mirren}


def _each(page: Page) -> None:
    """Every clause in one page, as it is typed; all that failed at once."""
    failed = []
    for what, typed, where, words in CLAUSES:
        page.locator("#q").fill("")
        page.locator("#q").fill(typed)
        try:
            expect(page.locator(where).filter(has_text=re.compile(words)).first).to_be_visible(timeout=2000)
        except AssertionError:
            failed.append((what, typed, page.locator("[data-find-answer]").inner_text()[:160]))
    assert failed == []


def test_the_box_takes_all_of_it(tab: Tab, site_url: str) -> None:
    tab.page.goto(site_url)
    _each(tab.page)
    # A VIN names one vehicle: it stays out of the address, also where the bar of another page has sent it.
    tab.page.locator("#q").fill("1M8GDM9AXKP042788")
    expect(tab.page.locator("[data-vin]")).to_be_visible()
    assert "1M8" not in tab.page.url
    tab.page.goto(f"{site_url}?q=1M8GDM9AXKP042788")
    expect(tab.page.locator("[data-vin]")).to_be_visible()
    assert "1M8" not in tab.page.url
    assert not tab.seen.complaints


def test_type_ahead_with_the_keyboard_alone(tab: Tab, site_url: str) -> None:
    """From any page: `/`, some signs, down to a row, up again, Enter on it."""
    page = tab.page
    page.goto(f"{site_url}cautions/")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") == "q", "the find box is the first stop of Tab"
    page.locator("main").click(position={"x": 2, "y": 2})
    page.keyboard.press("/")
    assert page.evaluate("document.activeElement.id") == "q"
    page.keyboard.type("mirren")
    page.keyboard.press("Enter")
    page.locator(ROWS).first.wait_for()
    page.locator("#q").focus()
    page.keyboard.type(" 1")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(page.locator(ROWS).nth(1)).to_be_focused()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    expect(page.locator("#q")).to_be_focused()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator(".seat")).to_contain_text("Yessick Mirren 1.3")


def test_all_of_it_without_a_connection_and_the_footer_says_so(open_tab: Callable[..., Tab], site_dir: Path, loaded: Loaded) -> None:
    """The box, the pictures in every size that the pages name, and what can be tapped on the book's icon."""
    host = Host(site_dir)
    host.up()
    url = host.url()
    page = open_tab(service_workers="allow").page
    page.goto(url)
    expect(page.locator("[data-kept]")).to_have_attribute("data-kept", "all", timeout=90_000)
    host.down()
    page.goto(url)
    _each(page)
    expect(page.locator("[data-kept]")).to_contain_text("whole book is on this device and works without a connection")
    with_pictures = next(path for path in sorted(site_dir.rglob("index.html")) if 'class="photo"' in path.read_text("utf-8"))
    page.goto(url + with_pictures.relative_to(site_dir).as_posix().removesuffix("index.html"))
    for picture in page.locator(".photo img").all():
        picture.scroll_into_view_if_needed()
    names = page.evaluate("""() => [...document.querySelectorAll(".photo")].flatMap((one) => [
        one.querySelector("a").href,
        ...one.querySelector("img").srcset.split(", ").map((size) => new URL(size.split(" ")[0], location).href),
    ])""")
    assert names
    there = page.evaluate("(names) => Promise.all(names.map((one) => fetch(one).then((two) => two.ok, () => false)))", names)
    assert there == [True] * len(names)
    for shortcut in json.loads((site_dir / "manifest.webmanifest").read_text("utf-8"))["shortcuts"]:
        page.goto(url + shortcut["url"])
        expect(page.locator("h1").first).not_to_contain_text("not on this device")
