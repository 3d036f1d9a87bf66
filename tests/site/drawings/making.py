"""Connectors, mounts and parts for the tests of drawings, with nothing in them but what a test names."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from xml.etree import ElementTree

from rangebook.book.model import Bolt, Connector, Contact, Mount, Part, Shaft, Signal, Succession, Terminal, Wire
from rangebook.book.numbers import normalise

SVG = "{http://www.w3.org/2000/svg}"


def connector(outline: str, *rows: str, terminal: Terminal | None = None) -> Connector:
    """A connector from rows such as ``"1 2 -"``."""
    made = tuple(tuple(None if label == "-" else label for label in row.split()) for row in rows)
    return Connector("c", "A housing", outline, made, terminal, True, None, (), None, (), None)


def wires(**colours: str | None) -> dict[str, Wire]:
    """Wires by cavity: ``c1="RD"`` is a red wire in cavity 1."""
    return {key[1:]: Wire(key[1:], "start_feed", colour, None, None) for key, colour in colours.items()}


def bolt(at_mm: float, at_deg: float, slot: float = 0.0, hole: float | None = 6.6, spacer: float | None = 0.0) -> Bolt:
    """A bolt of 6 mm."""
    return Bolt(at_mm, at_deg, 6.0, hole, slot, spacer)


def mount(*bolts: Bolt, shaft: Shaft | None = None) -> Mount:
    """A mount of the given bolts."""
    return Mount("m", shaft, bolts, None, ())


def part(
    number: str,
    *,
    status: str | None = "current",
    contacts: Sequence[Contact] | None = None,
    signals: Sequence[Signal] = (),
    pins: Mapping[str, str] | None = None,
    superseded_by: Sequence[Succession] = (),
) -> Part:
    """A part."""
    return Part(
        number,
        normalise(number),
        "f",
        "c",
        "m",
        status,
        (),
        pins,
        None if contacts is None else tuple(contacts),
        tuple(signals),
        tuple(superseded_by),
        None,
        (),
        (),
    )


def contact(a: str, b: str, closed: str | None = None, ohms: Mapping[str, float | None] | None = None) -> Contact:
    """A contact closed in the positions of ``closed``, such as ``"P N"``, or with ``ohms`` by position."""
    return Contact(a, b, None if closed is None else frozenset(closed.split()), ohms, 5.0 if ohms else None, ())


def parse(svg: str) -> ElementTree.Element:
    """The root of a drawing; it fails where the text is not XML."""
    return ElementTree.fromstring(svg)


def having(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    """All elements of a class, in document order."""
    return [one for one in root.iter() if name in one.get("class", "").split()]


def texts(root: ElementTree.Element) -> list[str]:
    """Everything that is written on a drawing, line by line; titles and descriptions are not."""
    return [one.text or "" for one in root.iter(f"{SVG}text")]


def alternatives(root: ElementTree.Element) -> tuple[str, str]:
    """The title and the description that stand for a drawing."""
    return root.findtext(f"{SVG}title") or "", root.findtext(f"{SVG}desc") or ""


def box_of(group: ElementTree.Element, name: str = "rb-touch") -> tuple[float, float, float, float]:
    """Left, top, right and bottom of the rectangle of a class inside a group."""
    (rect,) = having(group, name)
    x, y, width, height = (float(rect.get(key, "nan")) for key in ("x", "y", "width", "height"))
    return x, y, x + width, y + height


def rules_of_the_house(svg: str) -> list[str]:
    """What a drawing must not have: ids, inline styles, scripts, event handlers, addresses, a missing text alternative."""
    root = parse(svg)
    wrong = [] if root.get("role") == "img" else ["no role"]
    wrong += [f"no {what}" for what, text in zip(("title", "desc"), alternatives(root), strict=True) if not text.strip()]
    for one in root.iter():
        tag = one.tag.removeprefix(SVG)
        if tag in ("script", "style", "image", "use", "a", "foreignObject", "animate"):
            wrong.append(f"element {tag}")
        wrong += [f"attribute {key}" for key in one.attrib if key in ("id", "style", "href") or key.startswith("on")]
        wrong += [f"long figure {value}" for value in one.attrib.values() if re.search(r"\d\.\d{3,}|\de-\d", value)]
    return wrong
