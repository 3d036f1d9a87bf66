"""Where the hub stands in each position of the lever: what ties the contacts of a switch to the angle of the shaft."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import accumulate

from rangebook.book.model import Hub, Mount
from rangebook.mounting.arcs import FULL


def detents(mount: Mount) -> Mapping[str, float]:
    """Position -> the angle of the hub's mark there, degrees anticlockwise as the bolts are counted; in lever order.

    Only where it is stated: without the turns from detent to detent the one position that was looked at, and nothing at all where what
    is stated cannot be (:func:`is_sound`).
    """
    hub = mount.hub
    if hub is None or hub.position is None or hub.at_deg is None or not is_sound(hub, mount.positions):
        return {}
    if not hub.steps_deg:
        return {hub.position: hub.at_deg}
    turned = turns(mount)
    return {position: hub.at_deg + turn - turned[hub.position] for position, turn in turned.items()}


def turns(mount: Mount) -> Mapping[str, float]:
    """Position -> how far the hub has turned from the first of the lever's, in degrees; empty where that is not stated or cannot be."""
    hub = mount.hub
    if hub is None or not hub.steps_deg or not is_sound(hub, mount.positions):
        return {}
    return dict(zip(mount.positions, accumulate(hub.steps_deg, initial=0.0), strict=True))


def is_sound(hub: Hub, positions: tuple[str, ...]) -> bool:
    """Whether what is stated of a hub can be: a position of the lever, a turn between each two of them, all one way, in all less than once
    round."""
    steps = hub.steps_deg
    if hub.position is not None and hub.position not in positions:
        return False
    one_way = all(step > 0 for step in steps) or all(step < 0 for step in steps)
    return not steps or (len(steps) == len(positions) - 1 and len(set(positions)) == len(positions) and one_way and abs(sum(steps)) < FULL)


def smallest_step(*mounts: Mount) -> float | None:
    """Degrees between the two nearest detents of mounts; ``None`` where none of them states its own."""
    return min((abs(step) for mount in mounts if turns(mount) and mount.hub for step in mount.hub.steps_deg), default=None)
