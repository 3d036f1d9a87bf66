"""Which files of the site a device keeps from the first visit on, within a budget that does not grow with the book."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

BUDGET_BYTES = 60_000_000
"""The most that a device keeps without being asked, pictures included; a book of some hundred families fits in whole. The find
box's own indexes are kept even beyond it: without them nothing is found."""

SMALL_PAGE_BYTES = 100_000
"""A page at the top of the site that is no larger belongs to what everything else needs; a list of the whole book may be larger."""

_NEVER = ("api/", "sw.js", "offline.json", "edition.json", "assets/javascripts/lunr/", "photos/", "data/find/", "data/identify/")
"""For other programs, for the worker itself, the theme's stemmers for other languages, pieces of indexes that are kept whole. Pictures are
named apart."""

_OF_A_FAMILY = re.compile(r"data/[^/]+/([^/]+)\.json")
"""What the browser loads for one family: its answers, proofs and schematics."""


@dataclass(frozen=True)
class Kept:
    """``paths`` to be kept, in the order in which they are fetched; ``families`` of ``of`` can be answered and proved from them, and
    ``left`` pages and pictures are not among them."""

    paths: tuple[str, ...]
    families: int
    of: int
    left: int = 0


def choose(sizes: Mapping[str, int], families: Iterable[str], pictures: Iterable[str], budget: int = BUDGET_BYTES) -> Kept:
    """What is kept of the site's files (address -> bytes): the shell and the indexes, then answers and proofs family by family, then
    pages, then pictures, as far as the budget goes. Whatever is visited is kept too, but that is the worker's business."""
    listed = list(families)
    chosen: dict[str, None] = dict.fromkeys(path for path in sorted(sizes) if _first(path, sizes[path]))
    spent = sum(sizes[path] for path in chosen)
    whole = left = 0
    for group in _groups(sizes, listed, chosen, pictures):
        size = sum(sizes[path] for path in group.paths)
        if spent + size > budget:
            left += len(group.paths)
            continue
        spent += size
        whole += group.is_family
        chosen.update(dict.fromkeys(group.paths))
    return Kept(tuple(chosen), whole, len(listed), left)


@dataclass(frozen=True)
class _Group:
    """Files that are of use together only."""

    paths: tuple[str, ...]
    is_family: bool = False


def _first(path: str, size: int) -> bool:
    """Whether a file belongs to what everything else needs: looks and scripts, the pages that everyone opens, the indexes."""
    if path.startswith(_NEVER):
        return False
    if path.count("/") == 0 or (path.count("/") == 1 and path.endswith("/index.html")):
        return path == "index.html" or size <= SMALL_PAGE_BYTES
    return path.startswith("book/") or (path.startswith("data/") and not _OF_A_FAMILY.fullmatch(path))


def _groups(sizes: Mapping[str, int], families: list[str], first: Mapping[str, None], pictures: Iterable[str]) -> Iterator[_Group]:
    taken = set(first)
    of: dict[str, list[str]] = {family: [] for family in families}
    for path in sorted(sizes):
        found = _OF_A_FAMILY.fullmatch(path)
        if found and found[1] in of and not path.startswith(_NEVER):
            of[found[1]].append(path)
    for paths in of.values():
        taken.update(paths)
        yield _Group(tuple(paths), is_family=True)
    for path in sorted(sizes, key=_kind):
        if path not in taken and not path.startswith(_NEVER):
            yield _Group((path,))
    for path in pictures:
        if path in sizes:
            yield _Group((path,))


def _kind(path: str) -> tuple[int, str]:
    """Pages of the book before its lists and the handbook."""
    return (0 if path.startswith(("switches/", "parts/", "connectors/", "kits/")) else 1), path
