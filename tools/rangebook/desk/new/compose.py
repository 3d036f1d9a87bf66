"""What is known of a new thing -> the text of its entry. What has to be there and is not known says ``TODO``, which the schema
refuses; what may be left out is left out, and a comment line says what to see or measure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from rangebook.book.book import Book
from rangebook.book.model import Part
from rangebook.desk.new.fields import fields
from rangebook.desk.writing import yaml_text
from rangebook.reading.located import plain
from rangebook.schema.fields import Field, ordered
from rangebook.schema.store import Schemas

TODO = "TODO"
"""Stands where a value has to be. No kind of value that may be marked so is written in capitals of four letters."""


@dataclass
class Draft:
    """``values`` by key, those of a switch's part among them. ``like`` are facts of another part, ``like_number``, which nobody has
    seen on this one yet: they are written as comments."""

    kind: str
    values: dict[str, Any] = field(default_factory=dict)
    like: dict[str, Any] = field(default_factory=dict)
    like_number: str | None = None


def facts_like(book: Book, part: Part, schemas: Schemas) -> dict[str, Any]:
    """The facts of a part of the book, and of its family as far as they concern it, as they stand in the entry."""
    family = book.family_of(part)
    front: Mapping[str, Any] = family.entry.front or {}
    node = front["parts"][part.path[1]]
    found: dict[str, Any] = {}
    for key in alike(schemas):
        source = node if key in node else front
        if key == "mounts":
            source = {key: {part.mount: front[key][part.mount]}} if part.mount in family.mounts else {}
        if key in source:
            found[key] = plain(source[key])
    return found


def alike(schemas: Schemas) -> list[str]:
    """What one part can have like another."""
    return [one.key for one in fields(schemas, "switch") if one.alike]


def compose(draft: Draft, schemas: Schemas) -> str:
    """The text of the entry, to its last newline."""
    listed = fields(schemas, draft.kind)
    out = ["---", f"kind: {draft.kind}"]
    part_is_open = False
    for one in listed:
        if one.of_part and not part_is_open:
            out += ["parts:", *_part(draft, [field for field in listed if field.of_part], schemas)]
            part_is_open = True
        elif not one.of_part:
            out += _lines(draft, one, schemas, 0)
    return "\n".join([*out, "---", ""])


def part_lines(draft: Draft, schemas: Schemas) -> list[str]:
    """The part of a switch alone, as an item of ``parts`` with its dash after two spaces."""
    return _part(draft, [one for one in fields(schemas, "switch") if one.of_part], schemas)


def _part(draft: Draft, listed: list[Field], schemas: Schemas) -> list[str]:
    out = [line for one in listed for line in _lines(draft, one, schemas, 4)]
    number = next(index for index, line in enumerate(out) if line.startswith("    number:"))
    out[number] = f"  - {out[number].strip()}"
    return [*out[number:], *out[:number]] if number else out


def _lines(draft: Draft, one: Field, schemas: Schemas, indent: int) -> list[str]:
    if one.key in draft.values:
        return yaml_text.lines(one.key, ordered(schemas, one.node, one.home, draft.values[one.key]), indent)
    if one.key in draft.like:
        value = ordered(schemas, one.node, one.home, draft.like[one.key])
        copied = [f"{' ' * indent}# {line[indent:]}" for line in yaml_text.lines(one.key, value, indent)]
        words = f"{TODO} {one.key}: {draft.like_number} has this; if you have seen the same here, take the # out of what follows"
        there = [f"{' ' * indent}{one.key}: {TODO}"] if one.required else []
        if there:
            words += f", and the line `{one.key}: {TODO}` too"
        return [*yaml_text.comment(words, indent), *copied, *there]
    if not one.asked or any(other in draft.values or other in draft.like for other in one.instead):
        return []
    there = [f"{' ' * indent}{one.key}: {TODO}"] if one.required else []
    return [*(line for text in _what_to_do(one) for line in yaml_text.comment(text, indent)), *there]


def _what_to_do(one: Field) -> Iterator[str]:
    yield f"{TODO} {one.key}: {one.description or one.expected}"
    if one.how:
        yield f"  how: {one.how}"
    if one.expected and one.description:
        yield f"  it looks like this: {one.expected}"
