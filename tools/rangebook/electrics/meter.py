"""What an ohmmeter shows between any two pins of a part in each lever position, nothing else connected."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations

from rangebook.book.model import CASE, Part
from rangebook.electrics.bundles import bundles_of, contact_ohms
from rangebook.electrics.network import Groups
from rangebook.electrics.proof import Pair, read_alone
from rangebook.electrics.relation import OPEN, UNKNOWN, PathKind, Relation


def meter_rows(part: Part, positions: tuple[str, ...]) -> dict[Pair, tuple[Relation, ...]]:
    """Readings by position between each two of a part's pins and the housing. Pairs that are open throughout are left out.

    A pin that nothing is stated about is not known against every other. Where powered electronics lie between two pins an ohmmeter
    tells nothing that is in the book, so that is not known either. Empty where the pins are not stated.
    """
    rows = contact_rows(part, positions)
    powered = [{pin for pin in (one.pin, one.supply, one.ground) if pin} for one in part.signals]
    if not powered or part.pins is None:
        return rows
    paths = (_possible_paths(part, position) for position in positions)
    groups = [(Groups(path), _with_electronics(path, powered)) for path in paths]
    found = {}
    for pair in combinations((*part.pins, CASE), 2):
        row = rows.get(pair, (OPEN,) * len(positions))
        row = tuple(UNKNOWN if _through_electronics(pair, one, *group, powered) else one for one, group in zip(row, groups, strict=True))
        if any(one.path is not PathKind.OPEN for one in row):
            found[pair] = row
    return found


def contact_rows(part: Part, positions: tuple[str, ...]) -> dict[Pair, tuple[Relation, ...]]:
    """The same by the contacts alone, as if there were no electronics."""
    if part.pins is None:
        return {}
    bundles = bundles_of(part)
    rows = {}
    for pair in combinations((*part.pins, CASE), 2):
        bundle, other = (bundles.of.get(end) for end in pair)
        if not bundles.listed.issuperset(pair):
            rows[pair] = (UNKNOWN,) * len(positions)
        elif bundle is not None and bundle is other:
            row = read_alone(bundle, pair, positions)
            if any(one.path is not PathKind.OPEN for one in row):
                rows[pair] = tuple(row)
    return rows


def _possible_paths(part: Part, position: str) -> list[Pair]:
    """The contacts that are, or may be, a path in a position."""
    return [(one.a, one.b) for one in part.contacts or () if contact_ohms(one, position) != float("inf")]


def _with_electronics(paths: Iterable[Pair], powered: Sequence[set[str]]) -> Groups:
    """What hangs together in a position when each output's electronics are taken for a path between its pins."""
    joined = Groups(paths)
    for pins in powered:
        first, *others = sorted(pins)
        for other in others:
            joined.join(first, other)
    return joined


def _through_electronics(pair: Pair, found: Relation, plain: Groups, joined: Groups, powered: Sequence[set[str]]) -> bool:
    """Whether the electronics of a powered output may have a part in what is read. Where two pins are joined they have none."""
    if found.path is PathKind.JOINED:
        return False
    if not joined.together(*pair):
        return False
    if not plain.together(*pair):
        return True
    # Electronics beside a resistance that is stated: between two points of one path.
    return any(sum(plain.together(pair[0], pin) for pin in pins) > 1 for pins in powered)
