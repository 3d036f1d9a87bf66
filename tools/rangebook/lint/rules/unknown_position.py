"""A lever position that the family's lever does not have.

Positions in ``contacts`` (``closed``, ``ohms``, ``overlaps``), in the ``values`` of ``signals``, in every ``set_in``, in ``means``, where
a plug or vehicle ``cranks``, and in an application's ``lever`` are among the family's ``positions``.

Why it matters: a contact that closes in a position that is never reached is compared with nothing; the position that was
meant stays open in every answer.

Fails:

    kind: switch
    fitting: {set_in: M, method: "pin the lever, then tighten", torque_nm: 9}

Mended:

    kind: switch
    fitting: {set_in: N, method: "pin the lever, then tighten", torque_nm: 9}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family, Mount, Part
from rangebook.fitting.contradictions import Slip, strange_in_contact, strange_in_lever, strange_in_signals
from rangebook.fitting.cranking import every_cranks
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding at each mention of a position that is not among the family's."""
    for slip, code, named in _strange(family, frozenset(family.positions)):
        (position,) = slip.names
        yield problem(
            family,
            slip.path,
            code,
            key=slip.path[-1] == position,
            **named,
            position=position,
            positions=some(family.positions),
        )


def _strange(family: Family, known: frozenset[str]) -> Iterator[tuple[Slip, str, dict[str, str]]]:
    """Each with what says it, and its names."""
    for part in family.designs:
        for contact in part.contacts or ():
            named = {"contact": f"{contact.a}-{contact.b}", "part": part.number}
            yield from ((slip, "contact", named) for slip in strange_in_contact(contact, known))
        yield from ((slip, "signal", {"part": part.number}) for slip in strange_in_signals(part, known))
    if family.fitting and family.fitting.set_in is not None and family.fitting.set_in not in known:
        yield Slip(("fitting", "set_in"), (family.fitting.set_in,)), "set_in", {}
    owners: tuple[Mount | Part, ...] = (*family.mounts.values(), *family.parts)
    for owner in owners:
        if owner.set_in is not None and owner.set_in not in known:
            yield Slip((*owner.path, "set_in"), (owner.set_in,)), "set_in", {}
    yield from ((Slip(("means", name), (name,)), "means", {}) for name in family.means if name not in known)
    for path, who, cranks in every_cranks(family):
        for index, position in enumerate(cranks.positions or ()):
            if position not in known:
                yield Slip((*path, "in", index), (position,)), f"cranks_{next(iter(who))}", {**who}
    for one in family.applications:
        yield from ((slip, "lever", {"vehicle": one.vehicle}) for slip in strange_in_lever(one, known))


_UNKNOWN = " the position {position}, which this lever does not have (`positions`: {positions|some})"
_FIX = "correct the position, or add {position} to `positions` in its place if the lever has it"

MESSAGES = {
    code: Told([said, _UNKNOWN], _FIX, beside=("positions",))
    for code, said in {
        "contact": "contact {contact} of {part} is stated for",
        "signal": "the signal of {part} is stated for",
        "set_in": "the switch is said to be set in",
        "lever": "the lever of {vehicle} is said to have",
        "means": "`means` speaks of",
        "cranks_plug": "the engine on the plug {plug} is said to crank in",
        "cranks_vehicle": "{vehicle} is said to crank in",
    }.items()
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
