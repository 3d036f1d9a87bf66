"""A wire or a jumper in a cavity that the plug does not have, or a cavity without a wire that is spoken of as if it had one.

Every key of a plug's ``wires``, and every cavity in its ``loops``, is a cavity of the plug's connector. The
cavities in ``reads.pins`` and in an
application's ``optional_cavities`` are among those wires.

Why it matters: everything is compared at the wires. A wire in a cavity that is not there meets no pin of any switch, and
every switch comes out as open where that wire should do something.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        status: current
        sources: [{kind: seen}]
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
          10: {circuit: ground, colour: BK}

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        status: current
        sources: [{kind: seen}]
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD}
          2: {circuit: start_out, colour: YE}
          6: {circuit: ground, colour: BK}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.fitting.contradictions import housing_at, optional_without_wire, read_without_wire, wires_outside
from rangebook.lint.context import Housings
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule
from rangebook.words.lists import enumerated


def check_family(family: Family, context: Housings) -> Iterator[Problem]:
    """Yield a finding for each wire outside the connector, and each cavity without a wire that is said to have one."""
    for plug in family.plugs.values():
        for path, (cavity,) in wires_outside(plug, context.connectors):
            connector, has = housing_at(plug.sockets, cavity, context.connectors)
            what = "jumper" if "loops" in path else "wire"
            yield finding(
                family,
                path,
                f"the plug {plug.name} has a {what} in cavity {cavity}, which {connector} does not have (it has {enumerated(has)})",
                f"correct the cavity, or the plug's connector, or the rows of {connector}",
                key="loops" not in path,
            )
        for path, (cavity,) in read_without_wire(plug):
            yield finding(
                family,
                path,
                f"the module is said to read at cavity {cavity} of the plug {plug.name}, which carries no wire "
                f"(wires: {enumerated(plug.wires)})",
                "correct the cavity, or add the wire under `wires`",
            )
    for one in family.applications:
        its = family.plugs.get(one.plug or "")
        for path, (cavity,) in optional_without_wire(one, its):
            assert its is not None, "of a plug that is not known nothing is said"
            yield finding(
                family,
                path,
                f"{one.vehicle} may lack the wire in cavity {cavity}, but its plug {its.name} has none there "
                f"(wires: {enumerated(its.wires)})",
                "correct the cavity, or take it out",
            )


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Housings, check_family))
