"""Something that an upper layer says instead of the layer below, with a source.

It is taken as the upper layer says, for it names a source. This tells both, so that it is not forgotten when either changes.

Why it matters: the answer is no longer that of the shared book. Whoever keeps that may know why it says otherwise, or would like to know.

Fails: in the shop's own vehicle the wire is of another colour.

    # above: entries/switches/tamblin-gate.md
    kind: switch
    id: tamblin-gate
    plugs:
      six-wire:
        wires:
          1: {colour: GN}
    sources: [{kind: seen, detail: "at the plug", by: bay 2, on: 2026-03-02, for: [plugs]}]

Mended: the shared book says the same by now.

    # above: entries/switches/tamblin-gate.md
    kind: switch
    id: tamblin-gate
    plugs:
      six-wire:
        wires:
          1: {colour: RD}
    sources: [{kind: seen, detail: "at the plug", by: bay 2, on: 2026-03-02, for: [plugs]}]
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rangebook.book.laid_over import Owner, is_settled
from rangebook.book.places import name_of_path
from rangebook.lint.context import Circuits
from rangebook.lint.rule import Line, Problem, Severity, Told, every_kind, problem, rule
from rangebook.reading.laid_over import written


def check_entry(owner: Owner, context: Circuits) -> Iterator[Problem]:
    """Yield a finding at what the upper layer says."""
    entry = owner.entry
    for clash in entry.clashes:
        if not is_settled(clash, context.circuits):
            continue
        found = problem(
            owner,
            clash.path,
            "denied" if clash.lower is None else "otherwise",
            at=name_of_path(entry.front, clash.path),
            upper=written(clash.upper),
            lower=written(clash.lower),
            above=entry.called(clash.above.layer),
            below=entry.called(clash.below.layer),
            line=Line(clash.below.line),
        )
        yield replace(found, mark=clash.above)


_FIX = "see that its source holds, and tell those who keep {below}; once they say the same, take it out here"

MESSAGES = {
    "otherwise": Told("{above} says `{upper}` of {at} and is gone by, for it has a source; {below} says `{lower}` in line {line}", _FIX),
    "denied": Told(
        "{above} has {at} (`{upper}`) and is gone by, for it has a source; by what {below} lists in line {line} there is none", _FIX
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, *every_kind(Circuits, check_entry), messages=MESSAGES)
