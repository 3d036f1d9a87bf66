"""Examples in the rules' docstrings: pieces of an entry, laid over a small book that is clean.

An example is one or more indented blocks, each a piece of front matter that begins with ``kind:``. Its top-level keys
take the place of those of the example book's entry of that kind, as text, to the letter; other keys stay, in their order. A block whose
first line is ``# entries/switches/name.md`` stands in a file of that name instead, and one whose second line is ``---``
is the whole file as it is; so is one whose first line is ``# shelf.csv``, and one of the name of a picture, in base64. What stands below
``# above: entries/switches/name.md`` is what another layer, called ``ours``, says of that entry.
"""

from __future__ import annotations

import base64
import re
import textwrap
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from rangebook.reading.shelf import FILE
from rangebook.reading.stacked import Stacked
from rangebook.schema.store import KINDS, load_schemas

ABOVE = "# above: "
PICTURE = ".jpg"
"""The ending of a picture in an example, which stands there in base64."""

_KEY = re.compile(r"^([A-Za-z_][A-Za-z0-9_]*):", re.MULTILINE)

BASE = {
    "switch": "entries/switches/tamblin-gate.md",
    "connector": "entries/connectors/oval-13.md",
    "kit": "entries/kits/oval-9-renewal.md",
}
"""Kind -> the entry of the example book that an example of that kind is laid over."""


@cache
def base_book() -> Mapping[str, str]:
    """The example book: file name -> text. It is everybody's, so nobody writes into it."""
    home = files(__name__) / "entries"
    return MappingProxyType(
        {
            f"entries/{folder.name}/{file.name}": file.read_text("utf-8")
            for folder in home.iterdir()
            if folder.is_dir()
            for file in folder.iterdir()
            if file.name.endswith(".md")
        }
    )


def example_book(example: str) -> dict[str, bytes]:
    """The example book with an example laid over it: file name -> bytes."""
    texts = dict(base_book())
    above: dict[str, str] = {}
    for block in blocks(example):
        first, _, rest = block.partition("\n")
        file = None
        if first.startswith(ABOVE):
            above[first.removeprefix(ABOVE)] = f"---\n{rest}---\n"
            continue
        if first == f"# {FILE}":
            texts[FILE] = rest
            continue
        if first.startswith("# entries/"):
            file, block = first[2:].strip(), rest
        if file is not None and file.endswith(PICTURE):
            texts[file] = block
            continue
        if block.startswith("---"):
            assert file is not None, "a whole file needs its name on the line above"
            texts[file] = block
            continue
        kind = re.search(r"^kind: *(\w+)", block, re.MULTILINE)
        base = BASE[kind.group(1)] if kind and kind.group(1) in BASE else BASE["switch"]
        texts[file or base] = _lay_over(texts.get(file or base, texts[base]), block)
    data = {file: base64.b64decode(text) if file.endswith(PICTURE) else text.encode("utf-8") for file, text in texts.items()}
    layers = {file: [(0, "shared", data[file]), (1, "ours", text.encode("utf-8"))] for file, text in above.items()}
    return data | {file: Stacked.of(pieces) for file, pieces in layers.items()}


def blocks(example: str) -> list[str]:
    """The blocks of an example, their common indent taken off. Blank lines with unindented words between them part blocks."""
    found: list[list[str]] = []
    apart = True
    for line in example.split("\n"):
        if line.strip() and not line.startswith("    "):
            apart = True
        elif line.strip() or found:
            if apart and line.strip():
                found.append([])
                apart = False
            if not apart:
                found[-1].append(line)
    return [textwrap.dedent("\n".join(lines)).strip("\n") + "\n" for lines in found]


def _lay_over(base: str, piece: str) -> str:
    """The piece as it is, and between its keys those of the base, each before the first that the format lists after it."""
    _, front, prose = base.split("---\n", 2)
    laid = _cut(piece)
    replaced = {key for key, _ in laid}
    order = _order(piece if "kind" in replaced else front)
    for key, text in _cut(front):
        if key not in replaced:
            behind = (at for at, (other, _) in enumerate(laid) if order.get(other, -1) > order.get(key, len(order)))
            laid.insert(next(behind, len(laid)), (key, text))
    return f"---\n{''.join(text for _, text in laid)}---\n{prose}"


def _cut(front: str) -> list[tuple[str, str]]:
    """The top-level keys with their lines; what stands before the first of them goes with it."""
    starts = [0, *(match.start() for match in list(_KEY.finditer(front))[1:]), len(front)]
    return [(match.group(1), front[start:end]) for match, start, end in zip(_KEY.finditer(front), starts, starts[1:], strict=False)]


@cache
def _order(front: str) -> dict[str, int]:
    """The place of each key in the entry format."""
    kind = re.search(r"^kind: *(\w+)", front, re.MULTILINE)
    schemas = load_schemas()
    properties = schemas.of(kind.group(1) if kind and kind.group(1) in KINDS else "switch").get("properties", {})
    return {key: place for place, key in enumerate(properties)}
