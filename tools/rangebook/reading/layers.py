"""Which folders a book is laid together from: its own and the layers below it, the lowest first.

They stand in its ``book.yml`` under ``layers``, a folder by its path or a git repository by its address and a commit; or they were all
named on the command line. Each of them may name layers below it again.
"""

from __future__ import annotations

import os
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from rangebook.reading import strict_yaml, text
from rangebook.reading.errors import LayersError
from rangebook.reading.fetched import Origin, address_of, fetch, inside
from rangebook.reading.files import read_bytes
from rangebook.reading.finding import Problem
from rangebook.reading.git import GitError
from rangebook.reading.links import LinkError, refuse_links
from rangebook.reading.located import plain

FILE, KEY = "book.yml", "layers"

MOST = 8
"""So many layers are laid over each other, and so many name one another in a row."""

COMMIT = re.compile(r"[0-9a-f]{40}")


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: its name, unlike those of the others, its folder, and where that was fetched from, if it was."""

    name: str
    root: Path
    origin: Origin | None = None


@dataclass(frozen=True, slots=True)
class Stated:
    """What a book says of one layer below it: a ``path``; or an ``address`` of a git repository, the full id of a ``commit``, and the
    folder in it."""

    name: str = ""
    path: str = ""
    address: str = ""
    commit: str = ""
    folder: str = ""


_BELOW: dict[Path, tuple[Path, ...]] = {}


def lay(roots: Sequence[Path]) -> Path:
    """Take the folders that were named on the command line for the layers of one book, the lowest first. Returns the uppermost."""
    *below, top = (root.resolve() for root in roots)
    if below:
        _BELOW[top] = tuple(dict.fromkeys(one for one in below if one != top))
    else:
        _BELOW.pop(top, None)
    return top


def named_below(root: Path) -> tuple[Path, ...]:
    """What the command line named below a book."""
    return _BELOW.get(root, ()) if _BELOW else ()


def layers_of(root: Path) -> tuple[Layer, ...]:
    """The layers of the book under ``root``, the lowest first; it is the last of them. Raises :class:`LayersError`."""
    given = named_below(root)
    if not given and KEY.encode() not in (data := _settings(root)):
        return (Layer(title_of(data) or root.name, root),)
    found: list[Layer] = []
    for one in (*given, root):
        _gather(Layer("", one), found, ())
    return apart(found)


def apart(found: Sequence[Layer]) -> tuple[Layer, ...]:
    """The same with names that tell them apart."""
    if len(found) > MOST:
        raise LayersError(f"the book has {len(found)} layers; up to {MOST} are laid over each other: put some of them together")
    taken: set[str] = set()
    told = []
    for one in found:
        name, count = one.name, 1
        while name in taken:
            count += 1
            name = f"{one.name} ({count})"
        taken.add(name)
        told.append(Layer(name, one.root, one.origin))
    return tuple(told)


def names_of(root: Path) -> tuple[str, ...]:
    """The names of a book's layers, the lowest first; none where it has but one."""
    layers = layers_of(root)
    return tuple(one.name for one in layers) if len(layers) > 1 else ()


def gathered(layer: Layer) -> list[Layer]:
    """A layer with those that it names below it, the lowest first."""
    found: list[Layer] = []
    _gather(layer, found, ())
    return found


def refuse_round(place: Path, above: tuple[Path, ...]) -> None:
    """Raises :class:`LayersError` where layers name one another in a circle or too many in a row."""
    if place in above:
        way = " -> ".join(str(one) for one in (*above[above.index(place) :], place))
        raise LayersError(f"the layers go round in a circle ({way}): take one of them out of `{KEY}` in {FILE}")
    if len(above) >= MOST:
        raise LayersError(f"more than {MOST} layers name one another in a row, from {above[0]} down: name them all in the uppermost {FILE}")


def _gather(layer: Layer, found: list[Layer], above: tuple[Path, ...]) -> None:
    root, place = layer.root, layer.root.resolve()
    refuse_round(place, above)
    data = _settings(root)
    for one in stated(data, layer.origin.words if layer.origin else str(root / FILE)):
        _gather(resolved(one, layer), found, (*above, place))
    if not any(other.root.resolve() == place for other in found):
        found.append(Layer(layer.name or title_of(data) or _called(layer), root, layer.origin))


def resolved(one: Stated, above: Layer) -> Layer:
    """The folder of a layer that the book in the layer ``above`` names. Raises :class:`LayersError`."""
    told = above.origin.words if above.origin else str(above.root / FILE)
    try:
        origin = _origin(one, above)
        if origin is not None:
            return Layer(one.name, fetch(origin), origin)
    except GitError as error:
        raise LayersError(f"{told}: {error}") from None
    place = Path(os.path.normpath(above.root.resolve() / one.path))
    if place.resolve() != place:
        raise LayersError(f"{told}: the layer {one.path} is reached by a link, and links are not followed; name the folder itself")
    if not (place / "entries").is_dir():
        raise LayersError(f"{told}: the layer {one.path} is no book: there is no folder entries/ in {place}")
    return Layer(one.name, place)


def _origin(one: Stated, above: Layer) -> Origin | None:
    """Where a layer is fetched from; ``None`` for a folder on the disk. A path in a fetched layer leads to its neighbour in the commit."""
    if one.address:
        return Origin(address_of(one.address, None if above.origin else above.root), one.commit, inside("", one.folder))
    if above.origin is None:
        return None
    return above.origin._replace(folder=inside(above.origin.folder, one.path))


def _called(layer: Layer) -> str:
    """What a layer is called that does not say so itself: by its folder, or its address."""
    if layer.origin is None:
        return layer.root.name
    return re.split(r"[/:]", (layer.origin.folder or layer.origin.address).rstrip("/"))[-1].removesuffix(".git")


def _settings(root: Path) -> bytes:
    path = root / FILE
    try:
        refuse_links(root, path)
        return read_bytes(path)
    except (OSError, LinkError):
        return b""


def title_of(data: bytes) -> str:
    """What a book's settings call it; empty where they do not."""
    front = _parsed(data) if data else {}
    name = front.get("name")
    return name if isinstance(name, str) else ""


@lru_cache(maxsize=64)
def _parsed(data: bytes) -> Mapping[str, Any]:
    """What the settings say; nothing where they cannot be read, which the linter tells of."""
    source = text.decode(FILE, data)
    front = None if isinstance(source, Problem) else strict_yaml.parse(FILE, source, 1, "settings")[0]
    return plain(front) if front is not None else {}


def stated(data: bytes, called: str) -> tuple[Stated, ...]:
    """The layers that a book's settings name, the lowest first; ``called`` is what the file is called. Raises :class:`LayersError`."""
    if KEY.encode() not in data:
        return ()
    front = _parsed(data)
    if not front:
        raise LayersError(f"{called} cannot be read, so nobody knows which layers the book has: see `rangebook lint`")
    listed = front.get(KEY, [])
    if not isinstance(listed, list):
        raise LayersError(f"{called}: `{KEY}` is a list, the lowest layer first, as in `{KEY}: [{{path: ../shared}}]`")
    return tuple(_one(item, called) for item in listed)


def _one(item: Any, called: str) -> Stated:
    known = {"path", "git", "commit", "in", "name"}
    if not isinstance(item, dict) or set(item) - known or not all(isinstance(one, str) and one.strip() for one in item.values()):
        raise LayersError(
            f"{called}: a layer is `{{path: ../shared}}` or `{{git: ADDRESS, commit: ...}}`, with `name` and `in` where needed"
        )
    if ("path" in item) == ("git" in item) or ("git" in item) != ("commit" in item) or ("in" in item and "git" not in item):
        raise LayersError(f"{called}: a layer has either a `path`, or `git` with the `commit` that is meant, and `in` with these alone")
    if "git" in item and not COMMIT.fullmatch(item["commit"]):
        raise LayersError(
            f"{called}: the commit of {item['git']} is its full id, 40 figures and letters from a to f; not a branch or a tag"
        )
    return Stated(item.get("name", ""), item.get("path", ""), item.get("git", ""), item.get("commit", ""), item.get("in", ""))
