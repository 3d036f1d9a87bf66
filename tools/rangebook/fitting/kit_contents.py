"""What of a kit's bag is used with a part: the rear seal for its number of wires, blanking plugs; and what stays in the bag."""

from __future__ import annotations

from dataclasses import dataclass, field

from rangebook.book.model import Connector, Kit
from rangebook.reasons.codes import BagNotStated, KitLacksSeal, KitNeeded


@dataclass(frozen=True, slots=True)
class Needed:
    """One kit of an order with what of its bag is used: ``seal`` by its number of wire holes, ``blanks`` by their number.

    ``None`` where the book does not say what is in the bag. ``to_order`` are the blanking plugs that are in no bag, ``None`` where that is
    not known.
    """

    kit: str | None
    seal: int | None
    blanks: int | None
    to_order: int | None = field(default=None, compare=False)


Contents = KitNeeded | KitLacksSeal | BagNotStated


def needed_of(kit: Kit, wires: int, fewest_wires: int, supplied: Connector | None, spare: int | None = 0) -> tuple[Needed, Contents]:
    """What of a kit's bag a plug with ``wires`` wires takes, and what there is to say of it; some of the vehicles have only
    ``fewest_wires``. ``spare`` are the blanking plugs left over from the kits before it, ``None`` where that is not known.

    The rear seal has a hole for each wire; the smallest that has enough is taken, and a hole too many gets a blanking plug. A kit that is
    said to have no rear seal, or to have seals for single wires, seals each wire by itself: then each empty cavity of a sealed plug gets a
    blanking plug. Source for empty cavities: FAA AC 43.13-1B 11-260 to 11-262 (non-automotive). Where it is not stated what
    rear seals there are, a plug cannot be said to be served unless it is known not to be sealed.
    """
    sealed = supplied.sealed if supplied is not None else None
    if kit.seals is None and kit.wire_seals is None and sealed is not False:
        return Needed(kit.id, None, None), BagNotStated(kit.number, kit.title, wires, bool(sealed))
    seal = min((size for size in kit.seals or () if size >= wires), default=None)
    if kit.seals and seal is None:
        return Needed(kit.id, None, None), KitLacksSeal(kit.number, kit.title, wires, tuple(sorted(kit.seals)))
    blanks = 0
    if seal is not None:
        blanks = seal - wires
    elif supplied is not None and sealed:
        blanks = len(supplied.cavities) - wires
    left = list(kit.seals or ())
    if seal is not None:
        left.remove(seal)
    own = kit.blanks
    at_hand = None if own is None or spare is None else own + spare
    detail = KitNeeded(
        kit.number,
        kit.title,
        kit.seals is not None or kit.wire_seals is not None,
        seal,
        fewest_wires if seal is not None and fewest_wires < wires else None,
        blanks,
        own,
        # What is there for certain may be enough, though it is not stated what else there is.
        0 if blanks <= (own or 0) + (spare or 0) else None if at_hand is None else blanks - at_hand,
        tuple(sorted(left)),
        max(0, (own or 0) - blanks),
        max(0, min(blanks - (own or 0), spare or 0)),
    )
    return Needed(kit.id, seal, blanks, detail.blanks_to_order), detail


def blanks_left(kit: Kit, needed: Needed, spare: int | None) -> int | None:
    """The blanking plugs that are left over when a kit is fitted, those of the kits before it among them; ``None`` where not known."""
    if kit.blanks is None or spare is None:
        return None
    return max(0, kit.blanks + spare - (needed.blanks or 0))
