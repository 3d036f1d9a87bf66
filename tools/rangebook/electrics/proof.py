"""Proving a switch with a meter: the fewest probe pairs, in the order with the fewest moves of a probe, and what to read.

What a wrong reading tells is in ``diagnosis``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations
from types import MappingProxyType

from rangebook.book.model import Contact, Part
from rangebook.electrics.behaviour import PinOf, behaviour
from rangebook.electrics.bundles import INFINITE, Bundle, bundle_relations, bundles_of, contact_ohms
from rangebook.electrics.insulation import OTHERS, Insulation, Known, insulation
from rangebook.electrics.relation import OPEN, PathKind, Relation, agree

EXACT_UP_TO = 24
"""With more probe pairs than this to choose from in one bundle, they are chosen one by one instead (no longer surely fewest)."""

MOST_CHOICES = 3_000
"""So many steps are made at most to find fewer moves among choices of equally few pairs."""

ORDERED_UP_TO = 8
"""With more pairs than this that hang together their order is not surely the one with the fewest moves."""

Pair = tuple[str, str]

READ = frozenset({PathKind.JOINED, PathKind.OPEN, PathKind.OHMS})
"""What an ohmmeter reads. What it shows across a diode goes by the meter."""


@dataclass(frozen=True, slots=True)
class Probe:
    """Two terminals to hold the meter to, and what to read in each position."""

    a: str
    b: str
    expected: tuple[Relation, ...]


@dataclass(frozen=True, slots=True)
class ProofSheet:
    """The probe pairs that prove every contact. ``unproved`` are contacts, by their ends, and positions that no pair of
    these terminals can prove: nothing that can be measured there depends on them. ``unstated`` are contacts whose state is
    not stated in some position, ``asked`` the pairs at which it can be read what they do. ``exact`` is false where the pairs are
    not surely the fewest. ``insulation`` are the probes of the outputs that can hurt someone, ``deferred`` those outputs that cannot
    be measured so, being electronics."""

    positions: tuple[str, ...]
    probes: tuple[Probe, ...]
    unproved: tuple[tuple[Pair, tuple[str, ...]], ...]
    unstated: tuple[Pair, ...]
    exact: bool
    insulation: tuple[Insulation, ...]
    deferred: tuple[str, ...]
    asked: tuple[Probe, ...]

    @property
    def lines(self) -> tuple[Probe, ...]:
        """All that is to be read: the probe pairs, then each insulation probe with ``OTHERS`` as its second end, then what is asked and is
        no probe pair."""
        insulated = (Probe(one.terminal, OTHERS, one.expected) for one in self.insulation)
        return (*self.probes, *insulated, *(one for one in self.asked if one not in self.probes))


def proof_sheet(part: Part, pin_of: PinOf, positions: tuple[str, ...], circuits: Known) -> ProofSheet:
    """The fewest probe pairs, each read in every position, that would show any one contact stuck open or closed, and the insulation
    of what the list of circuits guards: the starter's and the backup lamps' outputs, and whatever else a book's own list says.

    ``pin_of`` are the terminals that can be got at: all pins on the bench, only those with a wire at the vehicle's plug; ``circuits``
    are all that each is known as.
    """
    terminal_of = {pin: terminal for terminal, pin in pin_of if pin is not None}
    probes: list[Probe] = []
    unproved: list[tuple[Pair, tuple[str, ...]]] = []
    unstated: list[Pair] = []
    exact = True
    bundles = {id(bundle): bundle for bundle in bundles_of(part).of.values()}
    for bundle in bundles.values():
        pairs = list(combinations([node for node in bundle.nodes if node in terminal_of], 2))
        wanted, covers = _coverage(bundle, pairs, positions)
        unstated += [(one.a, one.b) for one in bundle.contacts if any(contact_ohms(one, at) is None for at in positions)]
        provable = {item for pair in pairs for item in covers[pair]}
        unproved += _missing(bundle, wanted - provable, positions)
        exact = exact and len(pairs) <= EXACT_UP_TO
        for a, b in _fewest(provable, pairs, covers):
            one, other = terminal_of[a], terminal_of[b]
            probes.append(Probe(one, other, behaviour(part, ((one, a), (other, b)), positions).between(one, other)))
    against = insulation(part, pin_of, positions, circuits)
    asked: dict[frozenset[str], Probe] = {}
    for a, b in unstated:
        if a in terminal_of and b in terminal_of:
            one, other = terminal_of[a], terminal_of[b]
            own = next((probe for probe in probes if {probe.a, probe.b} == {one, other}), None)
            read = own or Probe(one, other, behaviour(part, ((one, a), (other, b)), positions).between(one, other))
            asked.setdefault(frozenset((one, other)), read)
    return ProofSheet(positions, tuple(probes), tuple(unproved), tuple(unstated), exact, *against, tuple(asked.values()))


Item = tuple[int, str]
"""A contact of a bundle, by its index, in a position."""


def _coverage(bundle: Bundle, pairs: Sequence[Pair], positions: tuple[str, ...]) -> tuple[set[Item], dict[Pair, set[Item]]]:
    """What is to be proved, and what each pair proves: its reading would change if the contact were in its other state."""
    wanted: set[Item] = set()
    covers: dict[Pair, set[Item]] = {pair: set() for pair in pairs}
    good = {pair: read_alone(bundle, pair, positions) for pair in pairs}
    for index, contact in enumerate(bundle.contacts):
        stated = [(at, position, ohms) for at, position in enumerate(positions) if (ohms := contact_ohms(contact, position)) is not None]
        wanted.update((index, position) for _, position, _ in stated)
        for closed in (False, True):
            # Where it should be open it may be stuck closed, and the other way round.
            concerned = [(at, position) for at, position, ohms in stated if (ohms == INFINITE) is closed]
            if not concerned:
                continue
            flipped = stuck_in(bundle, index, closed)
            for pair in pairs:
                row, bad = good[pair], read_alone(flipped, pair, positions)
                covers[pair].update(
                    (index, position)
                    for at, position in concerned
                    if PathKind.UNKNOWN not in (row[at].path, bad[at].path) and not agree(row[at], bad[at])
                )
    return wanted, covers


def read_alone(bundle: Bundle, pair: Pair, positions: tuple[str, ...]) -> tuple[Relation, ...]:
    """What a meter reads between two nodes of a bundle, by position, with nothing else connected."""
    return bundle_relations(bundle, pair, positions).get(pair) or (OPEN,) * len(positions)


@lru_cache(maxsize=2_048)
def stuck_in(bundle: Bundle, index: int, closed: bool) -> Bundle:
    """A bundle with one of its contacts, by its place, stuck. The same one each time, so that what it reads is computed once."""
    return Bundle(bundle.nodes, (*bundle.contacts[:index], stuck(bundle.contacts[index], closed), *bundle.contacts[index + 1 :]))


class _Always(frozenset[str]):
    """Every position there is."""

    def __contains__(self, _: object) -> bool:
        return True


def stuck(contact: Contact, closed: bool) -> Contact:
    """A contact that is closed, or open, in every position."""
    return replace(contact, closed=_Always() if closed else frozenset(), ohms=None, overlaps=())


def _fewest(wanted: set[Item], pairs: Sequence[Pair], covers: Mapping[Pair, set[Item]]) -> list[Pair]:
    """The fewest pairs that cover all that is wanted, and of several such choices the one with the fewest moves of a probe, in that order:
    exact by branch and bound, or one by one where there are too many."""
    useful = [pair for pair in pairs if covers[pair]]
    best = in_order(_greedy(wanted, useful, covers))
    if len(pairs) > EXACT_UP_TO:
        return best
    steps = 0

    def search(left: set[Item], chosen: list[Pair]) -> None:
        nonlocal best, steps
        steps += 1
        if not left:
            found = in_order(chosen)
            if (len(found), moves(found)) < (len(best), moves(best)):
                best = found
            return
        most = max(len(covers[pair] & left) for pair in useful)
        needed = len(chosen) + -(-len(left) // most)
        # As few moves as there can be, or looked for long enough: only fewer pairs are of interest.
        if needed > len(best) or (needed == len(best) and (moves(best) == len(best) + 1 or steps > MOST_CHOICES)):
            return
        item = min(left, key=lambda one: (sum(one in covers[pair] for pair in useful), one))
        for pair in useful:
            if item in covers[pair]:
                search(left - covers[pair], [*chosen, pair])

    search(wanted, [])
    return best


def moves(pairs: Sequence[Pair]) -> int:
    """How often a probe is put somewhere for these pairs in this order: two for the first, then one for each end that the last had not."""
    return sum(2 - len({*pair} & {*last}) for last, pair in zip(((), *pairs), pairs, strict=False))


def in_order(pairs: Sequence[Pair]) -> list[Pair]:
    """The pairs in the order with the fewest moves of a probe; surely the fewest where no more than ``ORDERED_UP_TO`` hang together."""
    found: list[Pair] = []
    left = list(pairs)
    while left:
        together, grown = [left[0]], True
        while grown:
            more = [pair for pair in left if pair not in together and any({*pair} & {*one} for one in together)]
            together, grown = [*together, *more], bool(more)
        together.sort(key=left.index)
        left = [pair for pair in left if pair not in together]
        found += _in_one_go(together)
    return found


def _in_one_go(pairs: list[Pair]) -> list[Pair]:
    """The same of pairs that hang together: each has an end in common with the last, but for as few breaks as can be."""
    best = min((_by_the_rarest(pairs, first) for first in pairs), key=moves)
    if len(pairs) > ORDERED_UP_TO:
        return best

    def search(order: list[Pair], left: list[Pair], breaks: int) -> list[Pair] | None:
        if not left:
            return order
        for pair in left:
            apart = bool(order) and not {*pair} & {*order[-1]}
            if apart <= breaks and (found := search([*order, pair], [one for one in left if one != pair], breaks - apart)):
                return found
        return None

    fewest = len(pairs) + 1
    return next((found for breaks in range(moves(best) - fewest) if (found := search([], pairs, breaks))), best)


def _by_the_rarest(pairs: list[Pair], first: Pair) -> list[Pair]:
    """From one pair always on to the neighbour that has the fewest others left: a good order, seldom not the best."""
    order, left = [first], [one for one in pairs if one != first]
    while left:
        near = [one for one in left if {*one} & {*order[-1]}] or left
        order.append(min(near, key=lambda one: sum(bool({*one} & {*other}) for other in left)))
        left.remove(order[-1])
    return order


def _greedy(wanted: set[Item], pairs: Sequence[Pair], covers: Mapping[Pair, set[Item]]) -> list[Pair]:
    left, chosen = set(wanted), []
    while left:
        pair = max(pairs, key=lambda one: len(covers[one] & left))
        chosen.append(pair)
        left -= covers[pair]
    return chosen


def _missing(bundle: Bundle, items: set[Item], positions: Sequence[str]) -> Iterator[tuple[Pair, tuple[str, ...]]]:
    for index, contact in enumerate(bundle.contacts):
        where = tuple(position for position in positions if (index, position) in items)
        if where:
            yield (contact.a, contact.b), where


@dataclass(frozen=True, slots=True)
class Telling:
    """One probe pair that tells two parts apart: what each reads, in the positions in which they differ."""

    a: str
    b: str
    readings: Mapping[str, tuple[Relation, Relation]]


def tell_apart(one: Part, other: Part, terminals: Sequence[str], positions: tuple[str, ...]) -> Telling | None:
    """The one probe pair that tells two parts apart best, or ``None`` if none surely does.

    A pair that is open on one and closed on the other is better than one where resistances have to be told apart; then the
    pair that differs in most positions. More than one pair is never needed.
    """
    found: list[tuple[tuple[int, int], Telling]] = []
    for a, b in combinations(terminals, 2):
        pins = ((a, a), (b, b))
        left, right = behaviour(one, pins, positions).between(a, b), behaviour(other, pins, positions).between(a, b)
        differ = {
            position: (x, y)
            for position, x, y in zip(positions, left, right, strict=True)
            if PathKind.UNKNOWN not in (x.path, y.path) and not agree(x, y) and not agree(y, x)
        }
        if differ:
            plain = sum(x.path is not y.path for x, y in differ.values())
            found.append(((plain, len(differ)), Telling(a, b, MappingProxyType(differ))))
    return max(found, key=lambda pair: pair[0])[1] if found else None
