"""What of a kit's bag is used with a part: the rear seal for its number of wires, blanking plugs; and what stays in the bag."""

from __future__ import annotations

from dataclasses import dataclass

from rangebook.book.model import Connector, Kit
from rangebook.reasons.codes import KitLacksSeal, KitNeeded


@dataclass(frozen=True, slots=True)
class Needed:
    """One kit of an order with what of its bag is used: ``seal`` by its number of wire holes, ``blanks`` by their number.

    ``None`` where the book does not say what is in the bag.
    """

    kit: str | None
    seal: int | None
    blanks: int | None


def needed_of(kit: Kit, wires: int, fewest_wires: int, supplied: Connector | None) -> tuple[Needed, KitNeeded | KitLacksSeal]:
    """What of a kit's bag a plug with ``wires`` wires takes, and what there is to say of it; some of the vehicles have only
    ``fewest_wires``.

    The rear seal has a hole for each wire; the smallest that has enough is taken, and a hole too many gets a blanking
    plug. A kit without a rear seal seals each wire by itself: then each empty cavity of a sealed plug gets a blanking
    plug. Source for empty cavities: FAA AC 43.13-1B 11-260 to 11-262 (non-automotive).
    """
    seal = min((size for size in kit.seals or () if size >= wires), default=None)
    if kit.seals and seal is None:
        return Needed(kit.id, None, None), KitLacksSeal(kit.number, kit.title, wires, tuple(sorted(kit.seals)))
    if seal is not None:
        blanks = seal - wires
    else:
        sealed = supplied is not None and supplied.sealed
        blanks = len(supplied.cavities) - wires if supplied is not None and sealed and kit.blanks is not None else 0
    left = list(kit.seals or ())
    if seal is not None:
        left.remove(seal)
    detail = KitNeeded(
        kit.number,
        kit.title,
        kit.seals is not None,
        seal,
        fewest_wires if seal is not None and fewest_wires < wires else None,
        blanks,
        kit.blanks,
        None if kit.blanks is None else max(0, blanks - kit.blanks),
        tuple(sorted(left)),
        max(0, (kit.blanks or 0) - blanks),
    )
    return Needed(kit.id, seal, blanks), detail
