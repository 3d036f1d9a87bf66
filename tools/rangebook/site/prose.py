"""A Markdown extension for prose that anyone may have written: no HTML comes through, no link runs a script, nothing brings a style."""

from __future__ import annotations

import re
from html import unescape
from typing import Any
from xml.etree.ElementTree import Element

from markdown import Markdown
from markdown.extensions import Extension
from markdown.treeprocessors import Treeprocessor
from markdown.util import AMP_SUBSTITUTE, STX
from markupsafe import Markup

_BEFORE_COLON = re.compile(r"([^/?#]*):")
_SCHEMES = frozenset({"", "http", "https", "mailto", "tel"})


_SIDES = {"text-align: right;": "to-right", "text-align: center;": "to-middle", "text-align: left;": "to-left"}
"""How the table extension sets a column to a side -> the class that our style sheet has for it: the policy refuses styles in a page."""


class _PlainLinks(Treeprocessor):
    """Takes the address off links and pictures that lead anywhere but to a page, and pictures of other hosts and every style altogether."""

    def run(self, root: Element) -> None:
        for element in root.iter():
            style = element.attrib.pop("style", None)
            if style in _SIDES:
                element.set("class", _SIDES[style])
            for name in ("href", "src"):
                address = element.get(name)
                if address is not None and not _harmless(address, name):
                    del element.attrib[name]


def _harmless(address: str, name: str) -> bool:
    """Whether a browser that follows the address, or loads it as a picture, runs nothing and asks no other host for pictures.

    It reads an address once entities are resolved and without control characters; what stands before a colon must be a
    scheme that is known to be harmless, whatever a browser might make of it.
    """
    read = unescape(unescape(address.replace(AMP_SUBSTITUTE, "&")))
    if STX in read:
        return False
    read = "".join(character for character in read if character > " " and character != "\x7f")
    before = _BEFORE_COLON.match(read)
    scheme = before.group(1).lower() if before else ""
    if name == "src":
        return not scheme and not read.startswith(("//", "\\\\", "/\\", "\\/"))
    return scheme in _SCHEMES


def as_typed(prose: str) -> str:
    """Prose as HTML that shows it as it was typed, for what must not be rendered."""
    return Markup("<pre>{}</pre>").format(prose)


class PlainProse(Extension):
    """HTML in the text is shown as it was typed."""

    def extendMarkdown(self, md: Markdown) -> None:  # noqa: N802 (the library's name)
        """Take out what lets HTML through; look at every address last of all."""
        md.preprocessors.deregister("html_block")
        md.inlinePatterns.deregister("html")
        md.treeprocessors.register(_PlainLinks(md), "plain-links", -10)


def makeExtension(**options: Any) -> PlainProse:  # noqa: N802 (the library's name)
    """The way in for ``markdown_extensions``."""
    return PlainProse(**options)
