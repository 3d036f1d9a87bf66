"""The model year in a vehicle identification number of 17 characters, and nothing else of it.

Source: 49 CFR 565.15, the values of the characters, the weights of the places, the check digit in position 9 and the codes of
the model years in position 10. One code stands for two years that are 30 apart. Which of them, position 7 tells of cars and of
trucks up to 10,000 lb: a letter from 2010 on, a digit before. That is an inference (73 FR 23367, 30 April 2008, takes it from
the character that those vehicles must have there), and heavier vehicles may have either.

What the browser computes with is :func:`tables`, so that both have the same figures and the same words.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

LENGTH = 17
CHECK_AT, YEAR_AT, SERIES_AT = 8, 9, 6
"""Places from 0: the check digit, the model year, and the character that tells which 30 years are meant."""

WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
VALUES = MappingProxyType(
    {str(digit): digit for digit in range(10)}
    | dict(zip("ABCDEFGH", range(1, 9), strict=True))
    | dict(zip("JKLMNPR", (1, 2, 3, 4, 5, 7, 9), strict=True))
    | dict(zip("STUVWXYZ", range(2, 10), strict=True))
)
"""Character -> its value. I, O and Q never stand in a VIN: they look like 1 and 0."""
CHECK_DIGITS = "0123456789X"
"""The check digit by the remainder of the weighted sum when it is divided by 11."""
YEAR_CODES = "ABCDEFGHJKLMNPRSTVWXY123456789"
"""The codes of 1980 to 2009 in order, and again of 2010 to 2039."""
FIRST_YEAR, SPAN = 1980, 30

WORDS = MappingProxyType(
    {
        "length": "A VIN has 17 characters, this has {count}: read it once more from the plate.",
        "character": "A VIN has only digits and letters, and “{character}” in place {place} is neither.",
        "letter": "The letters I, O and Q never stand in a VIN; place {place} has {character}: it will be {instead}.",
        "check_digit": (
            "The check digit does not agree: place 9 has {character} and the others come to {instead}. One of the characters was read "
            "or typed wrongly; or the vehicle was not built for North America, where place 9 need not be a check digit: "
            "then take the year from its papers."
        ),
        "year_code": "Place 10 has {character}, which stands for no model year: take the year from the papers.",
        "certain": "Model year {year}: the check digit agrees, and place 10 has {character}.",
        "later": (
            "Model year {year}: the check digit agrees, place 10 has {character}, and place 7 has a letter. That it is not {other} is "
            "inferred from place 7 and holds for cars and light trucks, up to 10,000 lb."
        ),
        "either": (
            "Model year {year} or {other}: the check digit agrees, and place 10 has {character}. Place 7 has a digit: a car or a light "
            "truck, up to 10,000 lb, is then {year}; a heavier one can be either."
        ),
    }
)
"""What is said, by what was found. Places are counted from 1, as people count them."""

_LEFT_OUT = re.compile(r"[\s\-\u2010-\u2015\u2212]+")


@dataclass(frozen=True, slots=True)
class VinYear:
    """What a VIN says of the model year. ``years`` is one year, or two of which the first is the likelier, or empty where the VIN
    is refused; ``why`` says in a sentence how that is known, or what is wrong with it; ``found`` is the key of it in :data:`WORDS`.
    """

    vin: str
    years: tuple[int, ...]
    found: str
    why: str

    @property
    def refused(self) -> bool:
        """Whether no year can be had from it."""
        return not self.years


def model_year(text: str, newest: int | None = None) -> VinYear:
    """The model year in a VIN as it was typed; capitals, spaces and hyphens do not matter.

    ``newest`` is the last model year that there can be by now; a year after it is ruled out. Nothing is raised: a VIN that
    cannot be right has no years, and says why.
    """
    vin = _LEFT_OUT.sub("", text).upper()
    if len(vin) != LENGTH:
        return _said(vin, "length", count=len(vin))
    for place, character in enumerate(vin, 1):
        if character in "IOQ":
            return _said(vin, "letter", place=place, character=character, instead="1" if character == "I" else "0")
        if character not in VALUES:
            return _said(vin, "character", place=place, character=character)
    right = check_digit(vin)
    if vin[CHECK_AT] != right:
        return _said(vin, "check_digit", character=vin[CHECK_AT], instead=right)
    code = vin[YEAR_AT]
    if code not in YEAR_CODES:
        return _said(vin, "year_code", character=code)
    first = FIRST_YEAR + YEAR_CODES.index(code)
    second = first + SPAN
    if newest is not None and second > newest:
        return _said(vin, "certain", (first,), year=first, character=code)
    if vin[SERIES_AT].isdigit():
        return _said(vin, "either", (first, second), year=first, other=second, character=code)
    return _said(vin, "later", (second,), year=second, other=first, character=code)


def check_digit(vin: str) -> str:
    """The check digit that belongs to 17 characters; what stands in its place does not count."""
    return CHECK_DIGITS[sum(VALUES[one] * weight for one, weight in zip(vin, WEIGHTS, strict=True)) % 11]


def tables() -> dict[str, Any]:
    """All figures and words of this module as JSON data, for the browser."""
    return {
        "values": dict(VALUES),
        "weights": list(WEIGHTS),
        "check": CHECK_DIGITS,
        "codes": YEAR_CODES,
        "first": FIRST_YEAR,
        "words": dict(WORDS),
    }


def _said(vin: str, found: str, years: tuple[int, ...] = (), **figures: object) -> VinYear:
    return VinYear(vin, years, found, WORDS[found].format(**figures))
