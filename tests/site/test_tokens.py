"""Text is at least 7:1 on its ground, light and dark, lines and marks 3:1: computed from the colours that all style sheets go by.

Source: WCAG 2.2, 1.4.6 contrast (enhanced), 1.4.11 non-text contrast, and its definitions of contrast ratio and relative luminance.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import rangebook.site

TOKENS = (Path(rangebook.site.__file__).parent / "style" / "tokens.css").read_text("utf-8")
RULE = re.compile(r"^ *(:root[^{]*)\{([^}]*)\}", re.MULTILINE)
COLOUR = re.compile(r"--([\w-]+): (#[0-9a-f]{6});")

VERDICTS = ("straight", "with_parts", "rewire", "unknown", "no")
TEXT = [
    *((ink, ground) for ink in ("ink", "soft", "link") for ground in ("page", "card", "sunk")),
    *((verdict, ground) for verdict in VERDICTS for ground in (f"{verdict}-pale", "card")),
    *(("ink", f"{verdict}-pale") for verdict in VERDICTS),
    ("bar-ink", "bar"),
    ("accent", "bar"),
    ("go-ink", "go"),
    ("caution-ink", "caution"),
]
MARKS = [
    *((line, ground) for line in ("edge", "focus") for ground in ("page", "card", "sunk")),
    *(("on-mark", verdict) for verdict in VERDICTS),
]


def themes() -> dict[str, dict[str, str]]:
    """Selector -> its colours; what a dark one does not name is the light one's."""
    found = {selector.strip(): dict(COLOUR.findall(body)) for selector, body in RULE.findall(TOKENS)}
    light = found[":root"]
    return {selector: {**light, **colours} for selector, colours in found.items()}


def luminance(colour: str) -> float:
    """Relative luminance of ``#rrggbb``, 0 to 1."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    """1 to 21."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_contrast_is_reckoned_as_published() -> None:
    """WCAG: black on white is 21:1. That #767676 is the palest grey that passes 4.5:1 on white is widely printed (WebAIM)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") > 4.5 > contrast("#777777", "#ffffff")


def test_light_and_dark_are_there() -> None:
    assert list(themes()) == [":root", ':root:not([data-theme="light"])', ':root[data-theme="dark"]']
    light, by_device, by_choice = themes().values()
    assert by_device == by_choice != light


@pytest.mark.parametrize("selector", [":root", ':root[data-theme="dark"]'], ids=["light", "dark"])
def test_text_is_seven_to_one_and_marks_are_three_to_one(selector: str) -> None:
    colours = themes()[selector]
    low = {(ink, ground): contrast(colours[ink], colours[ground]) for ink, ground in TEXT}
    assert {pair: round(ratio, 2) for pair, ratio in low.items() if ratio < 7} == {}
    marks = {(mark, ground): contrast(colours[mark], colours[ground]) for mark, ground in MARKS}
    assert {pair: round(ratio, 2) for pair, ratio in marks.items() if ratio < 3} == {}
