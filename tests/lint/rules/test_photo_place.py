"""photo-place: where and when a JPEG was taken. Pillow writes the pictures and judges what is left of them."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from rangebook.cli import main
from rangebook.lint.examples import base_book
from rangebook.reading.photos import photo_of, photo_path, stripped
from tests.lint.seeding.operators.entering import each, operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "photo-place"


def jpeg(place: bool = True, time: bool = True, turned: int = 1) -> bytes:
    exif = Image.Exif()
    if place:
        exif.get_ifd(0x8825)[1] = "N"
        exif.get_ifd(0x8825)[2] = (1.0, 2.0, 3.0)
    if time:
        exif[0x0132] = "2026:01:02 03:04:05"
    exif[0x0112] = turned
    out = io.BytesIO()
    Image.effect_noise((40, 24), 50).save(out, "JPEG", exif=exif)
    return out.getvalue()


@operator("a picture from a telephone", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source, _, node in [*each("kit", "photos", "*", "file")(ground), *each("connector", "photos", "*", "file")(ground)]:
        seed = source.put(node, "telephone.jpg")
        yield replace(seed, files={**seed.files, photo_path(source.file, "telephone.jpg"): jpeg()})


@pytest.mark.parametrize(("place", "time"), [(True, True), (True, False), (False, True), (False, False)])
def test_what_a_picture_tells(place: bool, time: bool) -> None:
    wanted = [name for name, there in (("place", place), ("time", time)) if there]
    assert list(photo_of(jpeg(place, time)).tells) == wanted


@pytest.mark.parametrize("turned", [1, 6])
def test_nothing_of_the_picture_is_another(turned: int) -> None:
    before = jpeg(turned=turned)
    after = stripped(before)
    assert photo_of(after).tells == () and b"2026:01:02" not in after
    one, other = Image.open(io.BytesIO(before)), Image.open(io.BytesIO(after))
    assert other.getexif().get(0x0112, 1) == turned and one.tobytes() == other.tobytes()
    scan = before.index(b"\xff\xda")
    assert after.endswith(before[scan:]), "not a byte of it was made anew"
    assert stripped(after) == after


@pytest.mark.parametrize("data", [b"", b"\xff\xd8", b"words", jpeg()[:300]])
def test_what_is_no_whole_picture_is_let_be(data: bytes) -> None:
    assert stripped(data) == data


def test_it_is_told_and_mended(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    for name, text in base_book().items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    entry = tmp_path / "entries/kits/oval-9-renewal.md"
    entry.write_text(
        entry.read_text("utf-8").replace("sources:", 'photos: [{file: a.jpg, shows: "two grey seals in a bag"}]\nsources:', 1), "utf-8"
    )
    picture = tmp_path / "entries/kits/photos/oval-9-renewal/a.jpg"
    picture.parent.mkdir(parents=True)
    picture.write_bytes(jpeg())
    assert main(["lint", "--root", str(tmp_path)]) == 0
    assert "tells the place and time of the picture" in capsys.readouterr().out
    assert main(["lint", "--fix", "--dry-run", "--root", str(tmp_path)]) == 0
    assert "would be taken out" in capsys.readouterr().err and photo_of(picture.read_bytes()).tells
    assert main(["lint", "--fix", "--root", str(tmp_path)]) == 0
    assert photo_of(picture.read_bytes()).tells == ()
    capsys.readouterr()
    main(["lint", "--root", str(tmp_path)])
    assert RULE not in capsys.readouterr().out
