"""Slips of the pen in YAML, and in its style."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace

from tests.lint.seeding.operators.entering import Seeds, each, operator, quoted
from tests.lint.seeding.sowing import Block, Ground, Seed, Sequence, Source


def _before_title(text: str) -> Seeds:
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.sources:
            start = source.at("title").start
            yield source.seed((start, start, text))

    return seeds


operator("a tab", "yaml-feature")(_before_title("\t"))
operator("an anchor", "yaml-feature")(_before_title("&a "))
operator("an alias", "yaml-feature")(_before_title("*a #"))
operator("a tag", "yaml-feature")(_before_title("!!str "))


def _lists(source: Source) -> Iterator[Sequence | Block]:
    for _, node in source.nodes("*"):
        if isinstance(node, Sequence) and node.flow:
            yield node
    for path in ("parts.*.pins", "parts.*.stamped", "parts.*.contacts.*.pins", "plugs.*.wires.*", "applications.*", "sources.*", "rows.*"):
        for _, node in source.nodes(*path.split(".")):
            if isinstance(node, Block | Sequence) and node.flow:
                yield node


@operator("a bracket not closed", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for node in _lists(source):
            yield source.seed((node.end - 1, node.end, ""), told=node.start)


@operator("a bracket too many", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for node in _lists(source):
            if source.text[node.end] == "\n":
                yield source.seed((node.end, node.end, "]" if isinstance(node, Sequence) else "}"))


@operator("a closing quote lost", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for node in quoted(source):
            yield source.seed((node.end - 1, node.end, ""))


@operator("an opening quote lost", "yaml-syntax", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for node in quoted(source):
            if ": " in node.value:
                yield source.seed((node.start, node.start + 1, ""))


@operator("a colon in words without quotes", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        node = source.at("title")
        space = source.text.find(" ", node.start, node.end)
        if space > 0 and not node.quote:
            yield source.seed((space, space, ":"))


@operator("a key one space too far in", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for pattern in ((), ("parts", "*")):
            for _, node in source.nodes(*pattern):
                for key, _ in node.pairs[1:] if isinstance(node, Block) and not node.flow else ():
                    yield source.seed((key.start, key.start, " "))


@operator("the space behind a colon left out", "yaml-syntax", "front-matter")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for _, key in source.key_nodes():
            if source.text[key.end : key.end + 2] == ": ":
                yield source.seed((key.end + 1, key.end + 2, ""), told=key.start)


@operator("a key of the entry twice", "duplicate-key")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for (name,), _ in source.key_nodes():
            start, end = source.whole(name)
            yield source.seed((end, end, source.text[start:end]))


@operator("a key of a part twice", "duplicate-key")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.key_nodes("parts", "*"):
            if path[-1] != "number":
                start, end = source.whole(*path)
                yield source.seed((end, end, source.text[start:end]))


@operator("a pin twice", "duplicate-key")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.nodes("parts", "*", "pins"):
            first, last = node.pairs[0], node.pairs[-1]
            if len(node.pairs) > 1:
                yield source.seed((last[0].start, last[0].end, first[0].value))


@operator("keys out of order", "key-order")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        names = [name for (name,), _ in source.key_nodes()]
        for first, second in itertools.pairwise(names):
            (start, middle), (_, end) = source.whole(first), source.whole(second)
            if middle == source.whole(second)[0]:
                lines = source.text[start:middle], source.text[middle:end]
                # Told at the one that stands too far down now.
                place = source.file, source.line(start) + lines[1].count("\n")
                yield replace(source.seed((start, end, lines[1] + lines[0])), places=frozenset({place}))


@operator("quotes about a word that needs none", "needless-quotes")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for pattern in ("kind", "id", "outline", "from", "to", "parts.*.connector", "parts.*.status", "parts.*.pins.*", "sources.*.kind"):
            for _, node in source.scalars(*pattern.split(".")):
                yield source.seed((node.start, node.end, f'"{node.value}"'))


@operator("a hyphen in the rows without its quotes", "needed-quotes", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source, _, node in each("connector", "rows", "*", "*")(ground):
        if node.value == "-":
            yield source.seed((node.start, node.end, "-"))
