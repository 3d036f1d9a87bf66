"""Part numbers as people write them: any spelling of one is the same number."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable

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
    close = difflib.get_close_matches(key, list(by_key), n=most, cutoff=0.0)
    return [by_key[one] for one in dict.fromkeys(holds + close)][:most]
