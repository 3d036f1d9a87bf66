"""A site's folder, written into by address."""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from rangebook.site.shared.compact import compact

Wrote = tuple[str, str, tuple[int | str, ...]]
"""An address, the digest of what is there now, and the places (in bytes) at which something was put in late, each with what that was."""

Late = Mapping[str, str]
"""What is put in late -> the text that is put in."""


def digest_of(data: bytes) -> str:
    """What tells a file's bytes from others."""
    return hashlib.blake2b(data, digest_size=16).hexdigest()


class Folder:
    """Text files below a folder, UTF-8, lines as they are given; each folder on the way is made once. A file that is there already is not
    written into but gives way: it may be one of another folder, too. ``late`` is put into each text; ``wrote`` tells what was written."""

    def __init__(self, site: Path, late: Late | None = None) -> None:
        self.site = site
        self.late = dict(late or {})
        self.wrote: list[Wrote] = []
        self._made: set[str] = set()
        self._pattern = re.compile("|".join(map(re.escape, self.late))) if self.late else None

    def filled(self, text: str) -> tuple[bytes, tuple[int | str, ...]]:
        """A text with what is put in late, and the places where that is."""
        if self._pattern is None or not (found := list(self._pattern.finditer(text))):
            return text.encode(), ()
        places: list[int | str] = []
        done, at = b"", 0
        for one in found:
            done += text[at : one.start()].encode()
            places += [len(done), one[0]]
            done += self.late[one[0]].encode()
            at = one.end()
        return done + text[at:].encode(), tuple(places)

    def text(self, address: str, text: str) -> None:
        """Write a file."""
        data, places = self.filled(text)
        self.data(address, data, digest_of(data), places)

    def data(self, address: str, data: bytes, digest: str, places: Sequence[int | str] = ()) -> None:
        """Write a file of which the digest and the places are known."""
        place = self._place(address)
        try:
            file = open(place, "xb")  # noqa: PTH123, SIM115 - of thousands of files; closed below
        except FileExistsError:
            os.unlink(place)  # noqa: PTH108 - the same
            file = open(place, "xb")  # noqa: PTH123, SIM115 - the same
        with file:
            file.write(data)
        self.wrote.append((address, digest, tuple(places)))

    def same(self, address: str, there: str, data: bytes, digest: str) -> None:
        """Have the file ``there``, which holds ``data``, at an address too: the very same one where the disk can."""
        place = self._place(address)
        with suppress(FileNotFoundError):
            os.unlink(place)  # noqa: PTH108 - of thousands of files
        try:
            os.link(there, place, follow_symlinks=False)
        except (OSError, NotImplementedError):
            self.data(address, data, digest)
        else:
            self.wrote.append((address, digest, ()))

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
