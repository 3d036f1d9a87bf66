"""What a family's own notes say of a fault: the paragraphs in which its author wrote of such a thing.

Notes are free text, so this is a search and no verdict: a paragraph is found by the words that mechanics have for a fault, or by the
number of a part. All notes stand on the family's page.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from rangebook.book.model import Family, Part

_BURNT = r"burn|worn|wear|dirt|oxid|corro|pitted|track|brush"
_WET = r"water|wet|damp|moist|rain|leak|corro|verdigris|salt"
_SHORT = r"weld|short(?! of)|bridg|swarf|dust"
_SET = r"detent|set(?!tle)|adjust|slot|align|notch|needle|travel|loose"
_LADDER = r"resist|ladder|ohm|drift"

STEMS: dict[str, str] = {
    "stuck_open": _BURNT,
    "stuck_closed": r"weld|stick|stuck|short(?! of)|bridg",
    "burnt": _BURNT,
    "open": r"crimp|broken|breaks|chaf|bent|pulled",
    "detent+": _SET,
    "detent-": _SET,
    "swapped": r"swap|mirror|changed about|wrong way|count",
    "resistance": _BURNT,
    "step_open": f"{_LADDER}|{_BURNT}",
    "step_wrong": _LADDER,
    "drift": _LADDER,
    "shunted": f"{_LADDER}|{_WET}",
    "shorted": f"{_SHORT}|{_WET}",
    "grounded": f"{_SHORT}|{_WET}",
    "leakage": _WET,
    "wrong": r"look-?alike|stamp|counterfeit|copy|copies|mistak|confus",
    "leak": f"{_WET}|{_SHORT}",
}
"""Kind of fault -> the beginnings of words in which notes speak of it. Common practice, no source."""


class Note(NamedTuple):
    """A paragraph of a family's notes without its marks, under its heading; ``kinds`` are the faults of which it may speak, ``parts`` the
    keys of the parts that it names."""

    head: str
    text: str
    kinds: tuple[str, ...]
    parts: tuple[str, ...]


def notes_of(family: Family) -> list[Note]:
    """The paragraphs of a family's notes that speak of some fault, or name one of its parts."""
    words = {kind: re.compile(rf"\b(?:{stems})", re.IGNORECASE) for kind, stems in STEMS.items()}
    numbers = [(part.key, re.compile(rf"(?<![\w.-]){re.escape(part.number)}(?![\w-])")) for part in family.parts]
    found = []
    for head, text in _paragraphs(family.entry.prose):
        kinds = tuple(kind for kind, one in words.items() if one.search(text))
        parts = tuple(key for key, one in numbers if one.search(head) or one.search(text))
        if kinds or parts:
            found.append(Note(head, text, kinds, parts))
    return found


def said_of(family: Family, part: Part, kinds: set[str]) -> list[Note]:
    """What is to be read with faults of these kinds on a part: what speaks of them, but for that which is of other parts only."""
    return [one for one in notes_of(family) if kinds & {*one.kinds} and (not one.parts or part.key in one.parts)]


_MARKS = re.compile(r"[*_`]{1,3}(?=\S)|(?<=\S)[*_`]{1,3}|!?\[([^\]\n]*)\]\([^)\n]*\)")


def _paragraphs(prose: str) -> Iterator[tuple[str, str]]:
    """Heading and text of each paragraph; no tables, no code."""
    head = ""
    for piece in re.split(r"\n[ \t]*\n", prose):
        lines = [line.strip() for line in piece.strip().splitlines()]
        if lines and lines[0].startswith("#"):
            head = lines.pop(0).lstrip("#").strip()
        if lines and not lines[0].startswith(("|", "```", "~~~", "<")):
            yield head, _MARKS.sub(lambda found: found[1] or "", " ".join(lines))
