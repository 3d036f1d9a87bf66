"""Part numbers as people write them: any spelling of one is the same number."""

from __future__ import annotations

from collections.abc import Iterable

from rangebook.reading.nearest import nearest_of
from rangebook.reading.spelling import normalise as normalise  # noqa: PLC0414 - numbers are asked for here

LOOKS_LIKE = {"O": "0", "I": "1", "L": "1", "B": "8", "S": "5", "Z": "2"}
"""Letter -> the figure that it is taken for. Common practice, no source."""
_FOLD = str.maketrans(LOOKS_LIKE)


def look(key: str) -> str:
    """What a normalised number looks like: two that look the same differ in nothing but letters that are taken for figures."""
    return key.translate(_FOLD)


def nearest(wanted: str, known: Iterable[str], most: int = 5) -> list[str]:
    """Of the ``known`` numbers those that look most like ``wanted``, nearest first; numbers that hold it come first."""
    key = normalise(wanted)
    by_key: dict[str, str] = {}
    for number in known:
        by_key.setdefault(normalise(number), number)
    holds = sorted((one for one in by_key if len(key) >= 3 and key in one), key=lambda one: (len(one), one))
    close = nearest_of(key, by_key, most, like=0.0, key=str)
    return [by_key[one] for one in dict.fromkeys(holds + close)][:most]
