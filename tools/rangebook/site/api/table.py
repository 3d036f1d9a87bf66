"""The interchange table as CSV: one row for each part on each seat, also where it does not fit.

Source for the form: RFC 4180 (commas, CRLF, quotation marks doubled). In front stands the mark that tells a spreadsheet that it is
UTF-8, and no cell can be taken for a formula: the same as in ``client/several/list.js``.
"""

from __future__ import annotations

import csv
import io
from base64 import b85decode, b85encode
from collections.abc import Iterable, Iterator
from zlib import compress, decompress

from rangebook.fitting.seats import Seat
from rangebook.fitting.verdict import Verdict
from rangebook.site.facts.computed import Computed
from rangebook.site.shared import urls
from rangebook.words.book import also_words, application_words, moves_of
from rangebook.words.reasons import reason_words
from rangebook.words.shown import cell

MARK = "\ufeff"
HEAD = (
    *("family", "seat", "plug", "came_with", "vehicles", "number", "status", "verdict"),
    *("kits", "seals", "blanks", "moves", "unused_pins", "reasons", "also"),
)
"""What the columns are called."""


def text(rows: Iterable[Iterable[object]]) -> str:
    """Rows as CSV, without the head."""
    written = io.StringIO()
    csv.writer(written, lineterminator="\r\n").writerows([cell(one) for one in row] for row in rows)
    return written.getvalue()


def rows(computed: Computed, seats: Iterable[Seat]) -> Iterator[tuple[object, ...]]:
    """The rows of some seats."""
    for seat in seats:
        vehicles = "; ".join(application_words(one) for one in seat.applications)
        for verdict in computed.candidates(seat):
            yield _row(computed, seat, vehicles, verdict)


def pack(computed: Computed, family: str) -> str:
    """The rows of a family as what stands among what is kept of a build, which is read whole by each next one: they say so much again and
    again that an eighth is left of them."""
    return b85encode(compress(text(rows(computed, computed.seats_by_family.get(family, ()))).encode())).decode()


def unpack(packed: str) -> bytes:
    """The rows as they stand in the table."""
    return decompress(b85decode(packed))


def _row(computed: Computed, seat: Seat, vehicles: str, verdict: Verdict) -> tuple[object, ...]:
    kits = [computed.book.kits[one.kit].number if one.kit in computed.book.kits else one.kit for one in verdict.needs if one.kit]
    return (
        seat.family.id,
        urls.seat_id(seat),
        seat.plug.name,
        seat.original.number,
        vehicles,
        verdict.part.number,
        verdict.part.status,
        verdict.kind,
        "; ".join(kits),
        "; ".join(str(one.seal) for one in verdict.needs if one.seal),
        "; ".join(str(one.blanks) for one in verdict.needs if one.blanks),
        "; ".join(f"{one.old} to {one.new}" for one in moves_of(verdict.moves, verdict.fans)),
        "; ".join(verdict.unused_pins),
        "; ".join(f"{one.check}: {reason_words(one)}" for one in verdict.reasons),
        "; ".join(map(also_words, verdict.also)),
    )
