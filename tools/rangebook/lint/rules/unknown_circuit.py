"""A circuit that is not on the list.

What a pin or a wire is for is said by a name from the controlled list of circuits, ``schema/circuits.json``. In a book's own
list a circuit with ``safety: true`` says in ``joined_in`` in which positions it may be joined to others, or ``any``.

Why it matters: the check that nothing cranks in gear goes by the names of the circuits. A misspelled ``start_feed`` is a
starter wire that the check does not see.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        status: current
        pins: {5: range_signal, 6: range_retrun}
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        status: current
        pins: {5: range_signal, 6: range_return}
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family, KeyPath
from rangebook.lint.context import Circuits
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.lint.words import NEAR, Nearest


def check_family(family: Family, context: Circuits) -> Iterator[Problem]:
    """Yield a finding for each pin and each wire whose circuit is not on the list, or is not said to be safe anywhere."""
    known = context.circuits
    nearest = Nearest(lambda: known)
    for path, circuit, what, label, of in _circuits(family):
        if circuit not in known:
            yield problem(family, path, what, label=label, of=of, circuit=circuit, near=nearest(circuit))
        elif known[circuit].is_open:
            yield problem(family, path, f"{what}_open", label=label, of=of, circuit=circuit)


def _circuits(family: Family) -> Iterator[tuple[KeyPath, str, str, str, str]]:
    for part in family.designs:
        for label, circuit in (part.pins or {}).items():
            yield (*part.home("pins"), "pins", label), circuit, "pin", label, part.number
    for plug in family.plugs.values():
        for path, wire in plug.each():
            if wire.circuit is not None:
                yield (*path, "circuit"), wire.circuit, "wire", wire.cavity, plug.name


_NOT_LISTED = " is said to be {circuit}, which is not on the list of circuits"
_OPEN = (
    " is said to be {circuit}, a safety circuit of which schema/circuits.json does not say in which positions it may be joined; "
    "no part is known to be safe there"
)
_CHOOSE = [NEAR, "choose one from schema/circuits.json, or add it there with its role and plain name"]
_SAY = 'write `"joined_in"` for {circuit} in schema/circuits.json: the positions, as in `["P", "N"]`, or `"any"`'

MESSAGES = {
    "pin": Told(["pin {label} of {of}", _NOT_LISTED], _CHOOSE),
    "wire": Told(["the wire in cavity {label} of the plug {of}", _NOT_LISTED], _CHOOSE),
    "pin_open": Told(["pin {label} of {of}", _OPEN], _SAY),
    "wire_open": Told(["the wire in cavity {label} of the plug {of}", _OPEN], _SAY),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Circuits, check_family), messages=MESSAGES)
