"""Drawings of what the book knows, as SVG text to be put into a page.

Every drawing is a pure function of facts: the same facts give the same text, byte for byte. It carries classes only (no
ids, no inline styles, no scripts), so that several may stand on one page under a strict content security policy.
The looks are in ``STYLESHEET`` (``drawings.css`` beside this file); each page that shows a drawing must include it. It
brings its own colours for light, dark and print; a site may set the custom properties ``--rb-...`` to colours of its own.
"""

from __future__ import annotations

from pathlib import Path

STYLESHEET = Path(__file__).with_name("drawings.css")
"""The style sheet of all drawings."""
