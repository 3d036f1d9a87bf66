"""Pins, wires, cavities and colours."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace

from rangebook.book.model import CASE, Part
from tests.lint.seeding.operators.entering import each, goes_on, operator, relabel, sow
from tests.lint.seeding.sowing import Ground, Seed


@operator("a pin in a cavity that there is not", "pin-outside-housing")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.key_nodes("parts", "*", "pins"):
            if source.at(*path[:2], "connector"):
                yield relabel(source, path, "99")


@operator("a wire in a cavity that there is not", "wire-outside-plug")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.key_nodes("plugs", "*", "wires"):
            yield relabel(source, path, "99")


sow("the module reads where there is no wire", "wire-outside-plug", "switch", "plugs.*.reads.pins.*", lambda value: "99")
sow("a wire that is not there may be missing", "wire-outside-plug", "switch", "applications.*.optional_cavities.*", lambda value: "99")
sow("a contact on a pin that there is not", "contact-without-pin", "switch", "parts.*.contacts.*.pins.*", lambda value: "99")
sow("a signal on a pin that there is not", "signal-without-pin", "switch", "parts.*.signals.*.pin", lambda value: "99")
sow("a signal fed by a pin that there is not", "signal-without-pin", "switch", "parts.*.signals.*.supply", lambda value: "99")
sow("a signal against a pin that there is not", "signal-without-pin", "switch", "parts.*.signals.*.ground", lambda value: "99")


@operator("a pin forgotten that a contact ends on", "contact-without-pin")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.nodes("parts", "*", "pins"):
            ends = [(other, end) for other, end in source.scalars("parts", "*", "contacts", "*", "pins", "*") if other[1] == path[1]]
            for index, (key, _) in enumerate(node.pairs):
                places = frozenset((source.file, source.line(end.start)) for _, end in ends if end.value == key.value)
                if places and index + 1 < len(node.pairs):
                    seed = source.seed((key.start, node.pairs[index + 1][0].start, ""))
                    yield replace(seed, places=places)


@operator("a contact from a pin to itself", "contact-to-itself")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.nodes("parts", "*", "contacts", "*", "pins"):
            a, b = node.items
            if a.value != CASE:
                yield source.put(b, a.value)


@operator("two cavities with one label", "cavity-twice")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("connector"):
        for _, node in source.nodes("rows", "*"):
            labels = [one for one in node.items if one.value != "-"]
            for one, other in itertools.pairwise(labels):
                yield source.put(other, one.value)


@operator("the circuits of two wires changed about", "wire-circuit-disagrees")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    for source in ground.of("switch"):
        family = book.families[source.at("id").value]
        came = {one.plug: book.part(one.came_with) for one in family.applications if one.plug and one.came_with}
        for path, node in source.nodes("plugs", "*", "wires"):
            part = came.get(path[1])
            if part is None or part.pins is None or not goes_on(ground, family.plugs[path[1]].connector, part):
                continue
            wires = [(key.value, source.at(*path, key.value, "circuit")) for key, _ in node.pairs]
            for (a, one), (b, other) in itertools.pairwise(wires):
                if (
                    one is None
                    or other is None
                    or one.value == other.value
                    or {part.pins.get(a), part.pins.get(b)} & {None, "not_connected"}
                ):
                    continue
                lines = frozenset((source.file, source.line(each.start)) for each in (one, other))
                yield replace(source.seed((one.start, one.end, other.value), (other.start, other.end, one.value)), places=lines)


def _plug_that_does_not_go_on(ground: Ground, part: Part) -> str | None:
    connectors = ground.loaded.book.connectors
    return next((name for name in connectors if not goes_on(ground, name, part)), None)


@operator("a vehicle with the plug of another one", "original-misfit")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    for source, path, node in each("switch", "applications", "*", "plug")(ground):
        family = book.families[source.at("id").value]
        came = source.at(*path[:2], "came_with")
        part = book.part(came.value) if came else None
        for plug in family.plugs.values():
            if part and part.connector and not goes_on(ground, plug.connector, part):
                yield source.put(node, plug.name)
                break


sow(
    "a colour in words",
    "wire-colour",
    "switch",
    "plugs.*.wires.*.colour",
    lambda value: {"RD": "red", "BK": "black"}.get(value, "green-ish"),
)
sow("a colour in small letters", "wire-colour", "switch", "plugs.*.wires.*.colour", str.lower)
sow("a colour with a letter wrong", "wire-colour", "switch", "plugs.*.wires.*.colour", lambda value: value[0] + "X" + value[2:])
sow("a colour twice", "wire-colour", "switch", "plugs.*.wires.*.colour", lambda value: value[:2] * 2)
