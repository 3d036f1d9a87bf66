"""Which plural form a count takes, by rules in the notation of the Unicode CLDR (UTS 35, part 3, "Language Plural Rules").

Only whole numbers are counted here, so of the operands ``n`` and ``i`` are the count and all others nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

OTHER = "other"
"""The form where no rule holds; every language has it."""

_RELATION = re.compile(r"([nivwftce])\s*(?:%\s*(\d+))?\s*(!?=)\s*([\d.,\s]+)\Z")

Rule = Callable[[int], bool]


def category_of(rules: Mapping[str, str]) -> Callable[[int], str]:
    """Rules by category, as ``{"one": "i = 1 and v = 0"}`` -> the category of a count. Raises ``ValueError`` for what is no rule."""
    made = [(category, _rule(text)) for category, text in rules.items()]

    def category(count: int) -> str:
        return next((name for name, holds in made if holds(count)), OTHER)

    return category


def _rule(text: str) -> Rule:
    any_of = [[_relation(relation.strip()) for relation in part.split(" and ")] for part in text.split(" or ")]
    return lambda count: any(all(relation(count) for relation in all_of) for all_of in any_of)


def _relation(text: str) -> Rule:
    found = _RELATION.match(text)
    if not found:
        raise ValueError(f"{text!r} is no plural rule")
    operand, modulus, sign, listed = found.groups()
    among = [_range(one.strip()) for one in listed.split(",")]

    def holds(count: int) -> bool:
        value = abs(count) if operand in "ni" else 0
        value = value % int(modulus) if modulus else value
        return any(value in one for one in among) is (sign == "=")

    return holds


def _range(text: str) -> range:
    low, _, high = text.partition("..")
    return range(int(low), int(high or low) + 1)
