"""A site's folder, written into by address."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from rangebook.site.shared.compact import compact


class Folder:
    """Text files below a folder, UTF-8, lines as they are given; each folder on the way is made once."""

    def __init__(self, site: Path) -> None:
        self.site = site
        self._made: set[Path] = set()

    def text(self, address: str, text: str) -> None:
        """Write a file."""
        path = self.site / address
        if path.parent not in self._made:
            path.parent.mkdir(parents=True, exist_ok=True)
            self._made.add(path.parent)
        with path.open("w", encoding="utf-8", newline="") as file:
            file.write(text)

    def json(self, address: str, data: Any) -> None:
        """Write JSON without a space in it."""
        self.text(address, compact(data))
