"""Wire colours in the one spelling, where the rule on them can read what was meant."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.fixing.edits import Change, Edit, Mend
from rangebook.lint.fixing.layout import Scalar, walk
from rangebook.lint.fixing.page import Page
from rangebook.lint.rules.wire_colour import meant


def find(page: Page) -> Iterator[Mend]:
    """Yield a mend for each wire whose colour is plain but written otherwise."""
    if page.layout is None or page.kind != "switch":
        return
    for path, node in walk(page.layout):
        if len(path) != 5 or path[0] != "plugs" or path[2] != "wires" or path[4] != "colour" or not isinstance(node, Scalar):
            continue
        form = meant(node.value)
        inside = page.text[node.start + 1 : node.end - 1] if node.quote else page.text[node.start : node.end]
        if form and form != node.value and inside == node.value:
            start, end = (node.start + 1, node.end - 1) if node.quote else (node.start, node.end)
            yield Mend(node.start, f"the colour `{node.value}` is written `{form}`", (Edit(start, end, form),), (Change(path, form),))
