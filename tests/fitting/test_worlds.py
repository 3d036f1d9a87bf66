"""Random worlds against the engine, a few of each run; :mod:`tests.fitting.worlds` tries as many as one likes.

And the reckoning itself: where the engine forgets a law it has to say so.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace

import pytest

from rangebook.book.book import Book
from rangebook.book.model import Part, Sockets
from rangebook.fitting import check_mating, check_needs, judge
from rangebook.fitting.mating import Way
from tests.fitting.worlds import disagreements

BOOKS = (930039, 930058)


def found(books: Iterable[int] = BOOKS) -> tuple[list[str], Counter[tuple[str, str]]]:
    counts: Counter[tuple[str, str]] = Counter()
    return [line for seed in books for line in disagreements(seed, counts)], counts


@pytest.mark.slow
def test_no_verdict_is_wrong_in_its_world() -> None:
    lines, counts = found()
    assert not lines
    for of in ("fans", "together"):
        assert counts[of, "no"] and counts[of, "unknown"], counts
        assert counts[of, "with_parts"] + counts[of, "straight"] + counts[of, "rewire"], counts


def forget_fans(patch: pytest.MonkeyPatch) -> None:
    plain = check_mating.loops_in
    patch.setattr(check_mating, "loops_in", lambda plug, leg: [loop for loop in plain(plug, leg) if not any(kit.fans for kit in leg.kits)])


def move_fanned(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(Way, "fans", lambda self, wires: [])


def forget_companions(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(check_needs, "with_others", lambda book, plugs, part, numbers: part)


def forget_their_contacts(patch: pytest.MonkeyPatch) -> None:
    plain = check_needs.with_others

    def bare(book: Book, plugs: Sockets, part: Part, numbers: Iterable[str]) -> Part:
        whole = plain(book, plugs, part, numbers)
        own = len(part.contacts or ())
        never = tuple(replace(one, closed=frozenset(), listed=(), ohms=None) for one in (whole.contacts or ())[own:])
        return replace(whole, contacts=(*(part.contacts or ()), *never)) if whole.joined and whole.contacts else whole

    patch.setattr(check_needs, "with_others", bare)


def forget_mounts(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(judge, "check_mounts", lambda book, seat, whole, way: [])


def forget_needs(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(judge, "also_needed", lambda book, seat, part: ())


@pytest.mark.parametrize(
    ("forget", "seed"),
    [
        (forget_fans, 930034),
        (move_fanned, 920045),
        (forget_companions, 930024),
        (forget_their_contacts, 930039),
        (forget_mounts, 930024),
        (forget_needs, 930024),
    ],
)
def test_the_reckoning_sees_what_is_forgotten(
    forget: Callable[[pytest.MonkeyPatch], None], seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    forget(monkeypatch)
    assert found([seed])[0]
