"""Which part of a site is built: one of several, each on a machine of its own."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

BOOK = ""
"""The key of what is not of one entry: it is in one part, as each entry is."""


@dataclass(frozen=True)
class Shard:
    """Part ``index`` (from 1) of ``count``; 0 is a site that is built in one."""

    index: int
    count: int

    @property
    def apart(self) -> bool:
        """Whether there is something to be joined."""
        return self.index > 0

    def has(self, key: str) -> bool:
        """Whether something is in this part, by the id of its family or another key; the same on every machine."""
        return self.count == 1 or int.from_bytes(hashlib.sha256(key.encode()).digest()[:8], "big") % self.count == self.index - 1


WHOLE = Shard(0, 1)


def read_shard(text: str) -> Shard:
    """``I/N`` as it is typed. Raises ``ValueError``, whose message says what was expected."""
    index, _, count = text.partition("/")
    if index.isdecimal() and count.isdecimal() and 1 <= int(index) <= int(count) <= MOST:
        return Shard(int(index), int(count))
    raise ValueError(f"{text} is no part of a site: expected I/N, as in 2/4, with I from 1 to N and N up to {MOST}")


MOST = 10_000
"""So many parts are enough."""
