"""Ids, file names and numbers that are there twice or do not agree."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.numbers import normalise
from tests.lint.seeding.operators.entering import each, operator, swapped
from tests.lint.seeding.sowing import Ground, Seed


@operator("a slip in the id", "id-and-file")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.put(source.at("id"), swapped(source.at("id").value))


@operator("the file in another folder", "id-and-file")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        folder, name = source.file.split("/")[1:]
        other = {"switches": "kits", "kits": "connectors", "connectors": "switches"}[folder]
        file = f"entries/{other}/{name}"
        yield Seed(file, {source.file: None, file: source.text.encode()}, frozenset({(file, source.line(source.at("kind").start))}))


@operator("a copy of an entry under another name", "id-and-file")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        file = source.file.replace(".md", "-2.md")
        yield Seed(file, {file: source.text.encode()}, frozenset({(file, source.line(source.at("id").start))}))


@operator("the number of another part, in another spelling", "duplicate-number")
def _(ground: Ground) -> Iterator[Seed]:
    numbers = [(source, node) for source, _, node in each("switch", "parts", "*", "number")(ground)]
    for (source, node), (other, taken) in zip(numbers, numbers[3:] + numbers[:3], strict=True):
        if normalise(node.value) != normalise(taken.value):
            number = taken.value.replace("-", " ").replace(".", " ").lower()
            yield source.put(node, number, also=frozenset({(other.file, other.line(taken.start))}))


@operator("the number of a part on a kit", "duplicate-number")
def _(ground: Ground) -> Iterator[Seed]:
    part, taken = next((source, node) for source, _, node in each("switch", "parts", "*", "number")(ground))
    for source, _, node in each("kit", "number")(ground):
        yield source.put(node, taken.value, also=frozenset({(part.file, part.line(taken.start))}))
