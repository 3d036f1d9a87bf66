"""The model year in a vehicle identification number of 17 characters: what ``site/client/shared/vin.js`` is held against.

Source: 49 CFR 565.15, the values of the characters, the weights of the places, the check digit in position 9 and the codes of
the model years in position 10. One code stands for two years that are 30 apart. Which of them, position 7 tells of cars and of
trucks up to 10,000 lb: a letter from 2010 on, a digit before. That is an inference (73 FR 23367, 30 April 2008, takes it from
the character that those vehicles must have there), and heavier vehicles may have either.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from types import MappingProxyType

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

_LEFT_OUT = re.compile(r"[\s\-\u2010-\u2015\u2212]+")


@dataclass(frozen=True, slots=True)
class VinYear:
    """What a VIN says of the model year. ``years`` is one year, or two of which the first is the likelier, or empty where the VIN
    is refused; ``found`` is how that is known, or what is wrong with it, and ``figures`` what has to be named in saying so.
    """

    vin: str
    years: tuple[int, ...]
    found: str
    figures: tuple[str, ...]

    @property
    def refused(self) -> bool:
        """Whether no year can be had from it."""
        return not self.years


def model_year(text: str, newest: int | None = None) -> VinYear:
    """The model year in a VIN as it was typed; capitals, spaces and hyphens do not matter.

    ``newest`` is the last model year that there can be by now; a year after it is ruled out. Nothing is raised: a VIN that
    cannot be right has no years.
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


def _said(vin: str, found: str, years: tuple[int, ...] = (), **figures: object) -> VinYear:
    return VinYear(vin, years, found, tuple(str(one) for one in figures.values()))
