"""Pictures beside an entry: nothing of a phone's notes is published, and they are light, in words, and the same each time."""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import sqlite3
import subprocess
from pathlib import Path

import lxml.html
import pytest
from PIL import Image, ImageDraw, PngImagePlugin
from playwright.sync_api import expect
from tests.site.conftest import Tab

from rangebook.book.load import Loaded, load
from rangebook.lint.examples import example_book
from rangebook.site.facts import photos
from rangebook.site.facts.computed import Computed
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.shared import urls
from rangebook.store.ledger import using

EXIFTOOL = pytest.mark.skipif(not shutil.which("exiftool"), reason="libimage-exiftool-perl is not here")
SECRET = "Hollis Garage, bay 4"
KIT = """
    kind: kit
    photos:
      - {file: a.jpg, view: front, shows: "the bag with three grey seals"}
      - {file: b.png, shows: "the plug out of the bag"}
      - {file: c.webp, shows: "the blanking plugs out of it"}
"""


def drawn(size: tuple[int, int] = (1600, 1200)) -> Image.Image:
    """Red to the left, blue to the right, green below."""
    image = Image.new("RGB", size, "blue")
    draw = ImageDraw.Draw(image)
    draw.rectangle([0, 0, size[0] // 2, size[1]], fill="red")
    draw.rectangle([0, size[1] * 3 // 4, *size], fill="green")
    return image


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """The example book with three pictures on its kit, each telling where it was taken."""
    root = tmp_path / "shop"
    for name, text in example_book(KIT).items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_bytes(text if isinstance(text, bytes) else text.encode())
    place = root / "entries/kits/photos/oval-9-renewal"
    place.mkdir(parents=True)
    drawn().save(place / "a.jpg", "JPEG", comment=SECRET.encode())
    notes = PngImagePlugin.PngInfo()
    notes.add_text("Comment", SECRET)
    drawn((700, 500)).save(place / "b.png", "PNG", pnginfo=notes)
    drawn((300, 200)).save(place / "c.webp", "WEBP", xmp=f"<x:xmpmeta xmlns:x='adobe:ns:meta/'>{SECRET}</x:xmpmeta>".encode())
    return root


def planted(place: Path) -> None:
    """GPS, owner and a quarter turn, written by exiftool, as a phone does."""
    for path in sorted(place.iterdir()):
        subprocess.run(
            ["exiftool", "-q", "-overwrite_original", "-GPSLatitude=52.1", "-GPSLatitudeRef=N", "-GPSLongitude=4.3", "-GPSLongitudeRef=E",
             f"-Artist={SECRET}", "-Model=Phone", "-DateTimeOriginal=2026:02:03 04:05:06",
             *(["-Orientation#=6"] if path.suffix == ".jpg" else []),
             path], check=True, capture_output=True,
        )  # fmt: skip


def told(path: Path) -> dict:
    """Everything that exiftool finds in a file."""
    (found,) = json.loads(subprocess.run(["exiftool", "-json", "-a", "-G", path], capture_output=True, text=True, check=True).stdout)
    return found


@EXIFTOOL
def test_nothing_of_a_phones_notes_is_published(shop: Path, tmp_path: Path) -> None:
    place = shop / "entries/kits/photos/oval-9-renewal"
    planted(place)
    assert any("GPS" in key for key in told(place / "a.jpg")) and SECRET in str(told(place / "b.png")), "it was there"
    build_site(checked(shop), tmp_path / "site")
    made = sorted((tmp_path / "site/photos").iterdir())
    assert len(made) == 2 + 2 + 1, "each in two sizes, the small one in one"
    for path in made:
        found = told(path)
        groups = {key.partition(":")[0] for key in found} - {"SourceFile"}
        assert groups <= {"ExifTool", "File", "RIFF", "Composite"}, found
        assert "GPS" not in str(found) and "Phone" not in str(found)
        assert SECRET.encode() not in path.read_bytes()
    for path in (tmp_path / "site").rglob("*"):
        assert path.is_dir() or b"2026:02:03" not in path.read_bytes(), path


@EXIFTOOL
def test_a_picture_stands_upright(shop: Path) -> None:
    planted(shop / "entries/kits/photos/oval-9-renewal")
    first, *_ = photos.all_pictures(Computed(load(shop)))
    assert [(one.width, one.height) for one in first.sizes] == [(480, 640), (1200, 1600)], "orientation 6: a quarter turn to the right"
    image = Image.open(io.BytesIO(first.sizes[1].data)).convert("RGB")
    # Turned a quarter to the right, what was left is above, and what was below is to the left.
    assert image.getpixel((1000, 200))[0] > 200 and image.getpixel((1000, 1400))[2] > 200 and image.getpixel((60, 800))[1] > 90


def test_sizes_and_words_on_the_page(shop: Path, tmp_path: Path) -> None:
    build_site(checked(shop), tmp_path / "site")
    page = lxml.html.parse(tmp_path / "site/kits/oval-9-renewal/index.html")
    first, second, third = page.findall(".//img")
    assert [one.get("alt") for one in (first, second, third)] == [
        "the bag with three grey seals",
        "the plug out of the bag",
        "the blanking plugs out of it",
    ]
    for one, widths in ((first, [480, 1280]), (second, [480, 700]), (third, [300])):
        assert one.get("loading") == "lazy" and one.get("width") == str(widths[0]) and int(one.get("height"))
        offered = re.findall(r"(\S+) (\d+)w", one.get("srcset"))
        assert [int(width) for _, width in offered] == widths
        for address, width in offered:
            with Image.open(tmp_path / "site/kits/oval-9-renewal" / address) as image:
                assert (image.format, image.width) == ("WEBP", int(width))


def test_two_builds_are_alike(shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RANGEBOOK_STORE", "")
    build_site(checked(shop), tmp_path / "one")
    photos.sizes.cache_clear()
    for path in (shop / "entries/kits/photos").rglob("*.*"):
        os.utime(path, (1, 1))
    build_site(checked(shop), tmp_path / "two")
    one, two = (
        {path.relative_to(top): path.read_bytes() for path in top.rglob("*") if path.is_file()}
        for top in (tmp_path / "one", tmp_path / "two")
    )
    assert one == two


def test_a_picture_is_drawn_once_by_whatever_process(shop: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """What was drawn is kept in the store by the picture's bytes: another build, from another folder too, has it from there. Where the
    store holds something else, or there is none, it is drawn again, to the same bytes."""
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    place = shop / "entries/kits/photos/oval-9-renewal/a.jpg"
    other = shutil.copy(place, tmp_path / "other.jpg")

    def anew(path: Path) -> tuple[photos.Picture, ...]:
        photos.sizes.cache_clear()
        return photos.sizes(path, 0)

    first = anew(place)
    with monkeypatch.context() as patch:
        patch.setattr(photos, "_drawn", lambda _: pytest.fail("it was drawn again"))
        assert anew(Path(other)) == first
    (kept,) = (tmp_path / "store").glob("*.sqlite")
    with sqlite3.connect(kept) as base:
        base.execute("UPDATE thing SET card = '[[1, 2]]'")
    assert anew(place) == first
    kept.write_bytes(b"no ledger")
    assert anew(place) == first
    monkeypatch.setenv("RANGEBOOK_STORE", "")
    assert anew(place) == first


def test_no_more_pictures_are_kept_than_so_many(shop: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    monkeypatch.setattr(photos, "_MOST_KEPT", 2)
    photos.sizes.cache_clear()
    for place in sorted((shop / "entries/kits/photos/oval-9-renewal").iterdir()):
        photos.sizes(place, 0)
    assert using(photos._DRAWN, lambda ledger: ledger.count()) == 1


def test_what_is_kept_offline_stays_within_the_budget(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    computed = Computed(load(shop))
    all_of_it = photos.offline(computed)
    addresses = [address for address, _ in all_of_it["files"]]
    small = [one.sizes[0].url for one in photos.all_pictures(computed)]
    assert addresses[: len(small)] == small, "one size of each first"
    assert {address: len(data) for address, data in photos.picture_files(computed).items()} == dict(map(tuple, all_of_it["files"]))
    assert all_of_it["left_out"] == 0
    monkeypatch.setattr(photos, "OFFLINE_BYTES", all_of_it["files"][0][1] + 1)
    less = photos.offline(computed)
    assert (
        sum(size for _, size in less["files"]) <= less["budget"]
        and less["left_out"] + len(less["files"]) == len(addresses)
        and less["left_out"]
    )


def test_a_picture_that_is_gone_keeps_the_book_from_being_built(shop: Path) -> None:
    from rangebook.site.generator.gate import NotCleanError

    (shop / "entries/kits/photos/oval-9-renewal/b.png").unlink()
    with pytest.raises(NotCleanError, match=r"there is no entries/kits/photos/oval-9-renewal/b\.png"):
        checked(shop)


def test_on_a_phone(tab: Tab, site_url: str, loaded: Loaded) -> None:
    """The demo book's: the small file is what a phone with one pixel to a point loads, and only once it comes near."""
    family = next(one for one in loaded.book.families.values() if any(part.photos for part in one.parts))
    tab.page.goto(f"{site_url}switches/{family.id}/")
    tab.page.wait_for_load_state("networkidle")
    assert not any("/photos/" in address for address in tab.seen.asked), "folded and far below: not loaded"
    part = next(part for part in family.parts if part.photos)
    tab.page.goto(site_url + urls.part_url(part))
    picture = tab.page.get_by_alt_text(part.photos[0].shows)
    picture.scroll_into_view_if_needed()
    expect(picture).to_have_js_property("complete", True)
    assert picture.evaluate("(one) => one.naturalWidth") > 0
    assert not tab.seen.complaints
    assert tab.page.evaluate("document.documentElement.scrollWidth") <= 390
