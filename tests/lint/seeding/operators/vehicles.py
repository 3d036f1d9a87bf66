"""Vehicles, years, dates and sources."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from tests.lint.seeding.operators.entering import each, fitter_of, goes_on, operator, sow
from tests.lint.seeding.sowing import Ground, Seed


def _turned(years: str) -> str | None:
    return "-".join(reversed(years.split("-"))) if len(years) == 9 and years[:4] != years[5:] else None


sow("a day that its month does not have", "impossible-date", "switch", "parts.*.sources.*.on", lambda value: value[:5] + "02-30")

sow("years the wrong way round", "years-backwards", "switch", "applications.*.years", _turned)


@operator("a month outside the years", "years-backwards")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.scalars("applications", "*", "years"):
            if source.at(*path[:2], "from") is None and source.at(*path[:2], "to") is None:
                yield source.seed((node.end, node.end, ", from: 1951-03"))


@operator("built up to before it was built from", "years-backwards")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.scalars("applications", "*", "from"):
            if source.at(*path[:2], "to") is None:
                yield source.seed((node.end, node.end, f", to: {int(node.value[:4]) - 1}-12"))


sow("looked at in a year to come", "future-date", "switch", "parts.*.sources.*.on", lambda value: "2062" + value[4:])
sow("a connector looked at in a year to come", "future-date", "connector", "sources.*.on", lambda value: "2062" + value[4:])
sow("superseded in a year to come", "future-date", "switch", "parts.*.superseded_by.*.since", lambda value: "2062" + value[4:])


@operator("last looked at a long time ago", "stale-check")
def _(ground: Ground) -> Iterator[Seed]:
    """All dates of one list of sources put back by twenty years; it is told at the newest."""
    for source in ground.sources:
        for pattern in (("sources",), ("parts", "*", "sources")):
            for path, node in source.nodes(*pattern):
                dates = [one for index in range(len(node.items)) if (one := source.at(*path, index, "on"))]
                if dates:
                    edits = [(one.start, one.end, f"{int(one.value[:4]) - 20}{one.value[4:]}") for one in dates]
                    newest = max(dates, key=lambda one: one.value)
                    lines = frozenset((source.file, source.line(one.start)) for one in dates if one.value == newest.value)
                    yield replace(source.seed(*edits), places=lines)


def _without_sources(name: str, kind: str, *pattern: str) -> None:
    @operator(name, "missing-source")
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of(kind):
            for path, _ in source.nodes(*pattern, "sources"):
                start, end = source.whole(*path)
                key = source.key(*path)
                yield source.seed((start, end, f"{' ' * (key.start - start)}sources: []\n"))


_without_sources("a part without a source", "switch", "parts", "*")
_without_sources("a connector without a source", "connector")
_without_sources("a kit without a source", "kit")


@operator("the sources of a part left out", "missing-source")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.nodes("parts", "*", "sources"):
            start, end = source.whole(*path)
            yield source.seed((start, end, ""), told=source.at(*path[:2]).start)


@operator("a source for what is not stated", "source-for-nothing")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for path, node in source.scalars("sources", "*", "kind"):
            if source.at(*path[:2], "for") is None:
                yield source.seed((node.end, node.end, ", for: [supersession]" if source.kind != "switch" else ", for: [fitting, nothing]"))


@operator("a vehicle in two spellings", "name-spelling")
def _(ground: Ground) -> Iterator[Seed]:
    found = [(source, node) for source, _, node in each("switch", "applications", "*", "vehicle")(ground)]
    for source, node in found:
        others = frozenset((other.file, other.line(one.start)) for other, one in found if one.value == node.value and one is not node)
        if others:
            yield source.put(node, node.value.replace(" ", "-", 1), also=others if len(others) == 1 else frozenset())


@operator("a vehicle in small letters", "name-spelling")
def _(ground: Ground) -> Iterator[Seed]:
    found = [(source, node) for source, _, node in each("switch", "applications", "*", "vehicle")(ground)]
    for source, node in found:
        others = frozenset((other.file, other.line(one.start)) for other, one in found if one.value == node.value and one is not node)
        if others:
            yield source.put(node, node.value.lower(), also=others if len(others) == 1 else frozenset())


@operator("a vehicle of which nothing can be said", "no-seat")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.nodes("applications", "*"):
            for name in ("plug", "came_with"):
                value = source.at(*path, name)
                key = source.key(*path, name) if value else None
                if key and value and source.text[key.start - 2 : key.start] == ", ":
                    yield source.seed((key.start - 2, value.end, ""), told=node.start)


@operator("a vehicle with two answers", "ambiguous-vehicle")
def _(ground: Ground) -> Iterator[Seed]:
    """The line of a vehicle once more, with another plug that the same part goes on and that has other wires."""
    book = ground.loaded.book
    for source in ground.of("switch"):
        family = book.families[source.at("id").value]
        for path, node in source.nodes("applications", "*"):
            plug, came = source.at(*path, "plug"), source.at(*path, "came_with")
            part = book.part(came.value) if came else None
            if plug is None or part is None:
                continue
            for other in family.plugs.values():
                mine = family.plugs[plug.value]
                wires = [{(cavity, wire.circuit) for cavity, wire in one.wires.items()} for one in (mine, other)]
                if wires[0] != wires[1] and goes_on(ground, other.connector, part):
                    start, end = source.line_span(node.start)
                    line = source.text[start:end].replace(f"plug: {plug.value}", f"plug: {other.name}")
                    yield replace(source.seed((end, end, line)), places=frozenset({(source.file, source.line(end))}))
                    break


@operator("a family written down twice under other numbers", "twin-families")
def _(ground: Ground) -> Iterator[Seed]:
    """Where every part of it goes straight onto each of its seats."""
    fitter = fitter_of(ground)
    for source in ground.of("switch"):
        family = ground.loaded.book.families[source.at("id").value]
        seats = [seat for seat in fitter.seats if seat.family is family]
        if not seats or not family.gearboxes:
            continue
        if any(str(fitter.verdict(seat, part).kind) != "straight" for seat in seats for part in family.parts):
            continue
        text = source.text.replace(f"id: {family.id}\n", f"id: {family.id}-2\n", 1)
        for part in family.parts:
            text = text.replace(part.number, f"{part.number}9")
        file = f"entries/switches/{family.id}-2.md"
        line = source.line(source.at("title").start)
        yield Seed(file, {file: text.encode()}, frozenset({(file, line), (source.file, line)}))  # whichever is the later one
