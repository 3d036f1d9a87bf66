"""Wire colours. Source of the codes: IEC 60757, from memory; green with yellow only as GNYE (rule seen)."""

from __future__ import annotations

import re

import pytest
from tests.site.drawings.making import alternatives, having, parse, rules_of_the_house

from rangebook.lint.rules.wire_colour import COLOURS
from rangebook.site.drawings import STYLESHEET
from rangebook.site.drawings.wire_colours import NAMES, swatch_svg, wire_colour

IEC_60757 = {
    "BK": "black", "BN": "brown", "RD": "red", "OG": "orange", "YE": "yellow", "GN": "green", "BU": "blue", "VT": "violet",
    "GY": "grey", "WH": "white", "PK": "pink", "GD": "gold", "TQ": "turquoise", "SR": "silver",
}  # fmt: skip
"""Typed again from the standard, from memory."""


def test_the_codes_are_those_of_the_standard_and_of_the_linter() -> None:
    assert dict(NAMES) == IEC_60757 == COLOURS


@pytest.mark.parametrize(
    ("code", "name"),
    [
        ("RD", "red"),
        ("RDWH", "red with a white stripe"),
        ("BUOG", "blue with an orange stripe"),
        ("RDWHBK", "red with stripes in white and black"),
        ("GNYE", "green-yellow"),
        ("rdbk", "red with a black stripe"),
        ("RED", "RED (not a colour code of IEC 60757)"),
        ("RX", "RX (not a colour code of IEC 60757)"),
    ],
)
def test_a_code_in_words(code: str, name: str) -> None:
    assert wire_colour(code).name == name
    assert alternatives(parse(swatch_svg(code)))[0] == name


def test_a_swatch_shows_the_stripe_along_the_middle_of_the_base() -> None:
    root = parse(swatch_svg("RDWH"))
    (base,), (stripe,) = having(root, "rb-wire-rd"), having(root, "rb-wire-wh")
    top, height = (float(base.get(key, "nan")) for key in ("y", "height"))
    stripe_top, stripe_height = (float(stripe.get(key, "nan")) for key in ("y", "height"))
    assert stripe.get("width") == base.get("width")
    assert stripe_top + stripe_height / 2 == pytest.approx(top + height / 2, abs=0.02)
    assert 0 < stripe_height < height / 2


def test_green_yellow_is_half_and_half_and_no_other_pair_is() -> None:
    def share(code: str, stripe: str) -> float:
        root = parse(swatch_svg(code))
        base = float(having(root, f"rb-wire-{code[:2].lower()}")[0].get("height", "nan"))
        return float(having(root, f"rb-wire-{stripe}")[0].get("height", "nan")) / base

    assert share("GNYE", "ye") == pytest.approx(1 / 2)
    assert share("GNWH", "wh") == pytest.approx(1 / 3, abs=0.01)


def test_a_code_that_is_none_has_no_colour() -> None:
    root = parse(swatch_svg("RX"))
    assert having(root, "rb-wire-none")
    assert not [one for one in root.iter() if re.search(r"rb-wire-[a-z]{2}$", one.get("class", ""))]


@pytest.mark.parametrize("code", [*IEC_60757, "GNYE", "RX", "<b>"])
def test_a_swatch_keeps_the_rules_of_the_house(code: str) -> None:
    assert rules_of_the_house(swatch_svg(code)) == []


def test_each_colour_has_a_class_and_no_two_look_the_same() -> None:
    fills = dict(
        re.findall(r"\.rb-wire-([a-z]{2}) \{ --rb-wire: (#[0-9a-f]{6}); fill: var\(--rb-wire\); \}", STYLESHEET.read_text("utf-8"))
    )
    assert fills.keys() == {code.lower() for code in IEC_60757}
    assert len(set(fills.values())) == len(fills)
