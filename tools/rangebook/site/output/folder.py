"""A site's folder, written into by address."""

from __future__ import annotations

import base64
import hashlib
import os
from collections.abc import Container, Iterable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple

from rangebook.site.facts.edition import marked
from rangebook.site.shared.compact import compact


class Wrote(NamedTuple):
    """A file by its address from the top of the site. ``digest`` is what a browser's integrity check asks for (W3C, Subresource Integrity):
    SHA-256 in base64; ``size`` is in bytes."""

    address: str
    digest: str
    size: int


There = Mapping[str, Wrote]
"""Files by their addresses."""


def digest_of(data: bytes) -> str:
    """What tells a file's bytes from others."""
    return base64.b64encode(hashlib.sha256(data).digest()).decode()


class Folder:
    """Text files below a folder, UTF-8, lines as they are given, each with its own mark; each folder on the way is made once. A file that
    is there already is not written into but gives way. What the site that this one takes the place of has the same (``there``) is not
    written. A text that has one of ``unfinished`` in it gets its mark later. ``wrote`` tells of all files, written or not."""

    def __init__(self, site: Path, there: There = MappingProxyType({}), unfinished: Iterable[str] = ()) -> None:
        self.site = site
        self.wrote: list[Wrote] = []
        self._there = there
        self._unfinished = tuple(unfinished)
        self._made: set[str] = set()

    def text(self, address: str, text: str) -> None:
        """Write a file."""
        self.data(address, (text if any(one in text for one in self._unfinished) else marked(text)).encode())

    def data(self, address: str, data: bytes) -> None:
        """Write a file as it is."""
        one = Wrote(address, digest_of(data), len(data))
        self.wrote.append(one)
        if self._there.get(address) == one:
            return
        place = self._place(address)
        try:
            file = open(place, "xb")  # noqa: PTH123, SIM115 - of thousands of files; closed below
        except FileExistsError:
            os.unlink(place)  # noqa: PTH108 - the same
            file = open(place, "xb")  # noqa: PTH123, SIM115 - the same
        with file:
            file.write(data)

    def json(self, address: str, data: Any) -> None:
        """Write JSON without a space in it."""
        self.text(address, compact(data))

    def _place(self, address: str) -> str:
        place = f"{self.site}/{address}"
        above = place.rpartition("/")[0]
        if above not in self._made:
            os.makedirs(above, exist_ok=True)  # noqa: PTH103 - a Path for each of thousands of files costs more than the file
            self._made.add(above)
        return place


def found_in(site: Path, but: Container[str] = ()) -> list[Wrote]:
    """All files of a finished folder, in the order of their addresses."""
    found = []
    for here, _, names in os.walk(site):
        for name in names:
            path = Path(here, name)
            address = path.relative_to(site).as_posix()
            if address not in but:
                data = path.read_bytes()
                found.append(Wrote(address, digest_of(data), len(data)))
    return sorted(found)
