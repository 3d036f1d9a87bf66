"""What a site's last build wrote, by pieces, so that the next one leaves the files of those that are the same where they are.

It is noted in the store, by the site's folder, with the digest of every file. A file is left only where it is known to have the bytes that
it had then: one that somebody has changed, or a folder that is another site by now, is made anew. The site itself holds nothing of this.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from rangebook.site.output.folder import There, Wrote, digest_of
from rangebook.site.output.seen import Stamps, stamps_of, stamps_of_some
from rangebook.store.ledger import Ledger, Thing, using

_NO_LINK = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
_FORM = "2"
"""Of what is noted: what another form noted is not known."""


@dataclass(frozen=True)
class Part:
    """What was written for a piece: ``key`` tells what it was made from, empty where nobody can tell; ``said`` is whatever else is to be
    known of it."""

    key: str
    wrote: tuple[Wrote, ...]
    said: str = ""


class Kept:
    """What is known of the site in a folder; nothing where that was never noted."""

    def __init__(self, target: Path) -> None:
        self._name = f"site {_FORM} {target}"
        self.target = target
        self._parts: dict[str, Part] = {}
        self._stamps: dict[str, str] = {}
        using(self._name, self._read)

    def _read(self, ledger: Ledger) -> None:
        self._parts, self._stamps = {}, {}
        try:
            for name, card in ledger.all_cards():
                key, wrote, said, stamps = json.loads(card)
                part = Part(str(key), tuple(Wrote(str(address), str(digest), int(size)) for address, digest, size in wrote), str(said))
                self._parts[name] = part
                self._stamps |= {one.address: str(stamp) for one, stamp in zip(part.wrote, stamps, strict=True)}
        except (TypeError, ValueError):
            self._parts, self._stamps = {}, {}

    @cached_property
    def seen(self) -> Stamps:
        """The folder as it is when this is asked for first."""
        return stamps_of(self.target) if self._parts else {}

    @cached_property
    def there(self) -> There:
        """The files that are known to be as they were written. Those that look otherwise are read."""
        seen = self.seen
        every = (one for part in self._parts.values() for one in part.wrote)
        return {one.address: one for one in every if one.address in seen and (self._looks(one) or self._is(one))}

    def _looks(self, one: Wrote) -> bool:
        return bool(stamp := self.seen[one.address]) and stamp == self._stamps[one.address]

    def _is(self, one: Wrote) -> bool:
        try:
            with os.fdopen(os.open(f"{self.target}/{one.address}", _NO_LINK), "rb") as file:
                return digest_of(file.read()) == one.digest
        except OSError:
            return False

    def knows(self, name: str, key: str) -> bool:
        """Whether a piece is known to have been written from what it would be made from now."""
        part = self._parts.get(name)
        return part is not None and bool(key) and part.key == key

    def take(self, name: str, key: str) -> Part | None:
        """What was written for a piece, where that is what would be made and still there."""
        if not self.knows(name, key):
            return None
        part = self._parts[name]
        return part if all(one.address in self.there for one in part.wrote) else None

    def note(self, parts: Mapping[str, Part], amended: bool) -> None:
        """Note what was written, and that the folder is as it is now, for the next build. Where it was ``amended``, what was there is not
        looked at again."""
        old = self.there if amended else {}
        new_ones = [one.address for part in parts.values() for one in part.wrote if old.get(one.address) != one]
        seen = {**self.seen, **stamps_of_some(self.target, new_ones)} if amended else stamps_of(self.target)
        cards = {name: (part, [seen.get(one.address, "") for one in part.wrote]) for name, part in parts.items()}
        new = {name for name, (part, stamps) in cards.items() if self._parts.get(name) != part or not self._same(part, stamps)}

        def write(ledger: Ledger) -> None:
            ledger.take_out([name for name in ledger.names() if name not in cards])
            ledger.put_by_and_by(_thing(name, *cards[name]) for name in sorted(new))
            ledger.write()

        using(self._name, write)

    def _same(self, part: Part, stamps: Iterable[str]) -> bool:
        return all(self._stamps[one.address] == stamp for one, stamp in zip(part.wrote, stamps, strict=True))


def _thing(name: str, part: Part, stamps: list[str]) -> Thing:
    card: list[Any] = [part.key, part.wrote, part.said, stamps]
    return Thing(name, "", None, 0, "", json.dumps(card), frozenset(), frozenset(), frozenset())
