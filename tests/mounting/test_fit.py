"""Bolt patterns: exact intervals against brute force, and what the trade knows."""

from __future__ import annotations

import itertools
import math
import random
from dataclasses import replace

import numpy as np
import pytest

from rangebook.book.model import Bolt, Hub, Mount, Shaft
from rangebook.mounting.arcs import around, both, width
from rangebook.mounting.fit import MountFit, fit_mounts, half_travel
from rangebook.mounting.index import geometry_of
from rangebook.reasons.codes import (
    BoltSizeNotStated,
    BoltsNotStated,
    MountNotStated,
    ShaftNotStated,
    SpacerDiffers,
    SpacerNotStated,
    SpareEar,
    SpareEarMayFoul,
)
from rangebook.reasons.reason import Detail, Side


def codes(fit: MountFit) -> list[str]:
    return [reason.code for reason in fit.reasons]


SHAFT = Shaft("double-flat", 9.5)


def bolt(
    at_mm: float = 38, at_deg: float = 0, slot: float = 14, spacer: float | None = 4, size: float | None = 6, hole: float | None = 6.6
) -> Bolt:
    return Bolt(at_mm, at_deg, size, hole, slot, spacer)


def mount(*bolts: Bolt, shaft: Shaft | None = SHAFT) -> Mount:
    return Mount("m", shaft, bolts, None, ())


def hubbed(
    *bolts: Bolt, at: float | None = 35, steps: tuple[float, ...] = (18, 16, 17), named: str = "N", positions: str = "PRND"
) -> Mount:
    return Mount("m", SHAFT, bolts, None, (), Hub(named if at is not None else None, at, steps), tuple(positions))


def brute_force(seat: Mount, candidate: Mount, extra_mm: float, step_deg: float = 0.1) -> bool:
    """Turn the candidate step by step and look whether each bolt's middle lies in a hole of its own: the distance from
    the bolt's middle to the hole's middle line, sampled, is no more than the clearance."""
    turns = int(360 / step_deg)
    inside = []
    for one in seat.bolts:
        bx, by = one.at_mm * math.cos(math.radians(one.at_deg)), one.at_mm * math.sin(math.radians(one.at_deg))
        row = []
        for hole in candidate.bolts:
            clearance = (hole.hole_mm - one.bolt_mm) / 2 + extra_mm
            steps = max(1, int(hole.slot_deg / step_deg))
            along = [hole.at_deg - hole.slot_deg / 2 + hole.slot_deg * step / steps for step in range(steps + 1)]
            a = np.radians(np.add.outer(np.arange(turns) * step_deg, along))
            away = np.hypot(bx - hole.at_mm * np.cos(a), by - hole.at_mm * np.sin(a))
            ok = set(np.flatnonzero((away <= clearance).any(axis=1)))
            same_spacer = abs((one.spacer_mm or 0) - (hole.spacer_mm or 0)) <= 0.5
            row.append(ok if same_spacer else set())
        inside.append(row)
    for holes in itertools.permutations(range(len(candidate.bolts)), len(seat.bolts)):
        common = set(range(turns))
        for index, hole in enumerate(holes):
            common &= inside[index][hole]
        if common:
            return True
    return False


@pytest.mark.slow
@pytest.mark.parametrize("chunk", range(6))
@pytest.mark.slow
def test_exact_intervals_against_turning_it_step_by_step(chunk: int) -> None:
    decided = set()
    for number in range(10):
        rng = random.Random(chunk * 10 + number)
        count = rng.randint(1, 3)
        seat = mount(
            *(bolt(rng.choice([30, 38, 38.2, 41]), rng.choice([0, 40, 95, 150, 200, 300]), 0, rng.choice([0, 4])) for _ in range(count))
        )
        turn, mirror = rng.uniform(0, 360), rng.random() < 0.2
        holes = [
            bolt(
                one.at_mm + rng.choice([0, 0, 0.1, 0.5]),
                (-one.at_deg if mirror else one.at_deg) + turn + rng.choice([0, 0, 3, 8]),
                rng.choice([0, 6, 14]),
                one.spacer_mm,
            )
            for one in seat.bolts
        ] + [bolt(33, rng.uniform(0, 360), spacer=0)] * rng.randint(0, 1)
        rng.shuffle(holes)
        candidate = mount(*holes)
        fits = fit_mounts(seat, candidate).fits
        # The margin takes the steps of the brute force out of the question.
        if brute_force(seat, candidate, -0.04):
            assert fits is True, (chunk, number)
        elif not brute_force(seat, candidate, 0.04):
            assert fits is False, (chunk, number)
        decided.add(fits)
    assert decided == {True, False}


def test_the_end_of_a_slot_is_round() -> None:
    # By the law of cosines, from memory: a middle 0.3 mm from another on a circle of 38 mm radius is 2 asin(0.15 / 38) away.
    chord = math.degrees(2 * math.asin(0.15 / 38))
    assert half_travel(bolt(), bolt(slot=0)) == pytest.approx(chord, rel=1e-9)
    assert half_travel(bolt(), bolt(slot=14)) == pytest.approx(7 + chord, rel=1e-9)
    assert half_travel(bolt(), bolt(at_mm=38.3)) == pytest.approx(7, abs=0.05)
    assert half_travel(bolt(), bolt(at_mm=38.31)) is None
    assert half_travel(bolt(), bolt(hole=5.9)) is None


def test_the_same_spacers_under_other_ears_do_not_interchange() -> None:
    # Common practice, no source: a spacer stands where the gearbox is lower there, and under another ear it is no use. Three ears,
    # spacers of 4, 2 and 0 mm, and the same three one ear on; the ears are not evenly about, so no turn brings them back.
    one = mount(bolt(at_deg=0, spacer=4), bolt(at_deg=110, spacer=2), bolt(at_deg=250, spacer=0))
    other = mount(bolt(at_deg=0, spacer=0), bolt(at_deg=110, spacer=4), bolt(at_deg=250, spacer=2))
    for seat, candidate in ((one, other), (other, one)):
        fit = fit_mounts(seat, candidate)
        assert fit.fits is False
        (reason,) = fit.reasons
        assert isinstance(reason.detail, SpacerDiffers) and [one.at_deg for one in reason.detail.spacers] == [0, 110, 250]
    assert fit_mounts(one, one).fits is True


@pytest.mark.parametrize(("spacer", "fits"), [(4.5, True), (4.51, False), (3.5, True), (3.49, False)])
def test_spacers_are_the_same_within_half_a_millimetre(spacer: float, fits: bool) -> None:
    seat = mount(bolt(), bolt(at_deg=150))
    assert fit_mounts(seat, mount(bolt(spacer=spacer), bolt(at_deg=150))).fits is fits


def test_it_is_never_turned_over() -> None:
    seat = mount(bolt(at_deg=0, slot=0), bolt(at_deg=100, slot=0), bolt(at_mm=44, at_deg=160, slot=0))
    mirrored = mount(bolt(at_deg=0, slot=0), bolt(at_deg=-100, slot=0), bolt(at_mm=44, at_deg=-160, slot=0))
    fit = fit_mounts(seat, mirrored)
    assert fit.fits is False and codes(fit) == ["mount.mirror_image"]


def test_the_shaft_is_told_apart_from_the_bolts() -> None:
    bolts = (bolt(), bolt(at_deg=150))
    seat = mount(*bolts)
    for shaft, word in ((Shaft("square", 9.5), "mount.shaft_shape_differs"), (Shaft("double-flat", 10), "mount.shaft_size_differs")):
        fit = fit_mounts(seat, mount(*bolts, shaft=shaft))
        assert fit.fits is False and codes(fit) == [word]
    both_wrong = fit_mounts(seat, mount(bolt(at_mm=50), bolt(at_mm=50, at_deg=150), shaft=Shaft("square", 9.5)))
    assert len(both_wrong.reasons) == 2, "each reason is given"


def test_fewer_holes_than_bolts_do_not_fit_and_more_do() -> None:
    two, three = mount(bolt(), bolt(at_deg=150)), mount(bolt(), bolt(at_deg=150), bolt(at_mm=50, at_deg=200, spacer=0))
    assert fit_mounts(three, two).fits is False
    assert fit_mounts(two, three).fits is True


@pytest.mark.parametrize("spacer", [4, None])
def test_an_ear_more_with_a_spacer_may_foul(spacer: float | None) -> None:
    # Common practice, no source: where there is no bolt nobody knows how far the gearbox stands back there.
    fit = fit_mounts(mount(bolt(), bolt(at_deg=150)), mount(bolt(), bolt(at_deg=150), bolt(at_mm=50, at_deg=200, spacer=spacer)))
    assert fit.fits is None and [one.detail for one in fit.reasons] == [SpareEarMayFoul((SpareEar(50, 200, spacer),))]


def test_spacers_that_neither_states_are_not_known_to_be_the_same() -> None:
    bare = mount(bolt(spacer=None), bolt(at_deg=150, spacer=None))
    fit = fit_mounts(bare, mount(*bare.bolts))
    assert fit.fits is None and [(one.code, one.subject.side) for one in fit.reasons] == [("mount.spacer_not_stated", Side.BOTH)]
    assert fit_mounts(bare, bare, same_name=True).fits is True, "parts on one mount of a family share it without saying so"


# ISO 273:1979, coarse series, as in a table that cites it (engineeringhardware.com, read 2026-11); M6: 7.0 mm.
@pytest.mark.parametrize(
    ("size", "hole", "fits"), [(6, 7.0, True), (6, 7.1, None), (8, 10, True), (8, 10.1, None), (5, 5.8, True), (5, 5.9, None)]
)
def test_a_hole_wider_than_any_for_its_bolt_is_doubted(size: float, hole: float, fits: bool | None) -> None:
    seat = mount(bolt(size=size, hole=size), bolt(at_deg=150, size=size, hole=size))
    candidate = mount(bolt(size=size, hole=hole), bolt(at_deg=150, size=size, hole=hole))
    fit = fit_mounts(seat, candidate)
    assert fit.fits is fits and (fits or codes(fit) == ["mount.hole_too_wide"])
    assert fit_mounts(candidate, candidate, same_name=True).fits is fits, "nor is another part on the same mount sure to go on"


@pytest.mark.parametrize(
    ("slot", "steps", "fits"),
    [
        (29, (), True),
        (30, (), None),
        (15, (18, 16, 17), True),
        (16, (18, 16, 17), None),
    ],
)
def test_a_slot_as_long_as_a_detent_is_doubted(slot: float, steps: tuple[float, ...], fits: bool | None) -> None:
    seat = hubbed(bolt(), bolt(at_deg=150), steps=steps)
    fit = fit_mounts(seat, hubbed(bolt(slot=slot), bolt(at_deg=150), steps=steps))
    assert fit.fits is fits and (fits or codes(fit) == ["mount.slot_too_long"])


def test_a_turn_about_the_shaft_is_allowed_and_what_is_left_of_it_is_told() -> None:
    seat = mount(bolt(at_deg=0), bolt(at_deg=150))
    turned = fit_mounts(seat, mount(bolt(at_deg=73), bolt(at_deg=223)))
    used = fit_mounts(seat, mount(bolt(at_deg=0), bolt(at_deg=160)))
    assert turned.fits and used.fits
    assert turned.turn_deg == pytest.approx(turned.own_turn_deg)
    # Ten degrees between the two middles take ten degrees of the turn.
    assert used.turn_deg == pytest.approx(turned.turn_deg - 10, abs=1e-6)


@pytest.mark.parametrize(("off", "scant"), [(0, False), (6, False), (9, True)])
def test_a_hub_that_stands_right_at_the_end_of_the_slots_leaves_hardly_any_turn(off: float, scant: bool) -> None:
    """Slots of 14 degrees and 0.9 of play: 7.45 either way. Nine off leaves 0.45 of the two degrees that the hub may be off."""
    seat = hubbed(bolt(), bolt(at_deg=150), steps=(18, 16, 17))
    hub = replace(seat.hub, at_deg=seat.hub.at_deg + off)
    fit = fit_mounts(seat, replace(seat, hub=hub), lever=seat.positions)
    assert fit.fits and fit.turn_deg == pytest.approx(14.9, abs=0.01)
    assert fit.reasons[0].detail.turn.scant is scant


@pytest.mark.parametrize(
    ("seat", "candidate", "detail", "side"),
    [
        (None, mount(bolt()), MountNotStated(), Side.ORIGINAL),
        (mount(bolt()), None, MountNotStated(), Side.CANDIDATE),
        (None, None, MountNotStated(), Side.BOTH),
        (mount(bolt()), mount(), BoltsNotStated(), Side.CANDIDATE),
        (mount(), mount(bolt()), BoltsNotStated(), Side.ORIGINAL),
        (mount(bolt()), mount(bolt(), shaft=None), ShaftNotStated(), Side.CANDIDATE),
        (mount(bolt(), shaft=None), mount(bolt(), shaft=None), ShaftNotStated(), Side.BOTH),
        (mount(bolt()), mount(bolt(hole=None)), BoltSizeNotStated(), Side.CANDIDATE),
        (mount(bolt(size=None)), mount(bolt()), BoltSizeNotStated(), Side.ORIGINAL),
        (mount(bolt(spacer=4)), mount(bolt(spacer=None)), SpacerNotStated((0,)), Side.CANDIDATE),
        (mount(bolt(spacer=None)), mount(bolt(spacer=4)), SpacerNotStated((0,)), Side.ORIGINAL),
        # Both have one bolt without: each has to be measured where the other one states it.
        (
            mount(bolt(spacer=4), bolt(at_deg=150, spacer=None)),
            mount(bolt(spacer=None), bolt(at_deg=150, spacer=4)),
            SpacerNotStated((0, 150)),
            Side.BOTH,
        ),
    ],
)
def test_what_is_not_stated_is_not_known_and_it_is_said_of_which_part(
    seat: Mount | None, candidate: Mount | None, detail: Detail, side: Side
) -> None:
    fit = fit_mounts(seat, candidate)
    assert fit.fits is None and [(one.detail, one.subject.side) for one in fit.reasons] == [(detail, side)]


def test_what_is_known_to_differ_outweighs_what_is_not_stated() -> None:
    assert fit_mounts(mount(bolt()), mount(shaft=Shaft("square", 9.5))).fits is False


def test_arcs_against_sampling() -> None:
    rng = random.Random(1)
    for _ in range(500):
        arcs = [(rng.uniform(0, 360), rng.choice([rng.uniform(0, 60), rng.uniform(100, 179), 180])) for _ in range(3)]
        left = around(*arcs[0])
        for arc in arcs[1:]:
            left = both(left, around(*arc))

        def within(angle: float, arcs=arcs, slack: float = 0.0) -> bool:
            return all(abs((angle - middle + 180) % 360 - 180) <= half + slack for middle, half in arcs)

        for angle in range(0, 360, 3):
            inside = any(low <= angle <= high for low, high in left)
            if within(angle, slack=-1e-6):
                assert inside
            elif not within(angle, slack=1e-6):
                assert not inside
        sampled = [within(step / 2) for step in range(720)]
        run = longest = 0
        for hit in sampled * 2:
            run = run + 1 if hit else 0
            longest = max(longest, run)
        assert width(left) == pytest.approx(min(longest, 720) / 2, abs=1.1)


MOTIONS = ("shaft", "fork", "gear", "slider", "snap_in")


def test_unlike_motions_never_fit_and_like_ones_go_by_the_rest() -> None:
    """Common practice, no source: what a fork takes along has no hole for a shaft, and the other way about."""
    for one, other in itertools.product((None, *MOTIONS), repeat=2):
        seat, candidate = (replace(hubbed(bolt(), bolt(at_deg=150)), shaft=None, motion=motion) for motion in (one, other))
        found = fit_mounts(seat, candidate, lever=seat.positions)
        if one and other and one != other:
            assert found.fits is False and "mount.motion_differs" in codes(found)
        elif one == other and one in ("fork", "gear", "slider"):
            assert (found.fits, codes(found)) == (True, ["mount.moved_alike"])
        elif {one, other} <= {None, "shaft"}:
            assert (found.fits, codes(found)) == (None, ["mount.shaft_not_stated"]), "as before: the shaft is asked for, and nothing else"
        elif one != other:
            assert found.fits is None and "mount.motion_not_stated" in codes(found)


def test_where_a_shaft_is_stated_it_is_what_moves_it() -> None:
    fork = replace(mount(bolt(), bolt(at_deg=150), shaft=None), motion="fork")
    assert codes(fit_mounts(mount(bolt(), bolt(at_deg=150)), fork)) == ["mount.motion_differs"]


def test_what_snaps_in_needs_no_bolts_and_is_not_turned() -> None:
    seat = replace(hubbed(), shaft=None, motion="snap_in")
    assert codes(fit_mounts(seat, seat, lever=seat.positions)) == ["mount.moved_alike"]
    turned = replace(hubbed(at=41), shaft=None, motion="snap_in")
    assert codes(fit_mounts(seat, turned, lever=seat.positions)) == ["mount.hub_elsewhere"]
    unsaid = replace(seat, hub=None)
    assert codes(fit_mounts(seat, unsaid, lever=seat.positions)) == ["mount.hub_not_stated"]


def test_how_tight_a_bolt_is_done_up_changes_nothing() -> None:
    one, other = mount(bolt(), bolt(at_deg=150)), mount(bolt(), replace(bolt(at_deg=150), torque_nm=12))
    assert fit_mounts(one, other).fits is True and geometry_of(one) == geometry_of(other)
