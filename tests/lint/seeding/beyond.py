"""Slips after which the book still agrees with itself. They show where the linter ends: only looking again finds them.

Some are found all the same, where another entry happens to say otherwise; how many is counted, and nothing is held against it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tests.lint.seeding.operators.entering import each, relabel
from tests.lint.seeding.sowing import Ground, Operator, Seed, Sequence

BEYOND: list[Operator] = []

COLOURS = ("RD", "BK", "YE", "GN", "BU", "VT")


def _beyond(name: str) -> Callable[[Callable[[Ground], Iterator[Seed]]], None]:
    def enter(seeds: Callable[[Ground], Iterator[Seed]]) -> None:
        BEYOND.append(Operator(name, frozenset(), seeds, "beyond"))

    return enter


def _other(name: str, kind: str, pattern: str, make: Callable[[str], str | None]) -> None:
    @_beyond(name)
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source, _, node in each(kind, *pattern.split("."))(ground):
            text = make(node.value)
            if text and text != node.value:
                yield source.put(node, text)


_other("another colour that there is", "switch", "plugs.*.wires.*.colour", lambda value: next(one for one in COLOURS if one != value))
_other("another wire size", "switch", "plugs.*.wires.*.size_mm2", lambda value: "2.5" if value != "2.5" else "1.0")
_other("a torque one half too high", "switch", "fitting.torque_nm", lambda value: f"{float(value) * 1.5:g}")
_other("set in another position", "switch", "fitting.set_in", lambda value: "R" if value != "R" else "N")
_other("the first year one too early", "switch", "applications.*.years", lambda value: f"{int(value[:4]) - 1}{value[4:]}")
_other("a bolt ten degrees off", "switch", "mounts.*.bolts.*.at_deg", lambda value: f"{float(value) + 10:g}")
_other("a spacer two millimetres too long", "switch", "mounts.*.bolts.*.spacer_mm", lambda value: f"{float(value) + 2:g}")
_other("one blanking plug too many", "kit", "blanks", lambda value: str(int(value) + 1))
_other("a trouble code one further on", "switch", "trouble_codes.*", lambda value: f"{value[:-1]}{(int(value[-1], 16) + 1) % 10}")


@_beyond("a ladder reading a fifth too high")
def _(ground: Ground) -> Iterator[Seed]:
    for source, _, node in each("switch", "parts", "*", "contacts", "*", "ohms", "*")(ground):
        if node.value not in ("open", "0"):
            yield source.put(node, f"{float(node.value) * 1.2:g}")


@_beyond("a contact that no one guards closed in one position more")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        positions = [one.value for one in source.at("positions").items]
        for path, node in source.nodes("parts", "*", "contacts", "*", "closed"):
            pins = [getattr(source.at(*path[:2], "pins", end.value), "value", "") for end in source.at(*path[:-1], "pins").items]
            more = [one for one in positions if one not in {item.value for item in node.items}]
            if (
                more
                and isinstance(node, Sequence)
                and not any(pin.startswith(("start", "backup", "park_neutral", "common")) for pin in pins)
            ):
                yield source.seed((node.end - 1, node.end - 1, f", {more[0]}" if node.items else more[0]))


@_beyond("a wire written down in the empty cavity beside its own")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, key in source.key_nodes("plugs", "*", "wires"):
            connector = ground.loaded.book.connectors.get(source.at(*path[:2], "connector").value)
            taken = {other.value for _, other in source.key_nodes(*path[:-1])}
            free = [cavity for cavity in connector.cavities if cavity not in taken] if connector else []
            if free and key.value != free[0]:
                yield relabel(source, path, free[0])


@_beyond("a vehicle left out")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.nodes("applications", "*"):
            start, end = source.line_span(node.start)
            if len(source.at("applications").items) > 1:
                yield source.seed((start, end, ""))
