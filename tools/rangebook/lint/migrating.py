"""Entries of the first version of the format, said as the second one says it: only what follows from the file itself.

- ``from`` and ``to`` of a vehicle are a condition like others: ``when: {built: {from: ..., to: ...}}``.
- A kit that is named alone in ``needs`` is one of several things that may be needed: ``{kit: ...}``.

What the second version can say besides nobody can tell from an entry of the first; it stays unsaid. Comments, quotes and all else stay as
they are: the text is edited, not written anew, and what is read from it afterwards has to be what was meant.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rangebook.lint.fixing.edits import Edit, apply
from rangebook.lint.fixing.layout import Mapping, Node, Scalar, Sequence, lay_out
from rangebook.lint.plan import FixedFile, Note
from rangebook.reading import front_matter, text
from rangebook.reading.entry import read_entry
from rangebook.reading.finding import Problem
from rangebook.reading.form import encoded, form_of
from rangebook.reading.located import Mark, plain
from rangebook.words.catalogue import Words, say

_ENDS = ("from", "to")


def migrate(file: str, data: bytes) -> FixedFile | Words | None:
    """A file of a book brought over; ``None`` where there is nothing to do, and why it is left where it cannot be done."""
    words = text.decode(file, data)
    if not isinstance(words, str):
        return None
    entry = read_entry(file, words.encode("utf-8", "surrogatepass"))
    halves = front_matter.split(file, words)
    if entry.front is None or entry.problems or isinstance(halves, Problem) or entry.front.get("kind") != "switch":
        return None
    start = words.find("\n") + 1
    if words[start : start + len(halves.front)] != halves.front:
        return None
    layout = lay_out(halves.front, start)
    found = [*_vehicles(layout, words), *_needs(layout)]
    if not found:
        return None
    after = apply(words, [edit for edits, _ in found for edit in edits])
    meant = _meant(entry.front)
    now = read_entry(file, after.encode("utf-8", "surrogatepass"))
    if now.problems or now.front != meant or now.prose != entry.prose:
        return say("migrate.left", file=file)
    notes = tuple(Note("migrate", _mark(words, edits[0].start), what) for edits, what in found)
    return FixedFile(file, data, encoded(after, form_of(data)), notes)


def _meant(front: Any) -> Any:
    """What the entry says in the second version, as plain data."""
    made = plain(front)
    vehicles: Any = made.get("applications")
    for one in vehicles if isinstance(vehicles, list) else ():
        if isinstance(one, dict) and _is_dated(one):
            when = one.get("when", {})
            one["when"] = {**when, "built": {end: one.pop(end) for end in _ENDS if end in one}}
    for link in _links(made):
        if isinstance(link.get("needs"), list):
            link["needs"] = [{"kit": need} if isinstance(need, str) else need for need in link["needs"]]
    return made


def _links(front: Any) -> Iterator[dict[str, Any]]:
    for part in front.get("parts", ()):
        for link in part.get("superseded_by", ()) if isinstance(part, dict) else ():
            if isinstance(link, dict):
                yield link


def _is_dated(one: dict[str, Any]) -> bool:
    """Whether a vehicle says when it was built in the first version's way; one that says it in both is left to whoever wrote it."""
    when = one.get("when", {})
    return any(isinstance(one.get(end), str) for end in _ENDS) and isinstance(when, dict) and "built" not in when


def _vehicles(layout: Mapping, words: str) -> Iterator[tuple[list[Edit], Words]]:
    for one in _items(_under(layout, "applications")):
        pairs = {key.value: (key, value) for key, value in one.pairs} if isinstance(one, Mapping) else {}
        ends = [pairs[end] for end in _ENDS if end in pairs]
        when = pairs["when"][1] if "when" in pairs else None
        if not ends or not isinstance(one, Mapping) or (when is not None and (not isinstance(when, Mapping) or _has(when, "built"))):
            continue
        built = "built: {" + ", ".join(f"{key.value}: {words[value.start : value.end]}" for key, value in ends) + "}"
        if when is None:
            first, *others = sorted(ends, key=lambda pair: pair[0].start)
            edits = [Edit(first[0].start, first[1].end, f"when: {{{built}}}")]
        else:
            others = ends
            edits = [_into(when, built, words)]
        yield (
            sorted([*edits, *(_without(one, key, value, words) for key, value in others)]),
            say("migrate.built", form="when: {built: ...}"),
        )


def _needs(layout: Mapping) -> Iterator[tuple[list[Edit], Words]]:
    for part in _items(_under(layout, "parts")):
        for link in _items(_under(part, "superseded_by")):
            for need in _items(_under(link, "needs")):
                if isinstance(need, Scalar):
                    yield [Edit(need.start, need.start, "{kit: "), Edit(need.end, need.end, "}")], say("migrate.kit", form="{kit: ...}")


def _into(when: Mapping, built: str, words: str) -> Edit:
    """A condition with one more line or pair, before the first that it has."""
    at = when.pairs[0][0].start if when.pairs else when.start + 1
    if when.flow or not when.pairs:
        return Edit(at, at, f"{built}, " if when.pairs else built)
    return Edit(at, at, f"{built}\n{' ' * (at - words.rfind(chr(10), 0, at) - 1)}")


def _without(owner: Mapping, key: Scalar, value: Node, words: str) -> Edit:
    """A pair taken out: in braces with the comma before or behind it, else its whole line."""
    if not owner.flow:
        begin = words.rfind("\n", 0, key.start) + 1
        end = words.find("\n", value.end) + 1
        return Edit(begin, end or len(words), "")
    behind = [other.start for other, _ in owner.pairs if other.start > key.start]
    if behind:
        return Edit(key.start, min(behind), "")
    before = max(other.end for _, other in owner.pairs if other.end < key.start)
    return Edit(before, value.end, "")


def _under(node: Node | None, key: str) -> Node | None:
    pairs = node.pairs if isinstance(node, Mapping) else []
    return next((value for name, value in pairs if name.value == key), None)


def _has(node: Mapping, key: str) -> bool:
    return _under(node, key) is not None


def _items(node: Node | None) -> list[Node]:
    return node.items if isinstance(node, Sequence) else []


def _mark(words: str, offset: int) -> Mark:
    return Mark(words.count("\n", 0, offset) + 1, offset - words.rfind("\n", 0, offset))
