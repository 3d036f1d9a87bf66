"""A book of one's own is begun: what is written lints clean, has an answer, and is a site; nothing that is there is touched."""

from __future__ import annotations

import io
import json
import re
import zipfile
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from rangebook.cli import main, parser
from rangebook.desk.beginning.begin import FORGES


def begun(folder: Path, *words: str) -> int:
    return main(["init", str(folder), *words])


def files_of(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def test_what_is_begun_is_a_book(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """From nothing to an answer and a site that has the book's name, address and contact on it."""
    mine = tmp_path / "ours"
    assert begun(mine, "--name", "Hill Road: shop & yard", "--address", "https://book.example.org/", "--contact", "Bench, ext. 12") == 0
    assert main(["lint", "--root", str(mine), "--afresh"]) == 0
    assert "nothing found" in capsys.readouterr().out
    assert main(["fit", "EX-1001", "--json", "--root", str(mine)]) == 0
    seat = json.loads(capsys.readouterr().out)["seats"][0]
    assert {one["number"]: one["verdict"] for one in seat["candidates"]} == {"EX-1001": "straight", "EX-1002": "with_parts"}
    assert main(["build", "--root", str(mine)]) == 0
    page = (mine / "site" / "index.html").read_text("utf-8")
    assert "Hill Road: shop &amp; yard" in page and "Bench, ext. 12" in page
    assert "https://book.example.org/" in (mine / "site" / "search.xml").read_text("utf-8")


def test_where_it_is_read_decides_what_stands_first(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """On the page, on the terminal, and on the sheets of the printed book."""
    mine = tmp_path / "ours"
    assert begun(mine, "--region", "US") == 0
    entry = mine / "entries" / "switches" / "example-lever.md"
    # The example leaves the torque to whoever looks it up. A newton metre is 0.7376 lbf·ft (NIST SP 811, appendix B, from memory).
    entry.write_text(re.sub(r"(?m)^( +)bolts:", r"\1torque_nm: 9\n\1bolts:", entry.read_text("utf-8")), "utf-8")
    both = "6.6 lbf·ft (9 N·m)"
    capsys.readouterr()
    assert main(["fit", "EX-1001", "--root", str(mine)]) == 0
    assert both in capsys.readouterr().out
    assert main(["bundle", "--out", str(tmp_path / "book.zip"), "--root", str(mine)]) == 0
    with zipfile.ZipFile(tmp_path / "book.zip") as made:
        names = made.namelist()
        page = made.read(next(one for one in names if one.endswith("switches/example-lever/index.html"))).decode()
        sheets = PdfReader(io.BytesIO(made.read(next(one for one in names if one.endswith("book.pdf")))))
    assert both in page and '<html lang="en-US" data-units="us">' in page
    width, height = (float(one) / 72 for one in sheets.pages[0].mediabox.upper_right)
    assert (width, height) == pytest.approx((8.5, 11), abs=0.01)  # Letter, ANSI/ASME Y14.1, size A, from memory


def test_there_is_an_example_of_each_kind_with_comments(tmp_path: Path) -> None:
    begun(tmp_path / "ours")
    for folder in ("connectors", "kits", "switches"):
        texts = [path.read_text("utf-8") for path in (tmp_path / "ours" / "entries" / folder).glob("*.md")]
        assert any("# " in text and "An example" in text for text in texts)
    assert {"book.yml", "CONTRIBUTING.md", "LICENSE", ".gitignore", ".pre-commit-config.yaml", ".vscode/tasks.json"} <= files_of(
        tmp_path / "ours"
    )
    assert json.loads((tmp_path / "ours" / ".vscode" / "tasks.json").read_text("utf-8"))["tasks"]
    settings = json.loads((tmp_path / "ours" / ".vscode" / "settings.json").read_text("utf-8"))
    assert settings["glspc.server.command"] == "rangebook"
    assert parser().parse_args(settings["glspc.server.commandArguments"]).command == "language-server"


@pytest.mark.parametrize("forge", FORGES)
def test_what_a_forge_goes_by_checks_builds_and_reports(tmp_path: Path, forge: str) -> None:
    """Each line of it is run in tests/setup/test_templates.py."""
    assert begun(tmp_path / "plain") == 0
    assert begun(tmp_path / "ours", "--forge", forge, "--program", "rangebook==0.2.0", "--no-license") == 0
    more = files_of(tmp_path / "ours") - files_of(tmp_path / "plain")
    text = "".join((tmp_path / "ours" / one).read_text("utf-8") for one in more).replace('"$rangebook"', "rangebook")
    assert all(f"rangebook {command}" in text for command in ("lint", "build", "impact"))
    assert ("rangebook==0.2.0" in text) == (forge != "bare")
    assert "@PROGRAM@" not in text and "LICENSE" not in files_of(tmp_path / "ours")


def test_nothing_that_is_there_is_touched(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "notes.txt").write_text("mine", "utf-8")
    (tmp_path / "link").symlink_to(tmp_path)
    for folder in (tmp_path, tmp_path / "link", tmp_path / "notes.txt"):
        assert begun(folder) == 1
        assert str(folder) in capsys.readouterr().err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["link", "notes.txt"]
    (tmp_path / "clone" / ".git").mkdir(parents=True)
    assert begun(tmp_path / "clone") == 0, "a repository that has nothing in it yet"


@pytest.mark.parametrize(
    "words", [("--name", '"Best" <b>'), ("--name", " "), ("--address", "book.example.org"), ("--address", "https://a@b/")]
)
def test_what_cannot_be_a_setting_is_told_and_nothing_written(
    tmp_path: Path, words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert begun(tmp_path / "ours", *words) == 1
    assert words[0].removeprefix("--") in capsys.readouterr().err
    assert not (tmp_path / "ours").exists()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("format: 3\nname: x\n", "book.yml:1:9: `3` is not known in `format`"),
        ("format: 2\n", "`name`"),
        ("format: 2\nname: x\nadress: https://a/\n", "did you mean `address`"),
        ("- a\n", "the file is not a list of `key: value` lines"),
        ("", "the file is empty"),
        ("format: 2\nname: x\nname: y\n", "book.yml:3:1"),
        ("format: 2\nname: x\nplugins: [run]\n", "plugins"),
    ],
)
def test_settings_that_cannot_be_used_are_refused_by_line(tmp_path: Path, text: str, said: str, capsys: pytest.CaptureFixture[str]) -> None:
    begun(tmp_path / "ours")
    (tmp_path / "ours" / "book.yml").write_text(text, "utf-8")
    assert main(["build", "--root", str(tmp_path / "ours")]) == 1
    assert said in capsys.readouterr().err
    assert not (tmp_path / "ours" / "site").exists()


def test_a_books_own_colours_and_logo(tmp_path: Path) -> None:
    """They reach every page, the handbook's too, the device's icons and the first style sheet, light and dark."""
    mine = tmp_path / "ours"
    assert begun(mine) == 0
    picture = io.BytesIO()
    Image.new("RGB", (60, 20), (200, 30, 30)).save(picture, "PNG")
    (mine / "sign.png").write_bytes(picture.getvalue())
    (mine / "book.yml").write_text('format: 2\nname: Hill Road\nlogo: sign.png\ncolours: {bar: "#101010", accent: "#ffee00"}\n', "utf-8")
    site = tmp_path / "site"
    assert main(["build", "--root", str(mine), "--site-dir", str(site)]) == 0
    assert (site / "book" / "logo.png").read_bytes() == picture.getvalue()
    for page in ("index.html", "cautions/index.html", "handbook/index.html"):
        text = (site / page).read_text("utf-8")
        assert 'book/logo.png"' in text and 'content="#101010"' in text, page
    assert (site / "book" / "tokens.css").read_text("utf-8").endswith(":root:root:root { --bar: #101010; --accent: #ffee00; }\n")
    assert json.loads((site / "manifest.webmanifest").read_text("utf-8"))["theme_color"] == "#101010"
    mark = (site / "book" / "mark.svg").read_text("utf-8")
    assert "#101010" in mark and "#ffee00" in mark and "#14303f" not in mark
    assert Image.open(site / "book" / "icon-maskable-512.png").getpixel((2, 2)) == (16, 16, 16, 255)


@pytest.mark.parametrize("again", [False, True])
def test_the_linter_looks_at_the_settings_too(tmp_path: Path, again: bool, capsys: pytest.CaptureFixture[str]) -> None:
    """By the rules of an entry, each with its place; also where the book was looked at before."""
    mine = tmp_path / "ours"
    assert begun(mine, "--name", "Hill Road") == 0
    if again:
        assert main(["lint", "--root", str(mine)]) == 0
    (mine / "book.yml").write_text('format: 2\nname: Hill Road\nnmae: x\ncolours: {bar: "#ffffff"}\n', "utf-8")
    capsys.readouterr()
    assert main(["lint", "--root", str(mine), "--format", "json"]) == 1
    (found,) = json.loads(capsys.readouterr().out)
    assert (found["file"], found["line"], found["column"], found["rule"], found["severity"]) == ("book.yml", 3, 1, "schema", "error")
    (mine / "book.yml").write_text("format: 2\nname: Hill Road\nname: x\n", "utf-8")
    assert main(["lint", "--root", str(mine)]) == 1
    said = capsys.readouterr().out
    assert "book.yml:3:1: error:" in said and "[duplicate-key]" in said
    (mine / "book.yml").write_text("format: 2\nname: Hill Road\n", "utf-8")
    assert main(["lint", "--root", str(mine)]) == 0
