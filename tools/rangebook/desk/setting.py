"""How a part is fitted and set on a seat: what is said of the part itself goes before what its mount says, and that before the family's."""

from __future__ import annotations

from dataclasses import dataclass

from rangebook.book.model import Fitting, Part
from rangebook.fitting.seats import Seat
from rangebook.mounting.torque import bolts_differ


@dataclass(frozen=True, slots=True)
class Setting(Fitting):
    """How a part is set on a seat. ``bolts_nm`` are the bolts with a torque of their own: angle in degrees, and newton metres."""

    bolts_nm: tuple[tuple[float, float], ...] = ()


_NOTHING = Fitting(None, None, None, ())


def setting_of(seat: Seat, part: Part) -> Setting:
    """Position, method and torque as the nearest of the three states them, the cautions of all.

    The bolts are those of the seat. Where mounts of its family have bolts of two sizes, the family's torque is nobody's.
    """
    said = [one for one in (part, seat.mount, seat.family.fitting or _NOTHING) if one is not None]
    of_bolts = [one for one in said if not (isinstance(one, Fitting) and bolts_differ(seat.family))]
    bolts = seat.mount.bolts if seat.mount else ()
    return Setting(
        next((one.set_in for one in said if one.set_in), None),
        next((one.method for one in said if one.method), None),
        next((one.torque_nm for one in of_bolts if one.torque_nm is not None), None),
        tuple(dict.fromkeys(caution for one in reversed(said) for caution in one.cautions)),
        next((one.set_by for one in said if one.set_by), None),
        tuple((bolt.at_deg, bolt.torque_nm) for bolt in bolts if bolt.torque_nm is not None),
    )
