"""Plain words for what the data says, the same on every page."""

from __future__ import annotations

from collections.abc import Iterable

from rangebook.desk import fit_words
from rangebook.desk.fit import WORDS
from rangebook.fitting.verdict import Word

VERDICTS = {
    Word.STRAIGHT: (WORDS[Word.STRAIGHT], "fits", "Mounts, plugs on and switches the same on this vehicle's wires. Nothing else to order."),
    Word.WITH_PARTS: (
        WORDS[Word.WITH_PARTS],
        "with parts",
        "Fits once the parts that are listed are fitted too: a plug kit, a seal, blanking plugs.",
    ),
    Word.REWIRE: (WORDS[Word.REWIRE], "move wires", "Fits once the wires that are listed have changed places in the plug."),
    Word.UNKNOWN: (WORDS[Word.UNKNOWN], "not known", "Something is not in the book. It says what to measure. Do not fit it on trust."),
    Word.NO: (WORDS[Word.NO], "no", "Does not bolt on, plug on or switch the same. The reasons are listed."),
}
"""Verdict -> its words, the same in one or two words, and what it means."""

STATUS = {
    "current": "sold today",
    "superseded": "superseded, another number took its place",
    "discontinued": "no longer made, nothing took its place",
    "withdrawn": "withdrawn, do not fit it",
    None: "whether it is still sold is not stated",
}
"""Status of a part -> what it means."""

STATUS_SHORT = {
    "current": "sold today",
    "superseded": "superseded",
    "discontinued": "no longer made",
    "withdrawn": "withdrawn",
    None: "status not stated",
}
"""The same in two words."""

FACTS = {**fit_words.FACTS, "supersession": "what replaces it", "fitting": "how it is set"}
"""A fact that a source stands for -> its words."""

SOURCES = fit_words.SOURCES
"""Kind of source -> its words."""

UNITS = {"volts": "volts", "duty_percent": "duty cycle, percent", "frequency_hz": "hertz", None: "kind of signal not stated"}
"""Kind of a powered signal -> what a meter is set to."""


def listed(words: Iterable[object]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    known = [str(word) for word in words]
    return known[0] if len(known) == 1 else f"{', '.join(known[:-1])} and {known[-1]}" if known else ""


def counted(count: int, one: str, many: str | None = None) -> str:
    """``1 wire``, ``7 wires``."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def sentence(text: str) -> str:
    """Text with a capital in front."""
    return text[:1].upper() + text[1:]
