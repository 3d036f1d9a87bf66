"""What takes the place of what."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from rangebook.book.model import CASE, Part
from rangebook.book.numbers import normalise
from tests.lint.seeding.operators.entering import each, fitter_of, operator, sow
from tests.lint.seeding.sowing import Ground, Seed, Source


def _ends_of_chains(ground: Ground) -> Iterator[tuple[Source, tuple, Part, list[Part]]]:
    """Each part at the end of a chain, with its place and those that lead to it, nearest first."""
    book = ground.loaded.book
    for source in ground.of("switch"):
        family = book.families[source.at("id").value]
        for part in family.parts:
            before = list(book.predecessors.get(part.key, ()))
            if before and not part.superseded_by:
                yield source, part.path, part, before


@operator("the end of a chain leads back to its beginning", "supersession-cycle")
def _(ground: Ground) -> Iterator[Seed]:
    for source, path, part, before in _ends_of_chains(ground):
        status, sources = source.at(*path, "status"), source.whole(*path, "sources")[0]
        if status is None:
            continue
        line = f"    superseded_by: [{{number: {before[0].number}, needs: []}}]\n"
        # Any link of the way round may be the wrong one; the others stand where they stood, or a line further down.
        other = frozenset((file, at + more) for file, at in _claims(ground, part) for more in (0, 1))
        yield source.seed((status.start, status.end, "superseded"), (sources, sources, line), told=sources, also=other)


@operator("a part superseded by itself", "supersession-cycle")
def _(ground: Ground) -> Iterator[Seed]:
    for source, path, node in each("switch", "parts", "*", "superseded_by", "*", "number")(ground):
        yield source.put(node, source.at(*path[:2], "number").value)


@operator("the end of a chain withdrawn", "supersession-dead-end")
def _(ground: Ground) -> Iterator[Seed]:
    for source, path, part, _ in _ends_of_chains(ground):
        status = source.at(*path, "status")
        if status is None or part.status in ("withdrawn", "discontinued"):
            continue
        links = frozenset(
            (other.file, other.line(node.start))
            for other, _, node in each("switch", "parts", "*", "superseded_by", "*", "number")(ground)
            if normalise(node.value) == part.key
        )
        yield replace(source.put(status, "withdrawn"), places=links)


@operator("a chain that goes back in time", "supersession-back-in-time")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    for source, path, node in each("switch", "parts", "*", "superseded_by", "*", "since")(ground):
        part = book.part(source.at(*path[:2], "number").value)
        if part and any(link.since for older in book.predecessors.get(part.key, ()) for link in older.superseded_by):
            yield source.put(node, "1961-01")


sow(
    "a part that is current and superseded",
    "status-and-links",
    "switch",
    "parts.*.status",
    lambda value: "current" if value == "superseded" else None,
)


@operator("a part superseded and nothing said by what", "status-and-links")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.nodes("parts", "*", "superseded_by"):
            if source.at(*path[:2], "status") is not None:
                start, end = source.whole(*path)
                yield source.seed((start, end, ""), told=source.at(*path[:2], "status").start)


def _on_a_seat(ground: Ground, old: Part, new: Part) -> list[str]:
    """The verdicts of one part on the seats that another came with."""
    fitter = fitter_of(ground)
    return [str(fitter.verdict(seat, new).kind) for seat in fitter.seats if seat.original.key == old.key]


@operator("a kit forgotten that a successor needs", "supersession-contradicted")
def _(ground: Ground) -> Iterator[Seed]:
    """Where the vehicles came with the older part and the newer one has another housing."""
    book = ground.loaded.book
    for source in ground.of("switch"):
        for path, node in source.nodes("parts", "*", "superseded_by", "*", "needs"):
            old = book.part(source.at(*path[:2], "number").value)
            new = book.part(source.at(*path[:-1], "number").value)
            if old and new and node.items and "with_parts" in _on_a_seat(ground, old, new) and old.connector != new.connector:
                start = node.start if node.flow else source.whole(*path)[0]
                edit = (node.start, node.end, "[]") if node.flow else (*source.whole(*path), "        needs: []\n")
                yield source.seed(edit, told=start)


@operator("a kit named that a successor does not need", "supersession-contradicted")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    kit = next(iter(book.kits))
    for source in ground.of("switch"):
        for path, node in source.nodes("parts", "*", "superseded_by", "*", "needs"):
            old = book.part(source.at(*path[:2], "number").value)
            new = book.part(source.at(*path[:-1], "number").value)
            words = _on_a_seat(ground, old, new) if old and new else []
            if words and set(words) == {"straight"} and not node.items and not _allows(source):
                yield source.seed((node.start, node.end, f"[{kit}]"))


@operator("two pins of a successor changed about", "supersession-contradicted", "wire-circuit-disagrees")
def _(ground: Ground) -> Iterator[Seed]:
    """In its pins and contacts, of one that went straight on: the claim tells it, or a wire that it meets where it came itself."""
    book = ground.loaded.book
    for source, path, node in each("switch", "parts", "*", "superseded_by", "*", "number")(ground):
        old, new = book.part(source.at(*path[:2], "number").value), book.part(node.value)
        if not old or not new or set(_on_a_seat(ground, old, new)) != {"straight"} or new.family != source.at("id").value:
            continue
        pins = {circuit: pin for pin, circuit in (new.pins or {}).items()}
        a, b = pins.get("range_signal"), pins.get("backup_out")
        if a and b and new.contacts:
            start, end = source.whole(*new.path, "pins")[0], source.whole(*new.path, "contacts")[1]
            text = source.text[start:end]
            text = re.sub(rf"\b(?:{a}|{b})(?=[:,\]])", lambda match, a=a, b=b: b if match.group() == a else a, _with_marks(text))
            places = _claims(ground, new) | _wires_that_meet(ground, new, {a, b})
            yield replace(source.seed((start, end, text.replace("\0", ""))), places=places)


def _wires_that_meet(ground: Ground, part: Part, pins: set[str]) -> frozenset:
    """The lines of the wires in some cavities of the plugs that a part came with: there it is the labels that disagree."""
    found = set()
    for family in ground.loaded.book.families.values():
        source = ground.source(family.entry.file)
        for one in family.applications:
            if one.came_with and one.plug and normalise(one.came_with) == part.key:
                found |= {
                    (source.file, source.line(source.key("plugs", one.plug, "wires", cavity).start))
                    for cavity in family.plugs[one.plug].wires
                    if cavity in pins
                }
    return frozenset(found)


def _with_marks(text: str) -> str:
    """Positions and ohms, which may look like pins, out of reach: a mark is put behind each of them."""
    return re.sub(r"(closed: \[[^\]]*\]|ohms: \{[^}]*\})", lambda match: re.sub(r"(\w+)(?=[:,\]}])", "\\1\0", match.group()), text)


def _claims(ground: Ground, new: Part) -> frozenset:
    return frozenset(
        (source.file, source.line(node.start))
        for source, _, node in each("switch", "parts", "*", "superseded_by", "*", "number")(ground)
        if normalise(node.value) == new.key
    )


@operator("a successor's ladder ten times as high", "supersession-contradicted")
def _(ground: Ground) -> Iterator[Seed]:
    """Where a vehicle whose plug has both range wires came with the older part and the newer one goes on."""
    book = ground.loaded.book
    for source in ground.of("switch"):
        for path, node in source.nodes("parts", "*", "contacts", "*", "ohms"):
            new = book.part(source.at(*path[:2], "number").value)
            ends = [one.value for one in source.at(*path[:-1], "pins").items]
            if new is None or not _is_claimed(ground, new, ends):
                continue
            edits = [(value.start, value.end, value.value + "0") for _, value in node.pairs if value.value not in ("open", "0")]
            if edits:
                yield replace(source.seed(*edits), places=_claims(ground, new))


def _allows(source: Source) -> bool:
    """Whether the entry says that a claim in it may stand though the facts contradict it, and why."""
    return any(one.value == "supersession-contradicted" for _, one in source.scalars("allow", "*", "rule"))


def _file_of(ground: Ground, part: Part) -> str:
    return ground.loaded.book.family_of(part).entry.file


def _is_claimed(ground: Ground, new: Part, ends: list[str]) -> bool:
    """Whether some older part's seat, on which the newer one goes straight, has wires at both ends."""
    fitter = fitter_of(ground)
    if _allows(ground.source(_file_of(ground, new))):
        return False
    older = {part.key for part in ground.loaded.book.predecessors.get(new.key, ())}
    return any(
        seat.original.key in older and set(ends) <= {*seat.plug.wires, CASE} and str(fitter.verdict(seat, new).kind) == "straight"
        for seat in fitter.seats
        if seat.original.key != new.key
    )
