"""What has to be ordered with a part: the kit, the rear seal for its number of wires, blanking plugs."""

from __future__ import annotations

from dataclasses import dataclass

from rangebook.book.model import Connector, Kit
from rangebook.fitting.words import joined, plural


@dataclass(frozen=True, slots=True)
class Needed:
    """One kit of an order with what of its bag is used: ``seal`` by its number of wire holes, ``blanks`` by their number.

    ``None`` where the book does not say what is in the bag.
    """

    kit: str | None
    seal: int | None
    blanks: int | None


@dataclass(frozen=True, slots=True)
class Packed:
    """The outcome for one kit: what is needed of it, whether its bag has it, and the words for both."""

    needed: Needed
    fits: bool
    text: str


def pack(kit: Kit, wires: int, fewest_wires: int, supplied: Connector | None) -> Packed:
    """What of a kit's bag a plug with ``wires`` wires takes; some of the vehicles have only ``fewest_wires``.

    The rear seal has a hole for each wire; the smallest that has enough is taken, and a hole too many gets a blanking
    plug. A kit without a rear seal seals each wire by itself: then each empty cavity of a sealed plug gets a blanking
    plug. Source for empty cavities: FAA AC 43.13-1B 11-260 to 11-262 (non-automotive).
    """
    name = f"kit {kit.number} ({kit.title})"
    if kit.seals:
        seal = min((size for size in kit.seals if size >= wires), default=None)
        if seal is None:
            bag = _or([str(size) for size in sorted(kit.seals)])
            return Packed(Needed(kit.id, None, None), False, f"{name} has rear seals for {bag} wires; this plug has {wires}")
        blanks = seal - wires
        text = f"{name}, with its rear seal for {seal} wires"
        if fewest_wires < wires:
            text += f" (vehicles with fewer wires: the seal for their number, {fewest_wires} at the fewest)"
    else:
        seal = None
        sealed = supplied is not None and supplied.sealed
        blanks = len(supplied.cavities) - wires if sealed and kit.blanks is not None else 0
        text = name if kit.seals is not None else f"{name}; what rear seals are in its bag is not stated"
    text += _blanks(blanks, kit.blanks) + _left_over(kit, seal, blanks)
    return Packed(Needed(kit.id, seal, blanks), True, text)


def _left_over(kit: Kit, seal: int | None, blanks: int) -> str:
    """What stays in the bag, so that nobody looks for the place where it belongs."""
    seals = list(kit.seals or ())
    if seal is not None:
        seals.remove(seal)
    left = []
    if seals:
        left.append(f"the rear seal{'s' if len(seals) > 1 else ''} for {joined(str(size) for size in sorted(seals))} wires")
    spare = (kit.blanks or 0) - blanks
    if spare > 0:
        left.append(plural(spare, "blanking plug"))
    return f"; left over: {' and '.join(left)}" if left else ""


def _blanks(needed: int, in_bag: int | None) -> str:
    if not needed:
        return ""
    words = f" and {needed} blanking plug{'s' if needed > 1 else ''} for the holes that stay empty"
    if in_bag is None:
        return f"{words}; how many are in the bag is not stated"
    return f"{words}; the bag holds {in_bag}, order {needed - in_bag} more" if needed > in_bag else words


def _or(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
