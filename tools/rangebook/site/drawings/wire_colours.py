"""Wire colours: a code by IEC 60757 taken apart, in words, and as a swatch.

Source: IEC 60757, codes from memory. Colours of a wire of several are written one after the other; green with yellow
only as ``GNYE``. Which colour is the base is not IEC's: here the first is the base, the others are its stripes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from xml.etree.ElementTree import Element

from rangebook.site.drawings.canvas import add, drawing, render

NAMES: Mapping[str, str] = MappingProxyType(
    {
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
)
"""Code of one colour -> its plain name. Source: IEC 60757, from memory."""

GREEN_YELLOW = "GNYE"
"""The one pair that is a colour of its own: protective earth, both colours in equal parts."""


@dataclass(frozen=True, slots=True)
class WireColour:
    """A wire's colour: ``base`` and ``stripes`` by their codes of two letters, ``name`` in words.

    ``base`` is ``None`` where the code is not one of IEC 60757; the name then says so.
    """

    code: str
    base: str | None
    stripes: tuple[str, ...]
    name: str

    @property
    def shares(self) -> bool:
        """Whether base and stripe take up equal parts, as in green-yellow."""
        return self.code == GREEN_YELLOW


def wire_colour(code: str) -> WireColour:
    """The colour of a code such as ``RD`` (red), ``RDWH`` (red with a white stripe) or ``GNYE`` (green-yellow)."""
    written = code.strip().upper()
    if written == GREEN_YELLOW:
        return WireColour(written, "GN", ("YE",), "green-yellow")
    parts = tuple(written[at : at + 2] for at in range(0, len(written), 2))
    if not parts or any(part not in NAMES for part in parts):
        return WireColour(code.strip(), None, (), f"{code.strip()} (not a colour code of IEC 60757)")
    base, *stripes = parts
    names = [NAMES[stripe] for stripe in stripes]
    name = NAMES[base]
    if len(names) == 1:
        name += f" with {_article(names[0])} {names[0]} stripe"
    elif names:
        name += f" with stripes in {', '.join(names[:-1])} and {names[-1]}"
    return WireColour(written, base, tuple(stripes), name)


def _article(word: str) -> str:
    return "an" if word[0] in "aeiou" else "a"


def draw_wire(parent: Element, colour: WireColour, x: float, y: float, width: float, height: float) -> Element:
    """A short length of wire: its base, its stripes along it, and a line round it so that it shows on any ground."""
    group = add(parent, "g", "rb-wire")
    if colour.base is None:
        add(group, "rect", "rb-wire-none", x=x, y=y, width=width, height=height, rx=2)
        return group
    add(group, "rect", f"rb-wire-{colour.base.lower()}", x=x, y=y, width=width, height=height, rx=2)
    if colour.shares:
        add(group, "rect", f"rb-wire-{colour.stripes[0].lower()}", x=x, y=y + height / 2, width=width, height=height / 2)
    else:
        # Base and stripes as bands of one width, the base outermost on both sides.
        band = height / (2 * len(colour.stripes) + 1)
        for index, stripe in enumerate(colour.stripes):
            add(group, "rect", f"rb-wire-{stripe.lower()}", x=x, y=y + band * (2 * index + 1), width=width, height=band)
    add(group, "rect", "rb-wire-edge", x=x, y=y, width=width, height=height, rx=2)
    return group


def swatch_svg(code: str) -> str:
    """A swatch of 36 by 16 for a line of text; its text alternative is the colour's name."""
    colour = wire_colour(code)
    root = drawing("rb-swatch", colour.name, f"Wire colour {colour.code}", 36, 16)
    draw_wire(root, colour, 1, 1, 34, 14)
    return render(root)
