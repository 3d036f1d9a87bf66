"""The few pieces that all drawings are put together from: elements, numbers, text, and the finished SVG text.

Geometry, font sizes included, stands in attributes because the layout depends on it; everything else is in the classes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree.ElementTree import Element, SubElement, tostring

Value = str | float | int | None

_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_BASELINE = 0.36
"""How far below its middle a line of capitals and figures stands, by its font size."""


def figure(value: float, places: int = 2) -> str:
    """A number rounded to ``places``, without zeros at its end, so that the text does not depend on the machine."""
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def clean(text: str) -> str:
    """Text without the characters that XML cannot hold."""
    return _NOT_XML.sub("", text)


def add(parent: Element, tag: str, classes: str = "", text: str | None = None, **attributes: Value) -> Element:
    """A child of ``parent``. ``_`` in an attribute's name stands for a hyphen; an attribute that is ``None`` is left out."""
    element = SubElement(parent, tag)
    if classes:
        element.set("class", classes)
    for name, value in attributes.items():
        if value is not None:
            element.set(name.strip("_").replace("_", "-"), clean(value) if isinstance(value, str) else figure(value))
    if text is not None:
        element.text = clean(text)
    return element


def write(parent: Element, x: float, middle: float, text: str, size: float, classes: str = "", anchor: str = "start") -> Element:
    """A line of text whose capitals are centred on the height ``middle``; ``anchor`` is start, middle or end."""
    return add(
        parent,
        "text",
        f"rb-text {classes}".strip(),
        text,
        x=x,
        y=middle + _BASELINE * size,
        font_size=size,
        text_anchor=None if anchor == "start" else anchor,
    )


def drawing(kind: str, title: str, desc: str, width: float, height: float, unit: str = "") -> Element:
    """The root of a drawing with its text alternatives. ``width`` and ``height`` are its own units, or those of ``unit``."""
    root = Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "class": f"rb-drawing {kind}",
            "role": "img",
            "viewBox": f"0 0 {figure(width)} {figure(height)}",
            "width": figure(width) + unit,
            "height": figure(height) + unit,
        },
    )
    add(root, "title", text=title)
    add(root, "desc", text=desc)
    return root


def render(root: Element) -> str:
    """The drawing as text."""
    return tostring(root, encoding="unicode", short_empty_elements=True)


def path(steps: Iterable[str | float]) -> str:
    """The ``d`` of a path from letters and numbers."""
    return " ".join(step if isinstance(step, str) else figure(step) for step in steps)
