"""Places in an entry as people write them: ``parts.TB-20417.contacts.2``.

From the top of the entry down: keys by name; of a list, what has a ``number`` by that number, all else by its place, counted from 1.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from rangebook.book.model import KeyPath
from rangebook.reading.located import Map, Mark, Seq, steps


def path_named(node: Any, name: str) -> KeyPath | None:
    """The way to the place of this name, ``None`` where there is none. A number may have dots in it: the longest that fits is meant."""
    for step, called in sorted(_called(node), key=lambda one: -len(one[1])):
        if name == called:
            return (step,)
        if name.startswith(called + "."):
            rest = path_named(node[step], name[len(called) + 1 :])
            if rest is not None:
                return (step, *rest)
    return None


def name_of_path(node: Any, path: KeyPath) -> str:
    """The name of the place that a path leads to, or would lead to."""
    words = []
    for step in path:
        words.append(next((called for one, called in _called(node) if one == step), str(step + 1 if isinstance(step, int) else step)))
        node = node[step] if isinstance(node, dict) and step in node else _item(node, step)
    return ".".join(words)


def path_at(root: Map, mark: Mark) -> KeyPath:
    """The way to the innermost value that begins at or before a mark."""
    path: list[str | int] = []
    node: Any = root
    while isinstance(node, (Map, Seq)):
        found = [(step, value) for step, value, (begins, *_) in steps(node) if begins <= mark]
        if not found:
            break
        step, node = found[-1]
        path.append(step)
    return tuple(path)


def value_at(root: Any, path: KeyPath) -> Any:
    """What a path leads to. Raises ``LookupError`` where it leads nowhere."""
    for step in path:
        root = root[step]
    return root


def holds_several(root: Any, path: KeyPath) -> bool:
    """Whether a path leads to all of the entry's parts, plugs and so on at once, and not to a place in it."""
    node = root.get(path[0]) if len(path) == 1 else None
    inner: Sequence[Any] = list(node.values()) if isinstance(node, dict) else node if isinstance(node, list) else ()
    return bool(inner) and all(isinstance(one, dict) for one in inner)


def _called(node: Any) -> Iterator[tuple[str | int, str]]:
    """Each step from a node with every name that it has, the one to be given first."""
    if isinstance(node, dict):
        yield from ((key, key) for key in node)
    elif isinstance(node, list):
        numbers = [one.get("number") if isinstance(one, dict) else None for one in node]
        for index, number in enumerate(numbers):
            if isinstance(number, str) and numbers.index(number) == index:
                yield index, number
        yield from ((index, str(index + 1)) for index in range(len(node)))


def _item(node: Any, step: str | int) -> Any:
    return node[step] if isinstance(node, list) and isinstance(step, int) and step < len(node) else None
