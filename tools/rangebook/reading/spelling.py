"""A part number as it is compared, whoever typed it and however."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_LEFT_OUT = re.compile(r"[\s\-./]+")

_DASHES = "\u02d7\u2043\u2212"
"""Signs that look like a hyphen and are not of Unicode's category of dashes: modifier minus, hyphen bullet, minus."""
_SLASHES = "\u2044\u2215\u29f8"
"""Fraction, division and big solidus."""
_CYRILLIC = "АВЕЅІЈКМНОРСТУХԚԜаеѕіјорсухԛԝһԁ", "ABESIJKMHOPCTYXQWaesijopcyxqwhd"
_GREEK = "ΑΒΕΖΗΙΚΜΝΟΡΤΥΧοιανρυ", "ABEZHIKMNOPTYXoiavpu"  # noqa: RUF001
"""Letters and those of ASCII that they look like. Unicode UTS #39, confusables.txt, from memory. ``client/shared/search.js`` has the
same."""
_PLAIN: dict[int, int | str] = {
    **str.maketrans(*_CYRILLIC),
    **str.maketrans(*_GREEK),
    **dict.fromkeys(map(ord, _DASHES), "-"),
    **dict.fromkeys(map(ord, _SLASHES), "/"),
}


@lru_cache(maxsize=16_384)
def normalise(number: str) -> str:
    """The number with case, spaces, hyphens, dots and slashes taken out; two numbers are one if these agree.

    Numbers in a book are ASCII. What is typed or pasted need not be: other dashes, full width, letters of other scripts that look the
    same, and what cannot be seen count for what they look like (Unicode's NFKC, its categories Cc, Cf and Pd, and a few letters).
    """
    if not (number.isascii() and number.isprintable()):
        number = "".join(map(_seen, unicodedata.normalize("NFKC", number))).translate(_PLAIN).upper()
        number = number.translate(_PLAIN)
    return _LEFT_OUT.sub("", number).upper()


def _seen(sign: str) -> str:
    category = unicodedata.category(sign)
    return "" if category in ("Cc", "Cf") else "-" if category == "Pd" else sign
