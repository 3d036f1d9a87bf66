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
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_family(family: Family, context: Housings) -> Iterator[Problem]:
    """Yield a finding for each wire outside the connector, and each cavity without a wire that is said to have one."""
    for plug in family.plugs.values():
        for path, (cavity,) in wires_outside(plug, context.connectors):
            connector, cavities = housing_at(plug.sockets, cavity, context.connectors)
            jumper = "loops" in path
            yield problem(
                family,
                path,
                "jumper_outside" if jumper else "outside",
                key=not jumper,
                plug=plug.name,
                cavity=cavity,
                connector=connector,
                cavities=some(cavities),
            )
        for path, (cavity,) in read_without_wire(plug):
            yield problem(family, path, "read_without", cavity=cavity, plug=plug.name, wires=some(plug.wires))
    for one in family.applications:
        its = family.plugs.get(one.plug or "")
        for path, (cavity,) in optional_without_wire(one, its):
            assert its is not None, "of a plug that is not known nothing is said"
            yield problem(family, path, "optional_without", vehicle=one.vehicle, cavity=cavity, plug=its.name, wires=some(its.wires))


MESSAGES = {
    "outside": Told(
        "the plug {plug} has a wire in cavity {cavity}, which {connector} does not have (it has {cavities|some})",
        "correct the cavity, or the plug's connector, or the rows of {connector}",
        beside=("cavities",),
    ),
    "jumper_outside": Told(
        "the plug {plug} has a jumper in cavity {cavity}, which {connector} does not have (it has {cavities|some})",
        "correct the cavity, or the plug's connector, or the rows of {connector}",
        beside=("cavities",),
    ),
    "read_without": Told(
        "the module is said to read at cavity {cavity} of the plug {plug}, which carries no wire (wires: {wires|some})",
        "correct the cavity, or add the wire under `wires`",
        beside=("wires",),
    ),
    "optional_without": Told(
        "{vehicle} may lack the wire in cavity {cavity}, but its plug {plug} has none there (wires: {wires|some})",
        "correct the cavity, or take it out",
        beside=("wires",),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Housings, check_family), messages=MESSAGES)
