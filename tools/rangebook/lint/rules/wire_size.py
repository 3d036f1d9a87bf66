"""A wire that its plug is not made for.

A wire's ``size_mm2`` lies within what the terminals of the plug's connector take (``wire_mm2``) and within what its seal closes round
(``seal_wire_mm2``), where both are stated; and in both the smallest stands before the largest.

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

from rangebook.book.model import Connector, Family, socket_of
from rangebook.fitting.check_mating import sizes_taken
from rangebook.lint.context import Housings
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule

_PATHS = {"terminal": ("terminal", "wire_mm2"), "seal": ("seal_wire_mm2",)}


def check_connector(connector: Connector, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each range whose smallest wire is larger than its largest."""
    for part, (smallest, largest) in sizes_taken(connector):
        if smallest > largest:
            yield finding(
                connector,
                _PATHS[part],
                f"the smallest wire, {smallest:g} mm2, is larger than the largest, {largest:g} mm2",
                "write the smaller first",
            )


def check_family(family: Family, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each wire that is too thin or too thick for the terminals or the seal of its own plug."""
    for plug in family.plugs.values():
        for cavity, wire in plug.wires.items():
            socket = socket_of(plug.sockets, cavity)
            connector = context.connectors.get(socket.connector) if socket else None
            if connector is None:
                continue
            for part, (smallest, largest) in sizes_taken(connector):
                if wire.size_mm2 is not None and smallest <= largest and not smallest <= wire.size_mm2 <= largest:
                    yield finding(
                        family,
                        (*plug.path, "wires", cavity, "size_mm2"),
                        f"the {part} of {connector.id} takes wire of {smallest:g} to {largest:g} mm2, and this one has {wire.size_mm2:g}",
                        "measure the wire, or correct what the connector takes",
                    )


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Connector, Housings, check_connector), EntryCheck(Family, Housings, check_family))
