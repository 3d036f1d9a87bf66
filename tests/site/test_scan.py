"""A label is read by the camera, or from a picture of it; nothing of that is loaded before it is asked for."""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Callable
from pathlib import Path

import pytest
import segno
from PIL import Image
from playwright.sync_api import expect
from tests.site.conftest import Tab
from tests.site.node import CLIENT, evaluate, needs_node

from rangebook.book.load import Loaded

VENDOR = CLIENT / "vendor"
CODES = Path(__file__).parent / "codes"
"""Codes that others made: of stripes by python-barcode 0.16.1 (MIT), Data Matrix by ppf.datamatrix 0.2 (MIT)."""


def _picture(says: str, turned: float = 0) -> bytes:
    """A code as a phone sees it: grey paper round it, turned a little."""
    made = io.BytesIO()
    segno.make(says, micro=False, error="m").save(made, kind="png", scale=8, border=4)
    code = Image.open(made).convert("L")
    paper = Image.new("L", (code.width * 2, code.height * 2), 200)
    paper.paste(code, (code.width // 2, code.height // 2))
    taken = io.BytesIO()
    paper.rotate(turned, resample=Image.Resampling.BICUBIC, fillcolor=200).save(taken, "PNG")
    return taken.getvalue()


@needs_node
def test_the_library_reads_what_another_one_wrote() -> None:
    """Codes of segno, in Python; the number of a part, and the address of one of our labels."""
    for says in ("TB-20417", "https://shop.example/book/?q=TB-20417&seat=f%2Fs"):
        picture = Image.open(io.BytesIO(_picture(says, 7))).convert("RGBA")
        given = {"width": picture.width, "height": picture.height, "data": list(picture.tobytes())}
        read = "qr.default({...given, data: Uint8ClampedArray.from(given.data)}, {timeLimit: 5000})"
        assert evaluate({"qr": "vendor/qr/decode.js"}, read, given) == says


@pytest.mark.parametrize(("name", "version", "licence"), [("qr", "0.7.0", "MIT"), ("bars", "0.23.0", "APACHE"), ("bars", "3.3.1", "MIT")])
def test_the_library_is_the_one_of_the_package_with_its_licence(name: str, version: str, licence: str) -> None:
    """No code is made from text in it: the policy would stop that."""
    for path in (VENDOR / name).glob("*.js"):
        assert not re.search(r"new Function|\beval\(|WebAssembly|sourceMappingURL", path.read_text("utf-8")), path
    assert version in (VENDOR / name / "ORIGIN.md").read_text("utf-8")
    words = {"MIT": "Permission is hereby granted", "APACHE": "Apache License"}
    assert words[licence] in (VENDOR / name / f"LICENSE-{licence}").read_text("utf-8")


def _taken(name: str, turned: float) -> bytes:
    """One of the codes as a phone sees it: somewhere on grey paper."""
    code = Image.open(CODES / f"{name}.png").convert("L")
    code = code.resize((code.width * 2, code.height * 2))
    paper = Image.new("L", (max(code.size) + 300, max(code.size) + 300), 190)
    paper.paste(code, (150, 170))
    taken = io.BytesIO()
    paper.rotate(turned, resample=Image.Resampling.BICUBIC, fillcolor=190).save(taken, "PNG")
    return taken.getvalue()


SAID = {
    "code128": "1PTB-12415",
    "code39": "TB-12415",
    "ean13": "4006381333931",
    "itf": "0701234567",
    "datamatrix": "[)>\x1e06\x1dP TB-12415\x1dQ3\x1e\x04",
}


def test_stripes_and_data_matrix_are_read_upright_and_on_their_side(tab: Tab, site_url: str) -> None:
    pictures = [base64.b64encode(_taken(name, turned)).decode() for name in SAID for turned in (0, 4, 90)]
    tab.page.goto(site_url)
    read = tab.page.evaluate(
        """async pictures => {
            const { codeIn } = await import('/book/scan/codes.js');
            const found = [];
            for (const one of pictures) {
                const bytes = Uint8Array.from(atob(one), sign => sign.charCodeAt(0));
                found.push(await codeIn(new Blob([bytes]), null));
            }
            return found;
        }""",
        pictures,
    )
    assert read == [said for said in SAID.values() for _ in range(3)]
    assert not tab.seen.complaints


def test_a_picture_of_a_label_leads_to_the_answer(tab: Tab, site_url: str, loaded: Loaded, tmp_path: Path) -> None:
    part = next(one for one in loaded.book.parts if one.status == "superseded")
    label = tmp_path / "label.png"
    label.write_bytes(_picture(f"https://shop.example/book/?q={part.number.replace(' ', '%20')}", 5))
    blank = tmp_path / "blank.png"
    Image.new("L", (300, 300), 200).save(blank)
    tab.page.goto(site_url)
    tab.page.wait_for_load_state("networkidle")
    assert not [one for one in tab.seen.asked if "/scan/" in one or "/vendor/" in one]
    tab.page.get_by_role("button", name="Scan a label").click()
    dialog = tab.page.get_by_role("dialog")
    dialog.locator("input[type=file]").set_input_files(blank)
    expect(dialog.get_by_role("status")).to_contain_text("No code was found in the picture")
    dialog.locator("input[type=file]").set_input_files(label)
    expect(tab.page.locator(".answer__head h2 .number")).to_have_text(part.number)
    expect(dialog).to_have_count(0)
    # The sticker on a box: stripes with the sign for a part number before it, or several things in one square.
    for name in ("code128", "datamatrix"):
        sticker = tmp_path / f"{name}.png"
        sticker.write_bytes(_taken(name, 3))
        tab.page.goto(site_url)
        tab.page.get_by_role("button", name="Scan a label").click()
        dialog.locator("input[type=file]").set_input_files(sticker)
        expect(tab.page.locator(".answer__head h2 .number")).to_have_text("TB-12415")
    assert not tab.seen.complaints


def test_a_browser_with_a_reader_of_its_own_looks_through_the_camera(tab: Tab, site_url: str, loaded: Loaded) -> None:
    """A stand-in for both, as the specification has them (WICG, Shape Detection API; W3C, Media Capture); the third look finds one."""
    part = next(one for one in loaded.book.parts if one.status == "superseded")
    tab.page.add_init_script(
        """(() => {
            let looks = 0;
            window.BarcodeDetector = class {
                static async getSupportedFormats() { return ["qr_code", "code_128"]; }
                async detect() { looks += 1; return looks > 2 ? [{rawValue: "1PNUMBER"}] : []; }
            };
            window.tracks = [];
            navigator.mediaDevices.getUserMedia = async () => {
                const canvas = document.createElement("canvas");
                canvas.getContext("2d").fillRect(0, 0, 9, 9);
                const stream = canvas.captureStream(5);
                window.tracks = stream.getTracks();
                return stream;
            };
        })()""".replace("NUMBER", part.number)
    )
    tab.page.goto(site_url)
    tab.page.get_by_role("button", name="Scan a label").click()
    expect(tab.page.locator(".answer__head h2 .number")).to_have_text(part.number)
    assert tab.page.evaluate("window.tracks.map(one => one.readyState)") == ["ended"]
    assert not [one for one in tab.seen.asked if "/vendor/" in one]
    assert not tab.seen.complaints


def test_numbers_are_scanned_one_after_the_other_into_an_order(
    open_tab: Callable[..., Tab], site_url: str, loaded: Loaded, tmp_path: Path
) -> None:
    tab = open_tab()
    parts = [one for one in loaded.book.parts if one.status == "current"][:2]
    tab.page.goto(f"{site_url}several/")
    for at, part in enumerate([*parts, parts[0]]):
        picture = tmp_path / f"{at}.png"
        picture.write_bytes(_picture(part.number))
        tab.page.get_by_role("button", name="Scan a label").click()
        tab.page.get_by_role("dialog").locator("input[type=file]").set_input_files(picture)
        expect(tab.page.get_by_role("dialog")).to_have_count(0)
    expect(tab.page.locator("[data-several-status]")).to_contain_text("2 numbers read")
    assert sorted(one.input_value() for one in tab.page.locator(".several__count").all()) == ["1", "2"]
    assert not tab.seen.complaints


def test_a_scanner_that_types_is_heard_wherever_one_is(tab: Tab, site_url: str, loaded: Loaded) -> None:
    """On any page, with nothing chosen: what comes in one burst and ends with Enter is looked for. What somebody types slowly is not."""
    part = next(one for one in loaded.book.parts if one.status == "superseded" and "/" in one.number)
    tab.page.goto(f"{site_url}cautions/")
    tab.page.keyboard.type(part.number.replace("/", ""), delay=150)
    tab.page.keyboard.press("Enter")
    assert tab.page.url == f"{site_url}cautions/"
    tab.page.locator("main").click(position={"x": 2, "y": 2})
    burst = """text => {
        for (const key of [...text, "Enter"]) document.body.dispatchEvent(new KeyboardEvent("keydown", {key, bubbles: true}));
    }"""
    tab.page.evaluate(burst, f"1P{part.number}")
    expect(tab.page.locator(".answer__head h2 .number")).to_have_text(part.number)
