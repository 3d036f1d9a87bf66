"""What an editor asks of a place in an entry: what can stand there, what it means, and where it leads."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from rangebook.book.load import Loaded
from rangebook.editor.half_typed import Begun, HalfTyped, Node, Path, keys_of
from rangebook.editor.names import Names, Place
from rangebook.editor.said import Said, kind_of, said_at, said_of_names
from rangebook.editor.text import Span, Spot, Text
from rangebook.words.catalogue import Words, say


class Offer(NamedTuple):
    """One thing that can stand at the cursor. ``text`` takes the place of what is at ``span``; ``means`` is told beside it."""

    text: str
    label: str
    span: Span
    is_key: bool
    brief: str = ""
    means: str = ""


class Hint(NamedTuple):
    """What is told of a place, as Markdown, and from where to where it stands."""

    words: str
    span: Span


class Target(NamedTuple):
    """Where something leads: a file, by its path from the root or whole where it is outside, and the place in it."""

    file: str
    span: Span


@dataclass(frozen=True)
class At:
    """One entry's text in an editor, in the book that is around it."""

    loaded: Loaded
    file: str
    text: Text

    @cached_property
    def _entry(self) -> HalfTyped:
        return HalfTyped(self.file, self.text)

    @cached_property
    def _kind(self) -> str | None:
        return kind_of(self.file, self._entry.tree)

    @cached_property
    def _names(self) -> Names:
        return Names(self.loaded, self._entry, self._kind or "")

    def offers(self, spot: Spot) -> list[Offer]:
        """What can stand at a place: keys that are not there yet, and for a value its words and the names that are known."""
        offset = self.text.offset(spot)
        found = [one for begun in self._entry.begun_at(offset) for one in self._offered(begun, offset)]
        return list({one.text: one for one in found}.values())

    def hint(self, spot: Spot) -> Hint | None:
        """What is known of the key or value at a place."""
        offset = self.text.offset(spot)
        node = self._entry.node_at(offset)
        if node is None:
            return self._of_number(offset)
        said = self._ways(node.path)
        if node.is_key:
            words = [*self._of_name(self._ways_of_key(node.path), node), *dict.fromkeys(_of_key(node.words, one) for one in said)]
        else:
            words = list(self._of_name(said, node))
        if not words:
            return self._of_number(offset)
        return Hint("\n\n".join(words), self.text.span(node.start, node.end))

    def target(self, spot: Spot) -> Target | None:
        """Where the id, name or number at a place stands."""
        offset = self.text.offset(spot)
        node = self._entry.node_at(offset)
        places: Iterator[Place | None] = iter(())
        if node is not None:
            said = self._ways_of_key(node.path) if node.is_key else self._ways(node.path)
            places = (self._names.place(one.names, node.words, node.path) for one in said if one.names)
        place = next((one for one in places if one is not None), None)
        if place is None:
            numbered = self._names.number_in(offset)
            place = self._names.number_place(numbered[0]) if numbered else None
        return None if place is None else Target(place.file, place.text.span(place.start, place.end))

    def _ways(self, path: Path) -> list[Said]:
        return said_at(self.loaded.schemas, self._kind, path) if self._kind else []

    def _ways_of_key(self, path: Path) -> list[Said]:
        return said_of_names(self.loaded.schemas, self._ways(path[:-1]))

    def _offered(self, begun: Begun, offset: int) -> Iterator[Offer]:
        span = self.text.span(begun.start, max(offset, begun.start))
        said = self._ways(begun.path)
        if begun.is_key:
            there = set(keys_of(self._entry.value(begun.path)))
            for one in said:
                for key in one.keys:
                    if key not in there or key == begun.typed:
                        yield self._offered_key(begun.path, key, span)
            for one in said_of_names(self.loaded.schemas, said):
                for name in self._names.of(one.names, begun.path):
                    if name.name not in there:
                        yield Offer(f"{name.name}: ", name.name, span, True, name.words)
            return
        for one in said:
            for word in one.words:
                yield Offer(word, word, span, False)
            for name in self._names.of(one.names, begun.path):
                yield Offer(name.name, name.name, span, False, name.words)

    def _offered_key(self, path: Path, key: str, span: Span) -> Offer:
        said = self._ways((*path, key))
        first = said[0]
        brief = str(first.node.get("x-label", ""))
        return Offer(
            f"{key}: ",
            key,
            span,
            True,
            say("editor.needed", label=brief) if first.needed else brief,
            "\n\n".join(dict.fromkeys(_of_key(key, one) for one in said)),
        )

    def _of_name(self, said: list[Said], node: Node) -> Iterator[Words]:
        for one in said:
            words = self._names.words_of(one.names, node.words) if one.names else None
            if words is not None:
                yield words
                return

    def _of_number(self, offset: int) -> Hint | None:
        found = self._names.number_in(offset)
        words = self._names.words_of("part", found[0]) if found else None
        return Hint(words, self.text.span(found[1], found[2])) if found and words else None


def _of_key(key: str, said: Said) -> Words:
    node = said.node
    return say(
        "editor.key",
        key=key,
        label=node.get("x-label", ""),
        description=node.get("description", ""),
        expected=node.get("x-expected", "") or say("editor.one_of", words=said.words) if said.words else node.get("x-expected", ""),
        how=node.get("x-how", ""),
        checks=said.checks if said.decides else (),
        decides=said.decides,
    )
