"""Part numbers as people write them: any spelling of one is the same number."""

from __future__ import annotations

import re
from collections.abc import Iterable

from rangebook.reading.nearest import nearest_of

_LEFT_OUT = re.compile(r"[\s\-./]+")


def normalise(number: str) -> str:
    """The number with case, spaces, hyphens, dots and slashes taken out; two numbers are one if these agree."""
    return _LEFT_OUT.sub("", number).upper()


def nearest(wanted: str, known: Iterable[str], most: int = 5) -> list[str]:
    """Of the ``known`` numbers those that look most like ``wanted``, nearest first; numbers that hold it come first."""
    key = normalise(wanted)
    by_key: dict[str, str] = {}
    for number in known:
        by_key.setdefault(normalise(number), number)
    holds = sorted((one for one in by_key if len(key) >= 3 and key in one), key=lambda one: (len(one), one))
    close = nearest_of(key, by_key, most, like=0.0, key=str)
    return [by_key[one] for one in dict.fromkeys(holds + close)][:most]
