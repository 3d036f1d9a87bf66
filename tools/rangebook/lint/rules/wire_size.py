"""A wire that its plug is not made for.

A wire's ``size_mm2`` lies within what the terminal of its cavity takes (``wire_mm2``), with that of a wire which shares the terminal added
to it, and within what the plug's seal closes round (``seal_wire_mm2``), its ``outer_mm`` within what the seal of the terminal does
(``seal_mm``), where both are stated; and in each the smallest stands before the largest. No more ``wires`` share a terminal than it takes.

Why it matters: a crimp on too thin a wire pulls off, one on too thick a wire is never closed, and a seal that does not close lets water
in. One of the two figures is wrong, and the answer for a renewal kit goes by them.

Fails:

    # entries/connectors/oval-9.md
    kind: connector
    id: oval-9
    terminal: {style: blade, width_mm: 2.8, on_switch: male, wire_mm2: [1.5, 0.5]}

Mended:

    # entries/connectors/oval-9.md
    kind: connector
    id: oval-9
    terminal: {style: blade, width_mm: 2.8, on_switch: male, wire_mm2: [0.5, 1.5]}
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rangebook.book.model import Connector, Family, KeyPath, Kit, Plug, Terminal, Wire, socket_and_cavity, socket_of
from rangebook.lint.context import Context, Housings
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule

_Range = tuple[KeyPath, tuple[float, float] | None, str]
"""Where a range stands in an entry, what it is, and its unit."""


class Bounds(NamedTuple):
    """The thinnest and the thickest wire that something takes."""

    low: float
    high: float


def _of_terminals(owner: Connector | Kit) -> Iterator[_Range]:
    listed: list[tuple[KeyPath, Terminal | None]] = [(("terminal",), owner.terminal)]
    listed += [(("terminals", cavity), one) for cavity, one in owner.terminals.items()]
    for path, one in listed:
        if one is not None:
            yield (*path, "wire_mm2"), one.wire_mm2, "mm2"
            yield (*path, "seal_mm"), one.seal_mm, "mm"


def _turned(owner: Connector | Kit, ranges: Iterator[_Range]) -> Iterator[Problem]:
    for path, found, unit in ranges:
        if found is not None and found[0] > found[1]:
            yield problem(owner, path, "backwards", smallest=found[0], largest=found[1], unit=unit)


def check_connector(connector: Connector, context: Context) -> Iterator[Problem]:
    """Yield a finding at each range whose smallest wire is larger than its largest."""
    yield from _turned(connector, _of_terminals(connector))
    yield from _turned(connector, iter([(("seal_wire_mm2",), connector.seal_wire_mm2, "mm2")]))


def check_kit(kit: Kit, context: Context) -> Iterator[Problem]:
    """Yield a finding at each range in the bag whose smallest wire is larger than its largest."""
    yield from _turned(kit, _of_terminals(kit))
    for index, one in enumerate(kit.wire_seals or ()):
        for key, found, unit in (("wire_mm2", one.wire_mm2, "mm2"), ("outer_mm", one.outer_mm, "mm")):
            yield from _turned(kit, iter([(("wire_seals", index, key), found, unit)]))


def check_family(family: Family, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each wire that is too thin or too thick for the terminal or the seal of its own plug, and where more share one
    than it takes."""
    for plug in family.plugs.values():
        for label, wire in plug.wires.items():
            socket = socket_of(plug.sockets, label)
            connector = context.connectors.get(socket.connector) if socket else None
            if connector is not None:
                yield from _beyond(family, plug, connector, wire)


def _beyond(family: Family, plug: Plug, connector: Connector, wire: Wire) -> Iterator[Problem]:
    made, name = connector.terminal_at(socket_and_cavity(wire.cavity)[1]), connector.id
    there = (*plug.path, "wires", wire.cavity)
    several = bool(wire.others)
    if takes := _missed(made.wire_mm2, wire.mm2):
        path = there if several else (*there, "size_mm2")
        yield problem(family, path, "terminal", connector=name, takes_mm2=Bounds(*takes), several=several, size_mm2=wire.mm2)
    if made.wires is not None and len(wire.all) > made.wires:
        yield problem(family, there, "too_many", connector=name, most=made.wires, wires=len(wire.all))
    for index, one in enumerate(wire.all):
        path = (*there, index) if several else there
        if takes := _missed(connector.seal_wire_mm2, one.size_mm2):
            yield problem(family, (*path, "size_mm2"), "seal", connector=name, takes_mm2=Bounds(*takes), size_mm2=one.size_mm2)
        if takes := _missed(made.seal_mm, one.outer_mm):
            yield problem(family, (*path, "outer_mm"), "own_seal", connector=name, takes_mm=Bounds(*takes), outer_mm=one.outer_mm)


def _missed(bounds: tuple[float, float] | None, value: float | None) -> tuple[float, float] | None:
    """The bounds, where the value is not between them; ``None`` where it is, or either is not stated, or they are the wrong way round."""
    if bounds is None or value is None or bounds[0] > bounds[1] or bounds[0] <= value <= bounds[1]:
        return None
    return bounds


_FIX = "measure the wire, or correct what the connector takes"

MESSAGES = {
    "backwards": Told("the smallest wire, {smallest|g} {unit}, is larger than the largest, {largest|g} {unit}", "write the smaller first"),
    "terminal": Told(
        [
            "the terminal of {connector} takes wire of {takes_mm2.low|g} to {takes_mm2.high|g} mm2, and ",
            {"given": "several", "yes": "these have together", "no": "this one has"},
            " {size_mm2|g}",
        ],
        _FIX,
    ),
    "too_many": Told("a terminal of {connector} takes {most} at the most, and here are {wires|wires}", _FIX),
    "seal": Told("the seal of {connector} takes wire of {takes_mm2.low|g} to {takes_mm2.high|g} mm2, and this one has {size_mm2|g}", _FIX),
    "own_seal": Told(
        "the seal of a terminal of {connector} takes wire of {takes_mm.low|g} to {takes_mm.high|g} mm, and this one has {outer_mm|g}", _FIX
    ),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    EntryCheck(Connector, Context, check_connector),
    EntryCheck(Kit, Context, check_kit),
    EntryCheck(Family, Housings, check_family),
    messages=MESSAGES,
)
