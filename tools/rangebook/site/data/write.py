"""What the page that writes an entry has to know: the schema itself, and what of the book a new entry may name."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import Any

from rangebook.book.model import Connector, Family
from rangebook.electrics.meaning import guard_on, means_of
from rangebook.electrics.safety import danger_of, is_guarded
from rangebook.lint.registry import all_rules
from rangebook.lint.safety import PinsOf
from rangebook.lint.wording import found_words
from rangebook.reasons.codes import Danger
from rangebook.schema.store import KINDS, Circuit
from rangebook.site.facts.computed import Computed
from rangebook.site.shared.compact import compact

WRITE_URL = "data/write.json"

_Words = Callable[[Circuit, tuple[str, ...]], Mapping[str, Any]]

_SCHEMAS = (*KINDS, "common")

_READ = frozenset({"x-expected", "x-label", "x-seldom"})
"""What the form reads of the schema's annotations."""


def files(computed: Computed) -> list[tuple[str, str]]:
    """Address and text of the one file. ``connectors`` and ``families`` are in the order of their titles;
    ``ids`` are by folder."""
    book, schemas = computed.book, computed.loaded.schemas
    guards = [one for one in schemas.circuits.values() if is_guarded(one)]
    guard_words = cache(_guard)
    general = [guard_words(one, tuple(one.positions)) for one in guards]
    data = {
        "schemas": {name: _for_the_form(schemas.files[name]) for name in _SCHEMAS},
        "circuits": [[one.name, one.title] for one in schemas.circuits.values()],
        "guards": general,
        "connectors": [_connector(one) for one in sorted(book.connectors.values(), key=lambda one: one.title)],
        "families": [_family(one, guards, general, guard_words) for one in sorted(book.families.values(), key=lambda one: one.title)],
        "ids": {"switches": list(book.families), "connectors": list(book.connectors), "kits": list(book.kits)},
    }
    return [(WRITE_URL, compact(data))]


def _for_the_form(node: Any) -> Any:
    """A schema without the annotations that only commands go by."""
    if isinstance(node, list):
        return [_for_the_form(one) for one in node]
    if not isinstance(node, Mapping):
        return node
    return {key: _for_the_form(one) for key, one in node.items() if not key.startswith("x-") or key in _READ}


def _guard(circuit: Circuit, allowed: tuple[str, ...]) -> Mapping[str, Any]:
    """In which positions of a lever a circuit may be joined, and what the linter says of a contact that joins it in another one: the form
    puts in what stands in braces."""
    danger = danger_of(circuit)
    rule = all_rules()["backup-lamp" if danger is Danger.BACKUP else "start-path"]

    def words(start: PinsOf) -> str:
        values = {"part": "{part}", "position": "{position}", "danger": danger, "allowed": allowed, "over": ()}
        return found_words(rule, "wrong", {**values, "start": start, "end": PinsOf(("{own}",), (circuit.name,))})

    to_pin, to_housing = words(PinsOf(("{other}",), ("{circuit}",))), words(PinsOf())
    return {"circuit": circuit.name, "joined_in": allowed, "words": to_pin, "words_housing": to_housing}


def _connector(one: Connector) -> dict[str, Any]:
    return {"id": one.id, "title": one.title, "cavities": one.cavities}


def _family(one: Family, guards: Sequence[Circuit], general: Sequence[Mapping[str, Any]], words: _Words) -> dict[str, Any]:
    """``guards`` are those of its lever, ``null`` where they are the general ones: its positions may have names of their own."""
    on_lever = [guard_on(guard, means_of(one)) for guard in guards]
    own = [words(guard, tuple(name for name in one.positions if name in (guard.joined_in or ()))) for guard in on_lever]
    alike = all(set(one["joined_in"]) == set(other["joined_in"]) for one, other in zip(own, general, strict=True))
    return {"id": one.id, "title": one.title, "positions": one.positions, "mounts": list(one.mounts), "guards": None if alike else own}
