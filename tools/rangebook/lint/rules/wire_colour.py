"""A wire colour that is not written by IEC 60757.

A colour is made of two-letter codes in capitals, base first, then stripe, nothing between them: BK black, BN brown, RD
red, OG orange, YE yellow, GN green, BU blue, VT violet, GY grey, WH white, PK pink, GD gold, TQ turquoise, SR silver.
Green with yellow is GNYE, whichever is the base. (The codes are from memory of IEC 60757; that base comes before stripe
is this book's own rule.)

Why it matters: makers abbreviate colours each in their own way, and GR is green to one and grey to the next. In one
spelling a wire can be found in the loom, and two plugs can be compared.

Fails:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RED/WHT}

Mended:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RDWH}
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.fixing.edits import Change, Edit, Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.hints import FIX
from rangebook.lint.fixing.layout import Scalar, walk
from rangebook.lint.fixing.page import Page
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule

COLOURS = {
    "BK": "black",
    "BN": "brown",
    "RD": "red",
    "OG": "orange",
    "YE": "yellow",
    "GN": "green",
    "BU": "blue",
    "VT": "violet",
    "GY": "grey",
    "WH": "white",
    "PK": "pink",
    "GD": "gold",
    "TQ": "turquoise",
    "SR": "silver",
}
"""Code -> colour. IEC 60757, from memory."""

# What makers write instead, where it can mean one colour only. Common practice, no source.
_OTHERS = {
    "BLK": "BK", "BLACK": "BK", "BRN": "BN", "BROWN": "BN", "BR": "BN", "RED": "RD", "ORG": "OG", "ORN": "OG", "ORANGE": "OG", "OR": "OG",
    "YEL": "YE", "YELLOW": "YE", "YL": "YE", "GRN": "GN", "GREEN": "GN", "BLU": "BU", "BLUE": "BU", "VIO": "VT", "VIOLET": "VT",
    "PUR": "VT", "PURPLE": "VT", "PPL": "VT", "GRY": "GY", "GREY": "GY", "GRAY": "GY", "WHT": "WH", "WHITE": "WH", "PNK": "PK",
    "PINK": "PK", "GOLD": "GD", "TURQUOISE": "TQ", "SIL": "SR", "SILVER": "SR",
}  # fmt: skip


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding for each wire whose colour is not in the one spelling."""
    for plug in family.plugs.values():
        for path, wire in plug.each():
            wrong = _wrong(wire.colour) if wire.colour is not None else None
            if wrong:
                code, right, one = wrong
                yield problem(
                    family,
                    (*path, "colour"),
                    code,
                    cavity=wire.cavity,
                    plug=plug.name,
                    colour=wire.colour,
                    meant=right,
                    one=one,
                    mended=meant(wire.colour or "") is not None,
                )


@lru_cache(maxsize=4096)
def _wrong(colour: str) -> tuple[str, str | None, str | None] | None:
    """What is wrong with a colour, what is meant, and the one colour that it is said to be of twice; ``None`` where it is right."""
    codes = re.findall("..?", colour)
    strange = [code for code in codes if code not in COLOURS]
    if strange:
        return "strange", _read(colour), None
    if len(set(codes)) < len(codes):
        return "twice", "".join(dict.fromkeys(codes)), codes[0] if len(set(codes)) == 1 else None
    if "GN" in codes and "YE" in codes and colour != "GNYE":
        return "third", "GNYE", None
    return None


def meant(colour: str) -> str | None:
    """The one spelling of a colour that is written otherwise, where it is plain; ``None`` where it is not, or is right already.

    >>> meant("red/WHT"), meant("YEGN"), meant("GR"), meant("RDWH")
    ('RDWH', 'GNYE', None, None)
    """
    if _wrong(colour) is None:
        return None
    return "GNYE" if colour.upper() == "YEGN" else _read(colour)


def _read(colour: str) -> str | None:
    """The spelling that is meant, where that is plain."""
    words = [word for word in re.split(r"[^A-Z]+", colour.upper()) if word]
    codes: list[str] = []
    for word in words:
        pair = re.findall("..?", word)
        if word in _OTHERS:
            codes.append(_OTHERS[word])
        elif all(code in COLOURS for code in pair):
            codes += pair
        else:
            return None
    return "".join(codes) if codes and _wrong("".join(codes)) is None else None


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each wire whose colour is plain but written otherwise."""
    if page.layout is None or page.kind != "switch":
        return
    for path, node in walk(page.layout):
        if path[::2][:2] != ("plugs", "wires") or path[-1] != "colour" or not isinstance(node, Scalar):
            continue
        form = meant(node.value)
        inside = page.text[node.start + 1 : node.end - 1] if node.quote else page.text[node.start : node.end]
        if form and form != node.value and inside == node.value:
            start, end = (node.start + 1, node.end - 1) if node.quote else (node.start, node.end)
            yield Fix(node.start, "form", (Edit(start, end, form),), (Change(path, form),), {"found": node.value, "form": form})


_SAID = "the wire in cavity {cavity} of the plug {plug} has the colour {colour}: "

MESSAGES = {
    "strange": Told(
        [_SAID, "expected two capital letters for each colour, base first, then stripe"],
        {
            "given": "meant",
            "yes": ["write {meant}; ", FIX],
            "no": f"write it with these: {', '.join(f'{code} {name}' for code, name in COLOURS.items())}",
        },
    ),
    "twice": Told([_SAID, {"select": "one", **COLOURS, "other": "one colour"}, " is there twice"], "write {meant}"),
    "form": Told("the colour `{found}` is written `{form}`"),
    "third": Told(
        [_SAID, "green with yellow is written GNYE and has no third colour"],
        ["write {meant}", {"given": "mended", "yes": ["; ", FIX]}],
    ),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.WARNING,
    EntryCheck(Family, Context, check_family),
    messages=MESSAGES,
    fixer=Fixer("colour", Safety.VALUE, Turn.VALUES, find),
)
