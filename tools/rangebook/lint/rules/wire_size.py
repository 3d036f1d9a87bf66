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

from rangebook.book.model import Connector, Family
from rangebook.fitting.check_mating import sizes_taken
from rangebook.lint.context import Housings
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule

_PATHS = {"terminal": ("terminal", "wire_mm2"), "seal": ("seal_wire_mm2",)}


def check_connector(connector: Connector, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each range whose smallest wire is larger than its largest."""
    for part, (smallest, largest) in sizes_taken(connector):
        if smallest > largest:
            yield problem(connector, _PATHS[part], "backwards", smallest_mm2=smallest, largest_mm2=largest)


def check_family(family: Family, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each wire that is too thin or too thick for the terminals or the seal of its own plug."""
    for plug in family.plugs.values():
        connector = context.connectors.get(plug.connector)
        for part, (smallest, largest) in sizes_taken(connector) if connector else ():
            for cavity, wire in plug.wires.items():
                if wire.size_mm2 is not None and smallest <= largest and not smallest <= wire.size_mm2 <= largest:
                    yield problem(
                        family,
                        (*plug.path, "wires", cavity, "size_mm2"),
                        part,
                        connector=plug.connector,
                        smallest_mm2=smallest,
                        largest_mm2=largest,
                        size_mm2=wire.size_mm2,
                    )


MESSAGES = {
    "backwards": Told(
        "the smallest wire, {smallest_mm2|g} mm2, is larger than the largest, {largest_mm2|g} mm2",
        "write the smaller first",
    ),
    "terminal": Told(
        "the terminal of {connector} takes wire of {smallest_mm2|g} to {largest_mm2|g} mm2, and this one has {size_mm2|g}",
        "measure the wire, or correct what the connector takes",
    ),
    "seal": Told(
        "the seal of {connector} takes wire of {smallest_mm2|g} to {largest_mm2|g} mm2, and this one has {size_mm2|g}",
        "measure the wire, or correct what the connector takes",
    ),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    EntryCheck(Connector, Housings, check_connector),
    EntryCheck(Family, Housings, check_family),
    messages=MESSAGES,
)
