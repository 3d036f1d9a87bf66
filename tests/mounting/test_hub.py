"""Where the hub stands: bolts and hub have to agree at one turn, in each position of the lever.

Against an independent scan that turns the candidate by hundredths of a degree, and for what is left out against the many things that it
could be.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest

from rangebook.book.model import Bolt, Hub, Mount, Shaft
from rangebook.mounting.fit import MountFit, fit_mounts
from rangebook.mounting.hub import detents
from rangebook.mounting.index import MountIndex, geometry_of
from rangebook.reasons.codes import DetentsDiffer, HubElsewhere, HubNotStated
from rangebook.reasons.reason import Side

SHAFT = Shaft("double-flat", 9.5)
LEVER = ("P", "R", "N", "D")
BOLTS = (Bolt(38, 0, 6, 6.6, 14, 4), Bolt(38, 150, 6, 6.6, 14, 4))
STEPS = (18.0, 16.0, 16.0)


def mount(
    named: str | None = "N",
    at: float | None = 35,
    steps: tuple[float, ...] = STEPS,
    positions: tuple[str, ...] = LEVER,
    bolts: tuple[Bolt, ...] = BOLTS,
) -> Mount:
    return Mount("m", SHAFT, bolts, None, (), Hub(named, at, steps), positions)


def turned(degrees: float) -> tuple[Bolt, ...]:
    return tuple(replace(bolt, at_deg=bolt.at_deg + degrees) for bolt in BOLTS)


def ask(seat: Mount, candidate: Mount, lever: tuple[str, ...] = LEVER) -> MountFit:
    return fit_mounts(seat, candidate, lever=lever)


def codes(fit: MountFit) -> list[str]:
    return [reason.code for reason in fit.reasons]


def test_the_angle_in_each_position_follows_from_the_one_that_was_looked_at() -> None:
    # Reckoned by hand: N is at 35, R 16 before it, P 18 before that, D 16 after it.
    assert detents(mount()) == {"P": 1, "R": 19, "N": 35, "D": 51}
    assert detents(mount(steps=(-18, -16, -16))) == {"P": 69, "R": 51, "N": 35, "D": 19}
    assert detents(mount(steps=())) == {"N": 35}


@pytest.mark.parametrize(
    "hub",
    [
        Hub("M", 35, STEPS),
        Hub("N", 35, (18, 16)),
        Hub("N", 35, (18, 16, 16, 16)),
        Hub("N", 35, (18, -16, 16)),
        Hub("N", 35, (18, 0, 16)),
        Hub("N", 35, (170, 170, 170)),
    ],
)
def test_what_cannot_be_is_not_taken_for_stated(hub: Hub) -> None:
    wrong = replace(mount(), hub=hub)
    assert detents(wrong) == {}
    assert codes(ask(mount(), wrong)) == ["mount.hub_not_stated"]


def test_a_bolt_circle_turned_by_120_degrees_takes_the_hub_with_it() -> None:
    assert codes(ask(mount(), mount(bolts=turned(120)))) == ["mount.hub_elsewhere"]
    assert ask(mount(), mount(at=155, bolts=turned(120))).fits is True


def test_the_hub_may_be_off_by_what_the_slots_and_the_protractor_give() -> None:
    # Half a slot is 7 degrees, the clearance of 0.3 mm on 38 mm gives 0.45 (2 asin(0.15 / 38)), the protractor 2.
    assert ask(mount(), mount(at=35 + 9.4)).fits is True
    fit = ask(mount(), mount(at=35 + 9.5))
    assert fit.fits is False and [one.detail for one in fit.reasons] == [HubElsewhere("N", 35, 44.5)]
    # In the slots' travel alone, with plain holes, there is next to none.
    plain = tuple(replace(bolt, slot_deg=0) for bolt in BOLTS)
    assert ask(mount(), mount(at=37, bolts=plain)).fits is True
    assert ask(mount(), mount(at=40, bolts=plain)).fits is False


def test_it_is_the_angle_that_counts_whatever_position_was_looked_at() -> None:
    assert ask(mount(), mount(named="P", at=1)).fits is True
    assert ask(mount(), mount(named="P", at=1 - 360)).fits is True
    assert ask(mount(), mount(named="P", at=35)).fits is False


def test_a_lever_the_other_way_round() -> None:
    fit = ask(mount(), mount(steps=(-18, -16, -16)))
    assert fit.fits is False and isinstance(fit.reasons[0].detail, DetentsDiffer)
    # Written from the other end it is the same lever.
    assert ask(mount(), mount(steps=(-16, -16, -18), positions=("D", "N", "R", "P"))).fits is True


def test_another_order_is_seen_without_any_hub() -> None:
    bare, other = (replace(mount(), hub=None, positions=tuple(order)) for order in ("PRND", "PNRD"))
    assert codes(ask(bare, other)) == ["mount.order_differs"]
    assert codes(ask(bare, replace(bare, positions=("D", "N", "R", "P")))) == ["mount.hub_not_stated"]


def test_a_detent_more_in_between_leaves_the_names_behind_it_where_they_were_or_does_not_fit() -> None:
    more = ("P", "R", "N", "D", "S")
    between = ("P", "R", "N", "S", "D")
    assert ask(mount(), mount(steps=(*STEPS, 16), positions=more)).fits is True
    assert ask(mount(), mount(steps=(18, 16, 8, 8), positions=between, bolts=tuple(replace(one, slot_deg=7) for one in BOLTS))).fits is True
    assert codes(ask(mount(), mount(steps=(*STEPS, 16), positions=between))) == ["mount.detents_differ"]


def test_only_the_positions_of_the_lever_count() -> None:
    long = ("P", "R", "N", "D", "2", "1")
    seat = mount(steps=(*STEPS, 16, 16), positions=long)
    candidate = mount(steps=(*STEPS, 24, 24), positions=long)
    assert ask(seat, candidate, LEVER).fits is True
    assert ask(seat, candidate, long).fits is False


def test_what_is_not_stated_is_unknown_and_whose_it_is_is_told() -> None:
    bare = replace(mount(), hub=None)
    for seat, candidate, side in ((bare, mount(), Side.ORIGINAL), (mount(), bare, Side.CANDIDATE), (bare, bare, Side.BOTH)):
        fit = ask(seat, candidate)
        assert fit.fits is None and [(one.detail, one.subject.side) for one in fit.reasons] == [(HubNotStated("N"), side)]
    assert fit_mounts(bare, bare, same_name=True, lever=LEVER).fits is True


def test_half_of_a_hub_refuses_what_it_can_and_no_more() -> None:
    assert codes(ask(mount(), mount(steps=()))) == ["mount.hub_not_stated"]
    assert codes(ask(mount(), mount(at=155, steps=()))) == ["mount.hub_elsewhere"]
    assert codes(ask(mount(), mount(named=None, at=None))) == ["mount.hub_not_stated"]
    assert codes(ask(mount(), mount(named=None, at=None, steps=(18, 26, 16)))) == ["mount.detents_differ"]


# Random mounts ---------------------------------------------------------------------------------------------------------------

TURNS = np.arange(0, 360, 0.01)


def apart(degrees: np.ndarray) -> np.ndarray:
    return np.abs((degrees + 180) % 360 - 180)


def marks(one: Mount) -> dict[str, float]:
    """The hub's mark by position, added up step by step from the one that was looked at."""
    at = one.positions.index(one.hub.position)
    found = {}
    for index, position in enumerate(one.positions):
        low, high = sorted((at, index))
        way = sum(one.hub.steps_deg[low:high])
        found[position] = one.hub.at_deg + (way if index > at else -way)
    return found


def scanned(seat: Mount, candidate: Mount, lever: tuple[str, ...], slack: float) -> bool:
    """Whether at some hundredth of a degree each bolt is in a hole of its own with an equal spacer and the hub right in each position."""
    here, there = marks(seat), marks(candidate)
    good = np.ones(len(TURNS), bool)
    for position in lever:
        good &= apart(here[position] - there[position] - TURNS) <= 2 + slack
    for holes in itertools.permutations(candidate.bolts, len(seat.bolts)):
        left = good.copy()
        for bolt, hole in zip(seat.bolts, holes, strict=True):
            if abs(bolt.spacer_mm - hole.spacer_mm) > 0.5:
                left[:] = False
                break
            beyond = np.maximum(apart(bolt.at_deg - hole.at_deg - TURNS) - hole.slot_deg / 2, 0)
            square = bolt.at_mm**2 + hole.at_mm**2 - 2 * bolt.at_mm * hole.at_mm * np.cos(np.radians(beyond))
            # A hundredth of a degree on 50 mm is less than 0.01 mm.
            left &= np.sqrt(np.maximum(square, 0)) <= (hole.hole_mm - bolt.bolt_mm) / 2 + slack
        if left.any():
            return True
    return False


def random_pair(rng: random.Random) -> tuple[Mount, Mount, tuple[str, ...]]:
    """A mount, and one like it: turned, with some of its figures changed a little or much."""
    positions = tuple("PRND21"[: rng.randint(3, 6)])
    way = rng.choice((1, -1))
    steps = tuple(way * rng.choice((16, 18, 20, 25)) for _ in positions[1:])
    count = rng.randint(1, 3)
    bolts = tuple(
        Bolt(rng.choice((30, 38, 45)), rng.choice((0, 40, 95, 120, 180, 240)), 6, 6.6, rng.choice((0, 8, 14)), rng.choice((0, 0, 4)))
        for _ in range(count)
    )
    seat = Mount("a", SHAFT, bolts, None, (), Hub(rng.choice(positions), rng.uniform(-180, 180), steps), positions)
    turn = rng.choice((0, 0, 120, 180, rng.uniform(0, 360)))
    holes = [replace(one, at_deg=one.at_deg + turn + rng.choice((0, 0, 3, 8, 120)), spacer_mm=one.spacer_mm) for one in bolts]
    if rng.random() < 0.3:
        holes.append(Bolt(33, rng.uniform(0, 360), 6, 6.6, 0, 0))
    rng.shuffle(holes)
    own = positions
    their = list(steps)
    change = rng.randrange(6)
    if change == 0:
        their = [-one for one in their]
    elif change == 1:
        index = rng.randrange(len(their))
        their[index] += rng.choice((-1, 1)) * rng.choice((1, 3, 5, 12))
    elif change == 2:  # a detent more in between
        index = rng.randrange(len(their))
        own = (*positions[: index + 1], "S", *positions[index + 1 :])
        half = their[index] / 2
        their[index : index + 1] = [half, half] if rng.random() < 0.5 else [their[index], their[index]]
    named = rng.choice(own)
    at = marks(replace(seat, positions=own, hub=Hub(seat.hub.position, seat.hub.at_deg, tuple(their))))[named]
    at += turn + rng.choice((0, 0, 0, 1, 5, 9, 15, 120))
    candidate = Mount("b", SHAFT, tuple(holes), None, (), Hub(named, (at + 180) % 360 - 180, tuple(their)), own)
    lever = positions if rng.random() < 0.7 else positions[:-1]
    return seat, candidate, lever


@pytest.mark.parametrize("chunk", range(4))
def test_against_turning_it_by_hundredths_of_a_degree(chunk: int) -> None:
    decided = {True: 0, False: 0}
    for number in range(40):
        seat, candidate, lever = random_pair(random.Random(f"hub {chunk} {number}"))
        fit = ask(seat, candidate, lever)
        if fit.fits is None:
            assert "mount.slot_too_long" in codes(fit), (chunk, number, fit)
            continue
        # The slack takes the steps of the scan out of the question.
        if scanned(seat, candidate, lever, -0.02):
            assert fit.fits is True, (chunk, number, fit)
        elif not scanned(seat, candidate, lever, 0.02):
            assert fit.fits is False, (chunk, number, fit)
        decided[fit.fits] += 1
        if fit.fits:
            # However a lever is cut, what is looked up beforehand leaves nothing out that fits.
            index = MountIndex([geometry_of(candidate)])
            assert index.takers(geometry_of(seat)) == [geometry_of(candidate)]
    assert min(decided.values()) >= 1, decided


def less(rng: random.Random, one: Mount) -> Mount:
    """The same with some facts not stated."""
    hub = rng.choice((one.hub, one.hub, None, replace(one.hub, steps_deg=()), replace(one.hub, position=None, at_deg=None)))
    return replace(
        one, hub=hub, bolts=tuple(replace(bolt, spacer_mm=rng.choice((bolt.spacer_mm, bolt.spacer_mm, None))) for bolt in one.bolts)
    )


def completed(rng: random.Random, left: Mount, whole: Mount) -> Iterator[Mount]:
    """What a mount may be of which ``left`` is stated: as it is, then otherwise."""
    yield whole
    for _ in range(6):
        hub = Hub(
            left.hub.position if left.hub and left.hub.position else rng.choice(whole.positions),
            left.hub.at_deg if left.hub and left.hub.at_deg is not None else rng.uniform(-180, 180),
            left.hub.steps_deg if left.hub and left.hub.steps_deg else tuple(rng.choice((16, 18, 25)) for _ in whole.positions[1:]),
        )
        bolts = tuple(replace(bolt, spacer_mm=rng.choice((0, 2, 4)) if bolt.spacer_mm is None else bolt.spacer_mm) for bolt in left.bolts)
        yield replace(whole, hub=hub, bolts=bolts)


@pytest.mark.parametrize("chunk", range(3))
def test_a_verdict_stands_whatever_the_facts_that_are_left_out_turn_out_to_be(chunk: int) -> None:
    found = {True: 0, False: 0, None: 0}
    for number in range(50):
        rng = random.Random(f"left out {chunk} {number}")
        seat, candidate, lever = random_pair(rng)
        lacking = tuple(less(rng, one) if rng.random() < 0.5 else one for one in (seat, candidate))
        fits = ask(*lacking, lever).fits
        found[fits] += 1
        if fits is None:
            continue
        for one, other in zip(completed(rng, lacking[0], seat), completed(rng, lacking[1], candidate), strict=True):
            assert ask(one, other, lever).fits is fits, (chunk, number)
    assert min(found.values()) >= 1, found
