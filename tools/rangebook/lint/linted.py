"""What a report needs to know of the book that was linted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from rangebook.reading.entry import Entry
from rangebook.reading.layers import Layer, layers_of
from rangebook.schema.store import Schemas, load_schemas


@dataclass(frozen=True)
class Linted:
    """A book's root and its entries, each with its text at least."""

    root: Path
    entries: Sequence[Entry]

    @cached_property
    def layers(self) -> Sequence[Layer]:
        """Its layers, the lowest first: one, where nothing is laid together."""
        return layers_of(self.root)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its layers; none where it has but one."""
        return tuple(one.name for one in self.layers) if len(self.layers) > 1 else ()

    @cached_property
    def schemas(self) -> Schemas:
        """The book's schema, read when it is asked for."""
        return load_schemas(self.root)
