"""What an entry hangs together with others by: the ids, numbers, vehicles and gearboxes that it has or names.

Whatever is said of an entry goes by that entry, by those that it hangs together with, however far, and by a few facts of the whole book
(:class:`rangebook.book.book.Beyond`). So after a change only what hangs together with it has to be looked at again, and an answer takes
no more of a book than what hangs together with the part that was asked for.
"""

from __future__ import annotations

import json
import posixpath
import re
from collections.abc import Iterable, Iterator
from typing import Any
from urllib.parse import unquote

from rangebook.book import build
from rangebook.book.model import Connector, Family, Kit, Need, Part, ids_of
from rangebook.book.numbers import look, normalise
from rangebook.book.prose_numbers import numbers_in
from rangebook.reading.entry import Entry
from rangebook.reading.prose_links import links
from rangebook.store.ledger import Thing

LOST, PLATED, ANYWHERE, ALLOWS = 1, 2, 4, 8
"""Flags of an entry: it could not be taken in; it says what terminals are plated with; a part of it may be on any connector; it allows
something."""

CONNECTOR, NAMED, WAY, KIT, NEEDED = "connector", "named", "way", "kit", "needed"
"""Roles of words: a connector that is there, one that a part or plug names, one that a kit or a connector names, a kit that is there, one
that is asked for."""

_SIGNS = re.compile(r"[\W_]+")


def thing_of(entry: Entry, item: build.Item | None, digest: str) -> Thing:
    """What is to be kept of an entry and what was made of it, ``None`` where it could not be taken in."""
    card: dict[str, Any] = {}
    flags = 0
    claim = None
    ties = {f"id {entry.stem}"}
    mentions = {*_in_prose(entry.prose)}
    words: set[tuple[str, str]] = set()
    hay: list[str] = []
    if item is None:
        flags |= LOST
        stated = None if entry.head is None else entry.head.get("id")
        card["ids"] = [entry.stem, *([stated] if isinstance(stated, str) else [])]
        ties |= {f"id {one}" for one in card["ids"]}
    else:
        ties |= {f"id {one}" for one in (item.id, *item.former_ids)}
        if _is_plated(item):
            flags |= PLATED
    if build.allowances(entry):
        flags |= ALLOWS
    match item:
        case Family():
            claim = f"switch {item.id}"
            card["numbers"] = [[part.key, part.number] for part in item.parts]
            parts = [one for part in item.parts for one in (part, *part.revisions)]
            connectors = {name for part in parts for name in ids_of(part.sockets)}
            connectors |= {name for plug in item.plugs.values() for name in ids_of(plug.sockets)}
            kits = {need.kit for part in parts for need in _needs(part) if need.kit}
            numbers = {number for part in parts for number in _numbers(part)}
            numbers |= {one.came_with for one in item.applications if one.came_with}
            vehicles = {one.vehicle for one in item.applications} | {one.vehicle for part in parts for one in part.fitted if one.vehicle}
            gearboxes = {*item.gearboxes, *(one.gearbox for one in item.applications if one.gearbox)}
            if any(not one.sockets for part in parts for one in part.designs):
                flags |= ANYWHERE
            # Its own: what is on a plug goes together on one connector, whether that has an entry or not.
            ties |= {f"id {one}" for one in connectors}
            mentions |= {f"id {one}" for one in kits} | ties_of_numbers(numbers)
            ties |= {_tie_of_number(key) for part in parts for key in part.keys}
            ties |= {f"vehicle {_folded(one)}" for one in vehicles} | {f"gearbox {_folded(one)}" for one in gearboxes}
            words |= {(NAMED, one) for one in connectors} | {(NEEDED, one) for one in kits}
            hay = [*(key for part in parts for key in sorted(part.keys)), item.id, item.title, *item.also_called, *item.gearboxes]
            hay += [f"{one.vehicle} {one.years or ''}" for one in item.applications]
        case Connector():
            claim = f"connector {item.id}"
            mates = {mate.connector for mate in item.mates}
            mentions |= {f"id {one}" for one in mates}
            words |= {(CONNECTOR, item.id), *((WAY, one) for one in mates)}
            hay = [item.id, item.title]
        case Kit():
            claim = f"kit {item.id}"
            card["kit"] = item.number
            mentions |= {f"id {one}" for one in (*item.olds, item.new)}
            ties.add(_tie_of_number(item.key))
            words |= {(KIT, item.id), *((WAY, one) for one in (*item.olds, item.new))}
            hay = [item.key, item.id, item.title]
    text = "\n".join(map(searched, hay))
    kept = json.dumps(card) if card else ""
    return Thing(entry.file, digest, claim, flags, text, kept, frozenset(ties), frozenset(mentions), frozenset(words))


def searched(text: str) -> str:
    """A text as it stands in the hay, and a piece of one as it is looked for there."""
    return text.casefold()


def ties_of_numbers(numbers: Iterable[str]) -> set[str]:
    """What numbers, in any spelling, hang together with others by: the look of them."""
    return {_tie_of_number(normalise(one)) for one in numbers}


def _tie_of_number(key: str) -> str:
    return f"number {look(key)}"


def _folded(name: str) -> str:
    """A name without all that spellings of one name differ in, and more."""
    return _SIGNS.sub("", name.casefold())


def _needs(part: Part) -> Iterator[Need]:
    yield from part.needs
    yield from (need for link in part.superseded_by for need in link.needs or ())


def _numbers(part: Part) -> Iterator[str]:
    """The numbers of other parts that a part names."""
    yield from (link.number for link in part.superseded_by)
    yield from (need.part for need in _needs(part) if need.part)
    yield from (*part.goes_with, *part.sold_as.values(), *part.joined)


def _is_plated(item: build.Item) -> bool:
    if isinstance(item, Family):
        return any(part.plating for part in item.parts) or any(plug.plating for plug in item.plugs.values())
    return any(one is not None and one.plating for one in (item.terminal, *item.terminals.values()))


def _in_prose(prose: str) -> Iterator[str]:
    """What a prose may name: whatever can be a number, and the last step of whatever can be a link."""
    yield from (_tie_of_number(key) for _, _, key in numbers_in(prose))
    for target, _ in links(prose):
        name = posixpath.basename(posixpath.normpath(unquote(re.split(r"[?#]", target, maxsplit=1)[0])))
        yield f"id {name.removesuffix('.md')}"
