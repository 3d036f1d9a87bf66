"""The insulation of the outputs that can hurt someone: one of them against all other pins and the housing, tied together.

Contacts are proved pair by pair; a path that no entry states (a bridge of brass dust, water in the housing, a bent blade) can lie
between any two pins. With all others tied together one probe sees every path of an output, whatever it leads to.

Common practice, no source: the meter on its highest range, the ohms of an open contact as the limit.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from rangebook.book.model import CASE, Circuit, Part
from rangebook.electrics.behaviour import PinOf
from rangebook.electrics.bundles import Bundle, bundle_relations, bundles_of
from rangebook.electrics.relation import JOINED, OPEN, UNKNOWN, PathKind, Relation
from rangebook.electrics.safety import danger_of, is_guarded
from rangebook.reasons.codes import Danger

OTHERS = "others"
"""All other terminals tied together, as the second end of a probe. Longer than the label of any cavity."""

Known = Mapping[str, Collection[Circuit]]
"""Terminal -> all circuits that it is known as. Which of them may be joined to others in some positions only, says the list of circuits."""

_ORDER = (Danger.STARTER, Danger.BACKUP, Danger.OTHER)


@dataclass(frozen=True, slots=True)
class Insulation:
    """One probe between ``terminal`` and the terminals of ``tied`` joined by a wire.

    ``left_out`` are those that lead into electronics, which a tie could harm. ``expected`` is what to read in each position: outside
    those in which the output may be joined that is nothing, whatever the entry says."""

    terminal: str
    tied: tuple[str, ...]
    left_out: tuple[str, ...]
    expected: tuple[Relation, ...]


def outputs_of(pin_of: PinOf, circuits: Known) -> dict[str, frozenset[str]]:
    """Terminal of a guarded circuit -> the positions in which it may be joined to anything: with several such circuits those that all of
    them allow. The starter's come first, then the backup lamps'."""
    guards = {one: [circuit for circuit in circuits.get(one, ()) if is_guarded(circuit)] for one, _ in pin_of}
    told = sorted((min(_ORDER.index(danger_of(guard)) for guard in of), at, one) for at, (one, of) in enumerate(guards.items()) if of)
    return {one: frozenset.intersection(*(guard.joined_in or frozenset() for guard in guards[one])) for _, _, one in told}


def circuits_of(part: Part, listed: Mapping[str, Circuit]) -> dict[str, tuple[Circuit, ...]]:
    """What a part itself says of its pins, as the list of circuits has it."""
    return {pin: (listed[name],) for pin, name in (part.pins or {}).items() if name in listed}


def insulation(part: Part, pin_of: PinOf, positions: tuple[str, ...], circuits: Known) -> tuple[tuple[Insulation, ...], tuple[str, ...]]:
    """The insulation probes of a part at the given terminals, and the outputs that are not to be measured, being electronics."""
    probes, deferred = [], []
    met = dict(met_pins(part, pin_of))
    for terminal, may in outputs_of(pin_of, circuits).items():
        if terminal not in met:
            continue
        tied = tied_to(part, met, terminal)
        if met[terminal] in powered_pins(part):
            deferred.append(terminal)
        elif tied:
            found = read_against(part, met[terminal], frozenset(met[one] for one in tied), positions)
            expected = tuple(row if at in may else OPEN for at, row in zip(positions, found, strict=True))
            left_out = tuple(one for one in met if one != terminal and one not in tied)
            probes.append(Insulation(terminal, tied, left_out, expected))
    return tuple(probes), tuple(deferred)


def met_pins(part: Part, pin_of: PinOf) -> Iterator[tuple[str, str]]:
    """The terminals that meet a pin of the part or its housing."""
    for terminal, pin in pin_of:
        if pin is not None and (pin == CASE or part.pins is None or pin in part.pins):
            yield terminal, pin


def powered_pins(part: Part) -> set[str]:
    """Pins behind which there are electronics."""
    return {pin for one in part.signals for pin in (one.pin, one.supply, one.ground) if pin}


def tied_to(part: Part, met: Mapping[str, str], terminal: str) -> tuple[str, ...]:
    """All others that can be tied together. On a part with electronics only those of which it is known that they are no part of them."""
    listed = bundles_of(part).listed
    powered = powered_pins(part)
    return tuple(
        one
        for one, pin in met.items()
        if one != terminal and pin != met[terminal] and (not powered or (pin in listed and pin not in powered))
    )


def read_against(part: Part, pin: str, others: frozenset[str], positions: tuple[str, ...]) -> tuple[Relation, ...]:
    """What a meter reads between one pin and several that are tied together, by position, from what is stated."""
    bundles = bundles_of(part)
    row = read_in(bundles.of.get(pin), pin, others, positions)
    # A pin of which nothing is stated may be joined to any; and a path beside electronics is no sure resistance.
    if not bundles.listed.issuperset({pin, *others}):
        return tuple(one if one is JOINED else UNKNOWN for one in row)
    return tuple(UNKNOWN if one.path is PathKind.OHMS else one for one in row) if part.signals else row


def read_in(bundle: Bundle | None, pin: str, others: frozenset[str], positions: tuple[str, ...]) -> tuple[Relation, ...]:
    """The same within one bundle of contacts; beyond it there is no path."""
    tied = tuple(node for node in bundle.nodes if node in others) if bundle else ()
    if bundle is None or not tied:
        return (OPEN,) * len(positions)
    return bundle_relations(_with_tie(bundle, tied, positions), (pin, tied[0]), positions).get((pin, tied[0])) or (OPEN,) * len(positions)


@lru_cache(maxsize=2_048)
def _with_tie(bundle: Bundle, tied: tuple[str, ...], positions: tuple[str, ...]) -> Bundle:
    """A bundle with a wire between some of its nodes. The contacts that it bridges are left out: they change nothing any more."""
    contacts = [one for one in bundle.contacts if not {one.a, one.b} <= set(tied)]
    first, *more = tied
    like = bundle.contacts[0]
    contacts += [replace(like, a=first, b=one, closed=frozenset(positions), ohms=None, overlaps=(), one_way=False) for one in more]
    return Bundle(bundle.nodes, tuple(contacts))
