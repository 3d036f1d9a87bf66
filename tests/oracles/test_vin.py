"""The model year in a VIN.

Figures: 49 CFR 565.15 (values of the characters, weights, check digit, codes of the model years); check digits of many VINs
against PyPI ``faker``. That a letter in position 7 means 2010 on is an inference for light vehicles (73 FR 23367).
"""

from __future__ import annotations

import pytest
from faker import Faker
from hypothesis import given
from hypothesis import strategies as st

from tests.oracles.vin import VALUES, YEAR_CODES, check_digit, model_year

TABLE = dict(zip("ABCDEFGHJKLMNPRSTUVWXYZ", (1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4, 5, 7, 9, 2, 3, 4, 5, 6, 7, 8, 9), strict=True))
"""The table of 49 CFR 565.15, typed from it by hand."""

ALPHABET = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"


def value(character: str) -> int:
    """By that table; a digit is worth itself."""
    return TABLE.get(character) or int(character)


def whole(front: str = "1M8GDM9", *, year: str, series: str | None = None) -> str:
    """A VIN with its right check digit; ``series`` is what stands in position 7."""
    front = front[:6] + (series or front[6])
    text = f"{front}A_{year}P042788"
    return text.replace("_", check_digit(text.replace("_", "0")))


def test_the_values_are_those_of_the_regulation() -> None:
    assert dict(VALUES) == TABLE | {str(digit): digit for digit in range(10)}


def test_seventeen_ones_sum_to_89_which_is_8_times_11_and_1() -> None:
    assert check_digit("1" * 17) == "1"
    assert model_year("1" * 17).years == (2001, 2031)


@pytest.mark.parametrize("seed", range(300))
def test_check_digits_agree_with_faker(seed: int) -> None:
    fake = Faker()
    fake.seed_instance(seed)
    vin = fake.vin()
    assert check_digit(vin) == vin[8]
    seen = model_year(vin)
    # faker puts characters into position 10 that stand for no year.
    assert (seen.found == "year_code") == (vin[9] in "0UZ")
    assert seen.refused == (vin[9] in "0UZ")


@pytest.mark.parametrize(
    ("code", "first"),
    [
        ("A", 1980),
        ("H", 1987),
        ("J", 1988),
        ("N", 1992),
        ("P", 1993),
        ("R", 1994),
        ("T", 1996),
        ("V", 1997),
        ("Y", 2000),
        ("1", 2001),
        ("9", 2009),
    ],
)
def test_the_code_stands_for_two_years_thirty_apart(code: str, first: int) -> None:
    """49 CFR 565.15: A-H 1980-87, J-N 1988-92, P 1993, R-T 1994-96, V-Y 1997-2000, 1-9 2001-09, and again from A = 2010."""
    digit = model_year(whole(year=code, series="9"))
    assert digit.years == (first, first + 30)
    assert digit.found == "either"
    letter = model_year(whole(year=code, series="K"))
    assert letter.years == (first + 30,)
    assert letter.found == "later" and str(first) in letter.figures


def test_a_year_that_has_not_come_yet_is_ruled_out() -> None:
    assert model_year(whole(year="W", series="9"), newest=2027).years == (1998,)
    assert model_year(whole(year="W", series="K"), newest=2027).years == (1998,)
    assert model_year(whole(year="V", series="K"), newest=2027).years == (2027,)


def test_spelling_does_not_matter() -> None:
    vin = whole(year="X")
    assert model_year(f" {vin[:3].lower()} {vin[3:9]}-{vin[9:].lower()}\n") == model_year(vin)


@pytest.mark.parametrize("count", [0, 1, 16, 18])
def test_another_length_is_refused(count: int) -> None:
    seen = model_year("1" * count)
    assert seen.refused and seen.found == "length" and seen.figures == (str(count),)


@pytest.mark.parametrize(("letter", "instead"), [("I", "1"), ("O", "0"), ("q", "0")])
def test_letters_that_look_like_figures_are_refused(letter: str, instead: str) -> None:
    seen = model_year("1" * 4 + letter + "1" * 12)
    assert seen.refused and seen.found == "letter"
    assert seen.figures == ("5", letter.upper(), instead)


@pytest.mark.parametrize("character", ["*", "Ä", "١", "²", "_"])
def test_what_is_no_letter_or_digit_is_refused(character: str) -> None:
    seen = model_year("1" * 16 + character)
    assert seen.refused and seen.found == "character" and seen.figures[0] == "17"


def test_a_wrong_check_digit_is_refused_with_the_right_one() -> None:
    seen = model_year("1" * 8 + "2" + "1" * 8)
    assert seen.refused and seen.found == "check_digit"
    assert seen.figures == ("2", "1")


@given(st.text(ALPHABET, min_size=17, max_size=17), st.integers(0, 16), st.sampled_from(ALPHABET))
def test_one_wrong_character_is_noticed_unless_its_value_is_the_same(text: str, place: int, other: str) -> None:
    vin = text[:8] + check_digit(text) + text[9:]
    wrong = vin[:place] + other + vin[place + 1 :]
    noticed = other != vin[8] if place == 8 else value(other) != value(vin[place])
    assert (model_year(wrong).found == "check_digit") == noticed


@given(st.text())
def test_nothing_typed_makes_it_fall_over(text: str) -> None:
    seen = model_year(text)
    assert seen.refused == (seen.found in ("length", "letter", "character", "check_digit", "year_code"))


def test_thirty_codes_none_of_them_a_character_that_may_not_be_one() -> None:
    assert len(YEAR_CODES) == 30 == len(set(YEAR_CODES)) and not set(YEAR_CODES) & set("IOQUZ0")
