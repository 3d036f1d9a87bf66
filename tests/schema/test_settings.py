"""What a book says of itself: its colours and its logo, refused in a sentence where they are of no use.

Sources: WCAG 2.2, contrast ratio (black on white is 21:1) and 1.4.6; that #595959 is the palest grey that passes 7:1 on white, and #767676
the palest that passes 4.5:1, is widely printed (WebAIM), from memory.
"""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from PIL import Image

from rangebook.schema.contrast import contrast
from rangebook.schema.settings import COLOURS, problems_of, read_settings
from rangebook.schema.store import shipped
from rangebook.words.catalogue import FOLDER
from rangebook.words.problems import problem_fix, problem_words

HEAD = "format: 2\nname: Hill Road\n"


def picture(kind: str = "PNG", side: int = 40) -> bytes:
    written = io.BytesIO()
    Image.new("RGB", (side, side), (200, 30, 30)).save(written, kind)
    return written.getvalue()


def test_contrast_as_published() -> None:
    assert contrast("#000000", "#ffffff") == contrast("#ffffff", "#000000") == pytest.approx(21)
    assert contrast("#595959", "#ffffff") > 7 > contrast("#5a5a5a", "#ffffff")
    assert contrast("#767676", "#ffffff") > 4.5 > contrast("#777777", "#ffffff")


@pytest.mark.parametrize(
    ("colours", "says", "fix"),
    [
        ('{bar: "#595959", accent: "#ffffff"}', None, None),
        ('{bar: "#5a5a5a", accent: "#ffffff"}', "white letters on the bar, is 6.", "darker"),
        ('{bar: "#000000"}', None, None),
        ('{accent: "#4060a0"}', "what stands out on the bar", "lighter"),
        ('{bar: "#402000", accent: "#b06020"}', "what stands out on the bar", "lighter"),
        ('{bar: "#FFFFFF"}', "#FFFFFF", "small letters"),
        ("{bar: red}", "red", "#14303f"),
        ("{page: red}", "page", ""),
        ("{}", "", ""),
    ],
)
def test_colours_within_the_contrast_rules(colours: str, says: str | None, fix: str | None) -> None:
    found = problems_of(f"{HEAD}colours: {colours}\n")
    if says is None or fix is None:
        assert found == []
    else:
        assert found and says in problem_words(found[0]) and fix in problem_fix(found[0])
        assert found[0].mark.line == 3


def test_settings_of_a_book(tmp_path: Path) -> None:
    assert read_settings(tmp_path)[0].colours == COLOURS
    (tmp_path / "logo.png").write_bytes(picture())
    (tmp_path / "book.yml").write_text(HEAD + 'logo: logo.png\ncolours: {bar: "#000000"}\n', "utf-8")
    settings, problems = read_settings(tmp_path)
    assert not problems
    assert dict(settings.texts) == {"format": "2", "name": "Hill Road"}
    assert dict(settings.colours) == {**COLOURS, "bar": "#000000"}
    assert settings.logo == ("logo.png", picture())


@pytest.mark.parametrize(
    ("name", "make", "says"),
    [
        ("logo.png", lambda path: None, "cannot be read"),
        ("logo.png", lambda path: path.symlink_to("/etc/hostname"), "link"),
        ("logo.png", lambda path: path.write_bytes(b"<svg onload='alert(1)'/>"), "no PNG"),
        ("logo.png", lambda path: path.write_bytes(picture() + bytes(100_000)), "larger than 100 kB"),
        ("logo.svg", lambda path: path.write_bytes(picture()), "logo.svg"),
        ("../logo.png", lambda path: None, "../logo.png"),
    ],
)
def test_logos_that_are_of_no_use(tmp_path: Path, name: str, make, says: str) -> None:
    make(tmp_path / Path(name).name)
    (tmp_path / "book.yml").write_text(f"{HEAD}logo: {name}\n", "utf-8")
    _, problems = read_settings(tmp_path)
    assert len(problems) == 1 and says in problem_words(problems[0]) and problem_fix(problems[0])


@pytest.mark.parametrize(
    ("said", "units", "paper", "tag"),
    [
        ("", "metric", "A4", "en"),
        ("region: GB", "metric", "A4", "en-GB"),
        ("region: US", "us", "Letter", "en-US"),
        ("region: US\nunits: metric", "metric", "Letter", "en-US"),
        ("region: CA\nlanguage: en", "metric", "Letter", "en-CA"),
        ("units: us", "us", "A4", "en"),
    ],
)
def test_units_and_paper_go_by_the_region(tmp_path: Path, said: str, units: str, paper: str, tag: str) -> None:
    """Source: Unicode CLDR 47, supplemental measurementData."""
    (tmp_path / "book.yml").write_text(f"{HEAD}{said}\n", "utf-8")
    settings, problems = read_settings(tmp_path)
    assert problems == []
    assert (settings.units, settings.paper, settings.language_tag) == (units, paper, tag)


@pytest.mark.parametrize(("said", "fix"), [("region: gb", "`GB`"), ("units: feet", "us"), ("language: xx", "en")])
def test_what_there_is_not_is_refused_with_what_there_is(said: str, fix: str) -> None:
    (found,) = problems_of(f"{HEAD}{said}\n")
    assert fix in f"{problem_words(found)} {problem_fix(found)}"


def test_there_is_a_catalogue_of_each_language_and_a_language_for_each_catalogue() -> None:
    schema = json.loads((shipped("schema") / "book.json").read_text("utf-8"))
    assert schema["properties"]["language"]["enum"] == sorted(one.name for one in FOLDER.iterdir())
