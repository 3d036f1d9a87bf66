"""Lever positions, contacts and readings."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tests.lint.seeding.operators.entering import each, operator, relabel
from tests.lint.seeding.sowing import Ground, Seed, Sequence, Source


def _twice(name: str, *pattern: str) -> None:
    @operator(name, "position-twice")
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of("switch"):
            for _, node in source.nodes(*pattern):
                if len(node.items) > 1:
                    yield source.put(node.items[-1], node.items[0].value)


_twice("a position of the lever twice", "positions")
_twice("a position of a contact twice", "parts", "*", "contacts", "*", "closed")
_twice("a position of a vehicle's lever twice", "applications", "*", "lever")


def _left_out(name: str, *pattern: str) -> None:
    @operator(name, "incomplete-table")
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of("switch"):
            for _, node in source.nodes(*pattern):
                for (key, _), (following, _) in zip(node.pairs, node.pairs[1:], strict=False):
                    yield source.seed((key.start, following.start, ""))


_left_out("a position left out of a ladder", "parts", "*", "contacts", "*", "ohms")
_left_out("a position left out of a signal", "parts", "*", "signals", "*", "values")


def _strange(name: str, *pattern: str) -> None:
    @operator(name, "unknown-position")
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of("switch"):
            for path, _ in source.key_nodes(*pattern):
                yield relabel(source, path, "X")


_strange("a position of a ladder that the lever does not have", "parts", "*", "contacts", "*", "ohms")
_strange("a position of a signal that the lever does not have", "parts", "*", "signals", "*", "values")


@operator("reverse and neutral changed about", "lever-order")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        node = source.at("positions")
        by = {one.value: one for one in node.items}
        if {"R", "N"} <= set(by):
            yield source.seed((by["R"].start, by["R"].end, "N"), (by["N"].start, by["N"].end, "R"))


@operator("park not at the end", "lever-order")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        first, second = source.at("positions").items[:2]
        if first.value == "P":
            yield source.seed((first.start, first.end, second.value), (second.start, second.end, "P"))


@operator("a vehicle's lever in another order", "lever-order")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.nodes("applications", "*", "lever"):
            a, b = node.items[-2:]
            yield source.seed((a.start, a.end, b.value), (b.start, b.end, a.value))


def _between(source: Source, part: tuple, circuits: tuple[set[str], set[str]]) -> Iterator[tuple[tuple, Sequence]]:
    """Contacts of a part straight from a pin of the first circuits to one of the second, with their list of positions."""
    for path, node in source.nodes(*part, "contacts", "*", "pins"):
        pins = [getattr(source.at(*part, "pins", end.value), "value", None) for end in node.items]
        closed = source.at(*path[:-1], "closed")
        if isinstance(closed, Sequence) and any(pins[i] in circuits[0] and pins[1 - i] in circuits[1] for i in (0, 1)):
            yield path, closed


START = ({"start_feed", "common_feed"}, {"start_out"})
BACKUP = ({"backup_feed", "common_feed"}, {"backup_out"})


def _parts(source: Source) -> Iterator[tuple]:
    for index, _ in enumerate(source.at("parts").items):
        yield "parts", index


def _guarded(name: str, rule: str, circuits: tuple[set[str], set[str]], change: Callable[[Source, Sequence], Iterator[Seed]]) -> None:
    @operator(name, rule)
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of("switch"):
            for _, closed in (found for part in _parts(source) for found in _between(source, part, circuits)):
                yield from change(source, closed)


def _also_in(position: str) -> Callable[[Source, Sequence], Iterator[Seed]]:
    def change(source: Source, closed: Sequence) -> Iterator[Seed]:
        if position in {one.value for one in source.at("positions").items} - {one.value for one in closed.items}:
            yield source.seed((closed.end - 1, closed.end - 1, f", {position}"))

    return change


def _not_in(position: str) -> Callable[[Source, Sequence], Iterator[Seed]]:
    def change(source: Source, closed: Sequence) -> Iterator[Seed]:
        rest = [one.value for one in closed.items if one.value != position]
        if len(rest) < len(closed.items):
            yield source.seed((closed.start, closed.end, f"[{', '.join(rest)}]"))

    return change


_guarded("the start contact closed in D too", "start-path", START, _also_in("D"))
_guarded("the start contact closed in R too", "start-path", START, _also_in("R"))
_guarded("the start contact open in P", "start-path", START, _not_in("P"))
_guarded("the start contact open in N", "start-path", START, _not_in("N"))
_guarded("the backup contact closed in D too", "backup-lamp", BACKUP, _also_in("D"))
_guarded("the backup contact closed in N too", "backup-lamp", BACKUP, _also_in("N"))
_guarded("the backup contact open in R", "backup-lamp", BACKUP, _not_in("R"))


@operator("a figure of a ladder copied one position too far", "positions-alike")
def _(ground: Ground) -> Iterator[Seed]:
    yield from _copied(ground, "contacts", "ohms")


@operator("a figure of a signal copied one position too far", "positions-alike")
def _(ground: Ground) -> Iterator[Seed]:
    yield from _copied(ground, "signals", "values")


def _copied(ground: Ground, *table: str) -> Iterator[Seed]:
    """Where nothing else of the part tells the two positions apart."""
    for source in ground.of("switch"):
        for path, node in source.nodes("parts", "*", table[0], "*", table[1]):
            if _other_outputs(source, path[:2], path[:4]):
                continue
            for (_, one), (_, other) in zip(node.pairs, node.pairs[1:], strict=False):
                if one.value != other.value:
                    yield source.put(other, one.value)


def _other_outputs(source: Source, part: tuple, own: tuple) -> bool:
    """Whether a part has another range output than the one at ``own``: code lines, another ladder or signal."""
    pins = source.at(*part, "pins")
    codes = any(value.value.startswith("code_") or value.value == "range_signal_2" for _, value in getattr(pins, "pairs", ()))
    tables = [path for kind, key in (("contacts", "ohms"), ("signals", "values")) for path, _ in source.nodes("parts", "*", kind, "*", key)]
    return codes or any(path[:2] == part and path[:4] != own for path in tables)


@operator("a tolerance ten times as large", "windows-overlap")
def _(ground: Ground) -> Iterator[Seed]:
    for source, path, node in each("switch", "parts", "*", "contacts", "*", "tolerance_percent")(ground):
        if not _other_outputs(source, path[:2], path[:4]):
            yield source.put(node, str(min(100, int(float(node.value) * 10))))


@operator("a hole smaller than its bolt", "hole-too-small")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.nodes("mounts", "*", "bolts", "*"):
            bolt, hole = source.at(*path, "bolt_mm"), source.at(*path, "hole_mm")
            if bolt and hole and bolt.value != hole.value:
                yield source.seed((bolt.start, bolt.end, hole.value), (hole.start, hole.end, bolt.value), told=hole.start)


def _of_a_mount(name: str, rule: str, changed: Callable[[str], str], *pattern: str) -> None:
    @operator(name, rule)
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of("switch"):
            for _, node in source.scalars("mounts", *pattern):
                yield source.put(node, changed(node.value))


_of_a_mount("a hole with a figure too many", "hole-too-wide", lambda hole: f"1{hole}", "*", "bolts", "*", "hole_mm")
_of_a_mount("a slot ten times as long", "slot-too-long", lambda slot: str(min(350, round(float(slot) * 10))), "*", "bolts", "*", "slot_deg")
_of_a_mount("a hub in a position that is not there", "hub-detents", lambda _: "X", "*", "hub", "position")
_of_a_mount("a mount's torque in inch-pounds", "torque-and-bolt", lambda torque: f"{float(torque) * 8.85:.0f}", "*", "torque_nm")


@operator("a family's torque in inch-pounds", "torque-and-bolt")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.scalars("fitting", "torque_nm"):
            yield source.put(node, f"{float(node.value) * 8.85:.0f}")


@operator("a detent that turns back", "hub-detents")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.scalars("mounts", "*", "hub", "steps_deg", "*"):
            if path[-1] == 1:
                steps = source.at(*path[:-1])
                yield source.seed((node.start, node.end, f"{-float(node.value):g}"), told=steps.start)


@operator("a hub left out", "mount-incomplete")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.nodes("mounts", "*", "hub"):
            start, end = source.line_span(node.start)
            yield source.seed((start, end, ""), told=source.key(*path[:-1]).start)


@operator("one mount's torque for all of the family", "torque-of-mounts")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        own = list(source.scalars("mounts", "*", "torque_nm"))
        fitting = source.at("fitting")
        if len({node.value for _, node in own}) > 1:
            for _, node in own:
                start, end = source.line_span(node.start)
                said = f"torque_nm: {node.value}, "
                yield source.seed((start, end, ""), (fitting.start + 1, fitting.start + 1, said), told=fitting.start + 1)
