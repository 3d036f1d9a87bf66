"""Front matter as it is laid out: a tree of its values with the characters that each one takes up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import yaml
from yaml.events import Event, MappingStartEvent, ScalarEvent, SequenceStartEvent

_Parser: type = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

Path = tuple[str | int, ...]


@dataclass(slots=True)
class Scalar:
    """A text from ``start`` up to ``end``, quotes included. ``quote`` is ``"``, ``'``, ``|``, ``>``, or nothing."""

    start: int
    end: int
    value: str
    quote: str


@dataclass(slots=True)
class Mapping:
    """``key: value`` lines, or with ``flow`` a ``{...}``. ``end`` is where the last value ends, not where the next line begins."""

    start: int
    end: int
    flow: bool
    pairs: list[tuple[Scalar, Node]] = field(default_factory=list)


@dataclass(slots=True)
class Sequence:
    """``- item`` lines, or with ``flow`` a ``[...]``."""

    start: int
    end: int
    flow: bool
    items: list[Node] = field(default_factory=list)


Node = Scalar | Mapping | Sequence


def lay_out(front: str, offset: int) -> Mapping:
    """The layout of front matter that the strict reader has nothing against; ``offset`` is where it begins in the file's text."""
    parser = _Parser(front)
    for _ in range(2):  # stream, document
        _event(parser)
    root = _node(parser, _event(parser), front, offset)
    assert isinstance(root, Mapping)
    return root


def walk(node: Node, path: Path = ()) -> Iterator[tuple[Path, Node]]:
    """Every node below and including ``node``, with its path. Keys are not among them."""
    yield path, node
    if isinstance(node, Mapping):
        for key, value in node.pairs:
            yield from walk(value, (*path, key.value))
    elif isinstance(node, Sequence):
        for index, value in enumerate(node.items):
            yield from walk(value, (*path, index))


def at(node: Node, path: Path) -> Node | None:
    """The node at a path, ``None`` where there is none."""
    for step in path:
        if isinstance(node, Mapping):
            found = next((value for key, value in node.pairs if key.value == step), None)
        elif isinstance(node, Sequence) and isinstance(step, int):
            found = node.items[step] if step < len(node.items) else None
        else:
            found = None
        if found is None:
            return None
        node = found
    return node


def _event(parser: yaml.SafeLoader) -> Event:
    found: Event = parser.get_event()  # type: ignore[no-untyped-call]
    return found


def _node(parser: yaml.SafeLoader, event: Event, front: str, offset: int) -> Node:
    assert event.start_mark is not None and event.end_mark is not None
    start, end = event.start_mark.index, event.end_mark.index
    if isinstance(event, ScalarEvent):
        quote = event.style or ""
        if quote in ("|", ">") or end < start:
            end = max(start, len(front[:end].rstrip()))
        return Scalar(start + offset, end + offset, event.value, quote)
    made: Mapping | Sequence
    if isinstance(event, MappingStartEvent):
        made = Mapping(start + offset, end + offset, bool(event.flow_style))
        while isinstance(found := _event(parser), ScalarEvent):
            key = _node(parser, found, front, offset)
            assert isinstance(key, Scalar)
            value = _node(parser, _event(parser), front, offset)
            if isinstance(value, Scalar) and value.start == value.end:  # nothing is stated
                value.start = value.end = key.end + 1
            made.pairs.append((key, value))
            made.end = value.end
    else:
        assert isinstance(event, SequenceStartEvent)
        made = Sequence(start + offset, end + offset, bool(event.flow_style))
        while not (found := _event(parser)).__class__.__name__.endswith("EndEvent"):
            made.items.append(_node(parser, found, front, offset))
            made.end = made.items[-1].end
    if made.flow:
        assert found.end_mark is not None
        made.end = found.end_mark.index + offset
    return made
