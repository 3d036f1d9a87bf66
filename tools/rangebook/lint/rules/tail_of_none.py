"""A tail of a part whose connectors have names.

A part, or a design of one, with ``connectors`` states each one's ``tail`` with that connector.

Why it matters: a tail beside several connectors is of none of them, so nobody is told that the new part's leads are shorter.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connectors: {main: oval-9, lamp: oval-13}
        tail: {length_mm: 180}
        mount: short-boss
        pins: {main.1: start_feed, main.2: start_out, main.5: range_signal, main.6: range_return, lamp.3: backup_feed, lamp.4: backup_out}
        contacts:
          - {pins: [main.1, main.2], closed: [P, N]}
          - {pins: [lamp.3, lamp.4], closed: [R]}
          - {pins: [main.5, main.6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen, detail: "metered on the bench", by: bench, on: 2026-02-11}]
    plugs:
      six-wire:
        connectors: {main: oval-9, lamp: oval-13}
        wires:
          main.1: {circuit: start_feed, colour: RD}
          main.2: {circuit: start_out, colour: YE}
          main.5: {circuit: range_signal, colour: BU}
          main.6: {circuit: range_return, colour: BK}
          lamp.3: {circuit: backup_feed, colour: BN}
          lamp.4: {circuit: backup_out, colour: WH}

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connectors: {main: oval-9, lamp: {connector: oval-13, tail: {length_mm: 180}}}
        mount: short-boss
        pins: {main.1: start_feed, main.2: start_out, main.5: range_signal, main.6: range_return, lamp.3: backup_feed, lamp.4: backup_out}
        contacts:
          - {pins: [main.1, main.2], closed: [P, N]}
          - {pins: [lamp.3, lamp.4], closed: [R]}
          - {pins: [main.5, main.6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        sources: [{kind: seen, detail: "metered on the bench", by: bench, on: 2026-02-11}]
    plugs:
      six-wire:
        connectors: {main: oval-9, lamp: oval-13}
        wires:
          main.1: {circuit: start_feed, colour: RD}
          main.2: {circuit: start_out, colour: YE}
          main.5: {circuit: range_signal, colour: BU}
          main.6: {circuit: range_return, colour: BK}
          lamp.3: {circuit: backup_feed, colour: BN}
          lamp.4: {circuit: backup_out, colour: WH}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each tail that is of no connector."""
    for part in family.designs:
        names = tuple(one.name for one in part.sockets)
        if "" in part.tails and names and "" not in names:
            path = (*part.home("tails"), "tail") if part.restates else (*part.path, "tail")
            yield problem(family, path, "of_none", key=True, of=part.number, names=names)


MESSAGES = {
    "of_none": Told(
        "{of} has the connectors {names|and}, and a tail that is of none of them",
        "state it with the connector that it is of, under `connectors`",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, EntryCheck(Family, Context, check_family), messages=MESSAGES)
