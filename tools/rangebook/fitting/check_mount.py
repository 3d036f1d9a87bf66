"""The first check: whether it bolts on."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.book import Book
from rangebook.book.model import Part
from rangebook.fitting.seats import Seat, mount_of
from rangebook.fitting.verdict import Reason, Says
from rangebook.mounting.fit import fit_mounts

SCANT_TURN_DEG = 2.0
"""With less turn than this left, setting the switch may not be possible. Common practice, no source."""


def check_mount(book: Book, seat: Seat, part: Part) -> Iterator[Reason]:
    """Shaft, bolts and spacers of ``part`` against those of the seat's original."""
    original, mount = seat.original, mount_of(book, part)
    if part.key == original.key and mount is None:
        yield Reason("mount", Says.FOR, "it is the part that it came with")
        return
    same_name = part.family == original.family and part.mount is not None and part.mount == original.mount
    fit = fit_mounts(seat.mount, mount, same_name)
    says = {True: Says.FOR, False: Says.AGAINST, None: Says.MISSING}[fit.fits]
    for text in fit.reasons:
        if fit.turn_deg is not None:
            text += _turn(fit.turn_deg, fit.own_turn_deg)
        # The mount is one whole check: measuring it settles more than any one contact does.
        yield Reason("mount", says, text, settles=0 if fit.fits is not None else 1_000)


def _turn(left: float, own: float | None) -> str:
    words = f"; {left:.1f}° of turn left to set it"
    if own is not None and own - left > 0.05:
        words += f", of {own:.1f}° that its slots have"
    if left < SCANT_TURN_DEG and (own or 0) >= SCANT_TURN_DEG:
        words += ": hardly enough, try it before wiring"
    return words
