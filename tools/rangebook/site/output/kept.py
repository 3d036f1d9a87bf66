"""What a site's last build wrote, by pieces, so that the next one takes over the files of those that are the same.

It is noted in the store, by the site's folder, with the digest of every file. A file is taken over only with the bytes that it had then:
one that somebody has changed, or a folder that is another site by now, is made anew. The site itself holds nothing of this.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rangebook.site.output.folder import Folder, Late, Wrote, digest_of
from rangebook.store.ledger import Ledger, Thing, using

_LATE = "late"
_NO_LINK = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
_FORM = "1"
"""Of what is noted: what another form noted is not known."""


@dataclass(frozen=True)
class Part:
    """What was written for a piece: ``key`` tells what it was made from, ``said`` is whatever else is to be known of it."""

    key: str
    wrote: tuple[Wrote, ...]
    said: str = ""


class Kept:
    """What is known of the site in a folder; nothing where that was never noted."""

    def __init__(self, target: Path) -> None:
        self._name = f"site {_FORM} {target}"
        self._old = target
        self._parts: Mapping[str, Part] = {}
        self._late: Late = {}
        using(self._name, self._read)

    def _read(self, ledger: Ledger) -> None:
        try:
            self._late = json.loads(ledger.facts.get(_LATE, "{}"))
            self._parts = {name: _part(json.loads(card)) for name, card in ledger.all_cards()}
        except (TypeError, ValueError, KeyError):
            self._late, self._parts = {}, {}

    def knows(self, name: str, key: str) -> bool:
        """Whether a piece is known to have been written from what it would be made from now."""
        part = self._parts.get(name)
        return part is not None and bool(key) and part.key == key

    def take(self, name: str, key: str, out: Folder) -> Part | None:
        """Have the files of a piece in a new folder, where they are known to be what would be made; ``None`` and nothing written where that
        is not so. What was put in late is what ``out`` puts in now."""
        part = self._parts.get(name)
        if part is None or not self.knows(name, key):
            return None
        found: list[bytes] = []
        for address, digest, _ in part.wrote:
            try:
                with os.fdopen(os.open(f"{self._old}/{address}", _NO_LINK), "rb") as file:
                    data = file.read()
            except OSError:
                return None
            if digest_of(data) != digest:
                return None
            found.append(data)
        first = len(out.wrote)
        for (address, digest, places), data in zip(part.wrote, found, strict=True):
            if places:
                data, places = self._again(data, places, out.late)
                out.data(address, data, digest_of(data), places)
            else:
                out.same(address, f"{self._old}/{address}", data, digest)
        return Part(key, tuple(out.wrote[first:]), part.said)

    def _again(self, data: bytes, places: tuple[int | str, ...], late: Late) -> tuple[bytes, tuple[int | str, ...]]:
        done, now, at = b"", [], 0
        for start, what in zip(places[::2], places[1::2], strict=True):
            assert isinstance(start, int)
            done += data[at:start]
            now += [len(done), what]
            done += late[str(what)].encode()
            at = start + len(self._late[str(what)].encode())
        return done + data[at:], tuple(now)

    def note(self, parts: Mapping[str, Part], late: Late) -> None:
        """Note what was written, for the next build."""

        def write(ledger: Ledger) -> None:
            known = dict(ledger.all_cards())
            cards = {name: json.dumps([part.key, part.wrote, part.said]) for name, part in parts.items()}
            ledger.take_out([name for name in known if name not in cards])
            ledger.put(_thing(name, card) for name, card in cards.items() if known.get(name) != card)
            ledger.tell({_LATE: json.dumps(dict(late))})
            ledger.write()

        using(self._name, write)


def _thing(name: str, card: str) -> Thing:
    return Thing(name, "", None, 0, "", card, frozenset(), frozenset(), frozenset())


def _part(noted: Any) -> Part:
    key, wrote, said = noted
    return Part(str(key), tuple((str(address), str(digest), tuple(places)) for address, digest, places in wrote), str(said))
