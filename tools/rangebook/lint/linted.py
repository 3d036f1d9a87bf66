"""What a report needs to know of the book that was linted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from rangebook.reading.entry import Entry
from rangebook.schema.store import Schemas, load_schemas


@dataclass(frozen=True)
class Linted:
    """A book's root and its entries, each with its text at least."""

    root: Path
    entries: Sequence[Entry]

    @cached_property
    def schemas(self) -> Schemas:
        """The book's schema, read when it is asked for."""
        return load_schemas(self.root)
