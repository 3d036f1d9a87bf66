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

from rangebook.book.model import Connector, Family, KeyPath, Kit, Plug, Terminal, Wire, socket_and_cavity, socket_of
from rangebook.lint.context import Context, Housings
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule

_Range = tuple[KeyPath, tuple[float, float] | None, str]
"""Where a range stands in an entry, what it is, and its unit."""


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
            yield finding(
                owner,
                path,
                f"the smallest wire, {found[0]:g} {unit}, is larger than the largest, {found[1]:g} {unit}",
                "write the smaller first",
            )


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
                for path, message in _beyond(plug, connector, wire):
                    yield finding(family, path, message, "measure the wire, or correct what the connector takes")


def _beyond(plug: Plug, connector: Connector, wire: Wire) -> Iterator[tuple[KeyPath, str]]:
    made = connector.terminal_at(socket_and_cavity(wire.cavity)[1])
    there = (*plug.path, "wires", wire.cavity)
    together = "these have together" if wire.others else "this one has"
    if wire.mm2 is not None and _is_out(made.wire_mm2, wire.mm2):
        path = there if wire.others else (*there, "size_mm2")
        yield path, f"the terminal of {connector.id} takes {_words(made.wire_mm2, 'mm2')}, and {together} {wire.mm2:g}"
    if made.wires is not None and len(wire.all) > made.wires:
        yield there, f"a terminal of {connector.id} takes {made.wires} at the most, and here are {len(wire.all)} wires"
    for index, one in enumerate(wire.all):
        path = (*there, index) if wire.others else there
        if _is_out(connector.seal_wire_mm2, one.size_mm2):
            words = _words(connector.seal_wire_mm2, "mm2")
            yield (*path, "size_mm2"), f"the seal of {connector.id} takes {words}, and this one has {one.size_mm2:g}"
        if _is_out(made.seal_mm, one.outer_mm):
            words = _words(made.seal_mm, "mm")
            yield (*path, "outer_mm"), f"the seal of a terminal of {connector.id} takes {words}, and this one has {one.outer_mm:g}"


def _is_out(bounds: tuple[float, float] | None, value: float | None) -> bool:
    return bounds is not None and value is not None and bounds[0] <= bounds[1] and not bounds[0] <= value <= bounds[1]


def _words(bounds: tuple[float, float] | None, unit: str) -> str:
    assert bounds is not None
    return f"wire of {bounds[0]:g} to {bounds[1]:g} {unit}"


RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    EntryCheck(Connector, Context, check_connector),
    EntryCheck(Kit, Context, check_kit),
    EntryCheck(Family, Housings, check_family),
)
