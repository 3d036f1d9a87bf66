"""What the book does not know yet, as lists for whoever has a part, a vehicle or a manual at hand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from rangebook.book.model import Connector, Family, Kit, Part, Plug
from rangebook.desk import worklists
from rangebook.desk.worklists import Absent, Measurement, Short, Unlooked
from rangebook.fitting.seats import Seat
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page
from rangebook.site.shared import urls
from rangebook.words.book import fact_words, how_words, status_short, tried_words, work_words
from rangebook.words.catalogue import say
from rangebook.words.lists import listed, sentence
from rangebook.words.reasons import reason_words_with

SOURCE = "worklists.md"
JOINED = "\ue000measured\ue000"
"""What a part of a site has in place of the page's content: all parts have some of it."""

MOST = 200
"""So many lines of a list are shown; it says how many there are in all."""


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source=SOURCE,
        title=say("worklists_page.title"),
        template="worklists.html",
        data=lambda: worklists_data(computed),
        about=say("worklists_page.about"),
    )


def worklists_data(computed: Computed) -> Mapping[str, Any]:
    """Each list as ``rows`` of at most :data:`MOST`, and ``count``, how long it is. "Too long ago" is seen from the day of the edition,
    so that two builds of one book say the same."""
    found = measured(computed)
    return {**to_measure([_measurement(computed, one) for one in found], _unknown(found)), **other_lists(computed)}


def measured(computed: Computed) -> list[Measurement]:
    """What there is to measure for the answers of the part of the site that is built."""
    return worklists.measurements(computed.open_verdicts)


def _unknown(found: list[Measurement]) -> int:
    return len({(seat.key, verdict.part.key) for one in found for seat, verdict in one.waits})


def to_measure(rows: list[dict[str, Any]], unknown: int) -> dict[str, Any]:
    """The first list, of ``rows`` in their order, for so many answers that are not known."""
    return {"unknown": unknown, "best": rows[0] if rows and rows[0]["settles"] else None, "measure": _list(rows)}


def other_lists(computed: Computed) -> dict[str, Any]:
    """All that takes no answers."""
    book = computed.book
    return {
        "pinouts": _list(
            [
                _row(computed, one.part, sentence(say("worklists_page.lacks", facts=tuple(map(fact_words, one.lacks)))))
                for one in worklists.without_pinout(book)
            ]
        ),
        "unsourced": _list([_row(computed, one.owner, _unsourced(one.facts)) for one in worklists.without_source(book)]),
        "stale": _list(
            [
                _row(computed, one.owner, one.on or say("worklists_page.no_day"))
                for one in worklists.checked_long_ago(book, computed.edition.date)
            ]
        ),
        "years": worklists.YEARS,
        "edition": computed.edition.date,
        "jumpers": _list([_jumpers(computed, one) for one in worklists.without_jumpers(computed.fitter.seats)]),
        "records": _list([_record(computed, one) for one in worklists.records(book, computed.fitter.seats, computed.fitter.verdict)]),
        "chains": _list([_row(computed, one.part, _end(one)) for one in worklists.open_chains(book)]),
    }


def _list(rows: list[dict[str, Any]]) -> dict[str, Any]:
    return {"rows": rows[:MOST], "count": len(rows)}


def _measurement(computed: Computed, one: Measurement) -> dict[str, Any]:
    """A part with what to measure; ``seats`` are the plugs whose answers wait for it."""
    seats = {seat.key: seat for seat, _ in (one.settles or one.waits)}
    first, verdict = one.waits[0]
    says = sentence(reason_words_with(one.how, first.original.number, verdict.part.number))
    if isinstance(one.owner, Absent):
        # There is no page of what is not there: the vehicle that asks for it has one.
        row = {"name": one.name, "of": "", "url": urls.seat_url(first), "number": False, "says": says}
    elif isinstance(one.owner, Short):
        row = _row(computed, computed.book.connectors.get(one.name) or computed.book.kits[one.name], says)
    elif isinstance(one.owner, Plug):
        of = say("worklists_page.of_plug", family=computed.book.families[one.owner.family].title)
        row = {"name": one.name, "of": of, "url": urls.seat_url(first), "number": False, "says": says}
    else:
        row = _row(computed, one.owner, says)
    return {
        **row,
        "what": work_words(one.what),
        "text": how_words(one.how.code),
        "settles": len(one.settles),
        "waits": len(one.waits),
        "seats": [_seat(seat) for seat in seats.values()],
    }


def _seat(seat: Seat) -> dict[str, str]:
    words = say("worklists_page.seat", family=seat.family.title, plug=seat.plug.name, original=seat.original.number)
    return {"words": words, "url": urls.seat_url(seat)}


def part_of_list(computed: Computed) -> dict[str, Any]:
    """What a part of the site has to say of what is to be measured.

    Of each thing: what makes it one with that of other parts (``key``), how it is sorted (``order``), when it was first met (``first``),
    its row, and the seats of those answers that it settles and of all that wait for it, by their places among all seats.
    """
    places = computed.seat_places
    found = measured(computed)
    told = []
    for one in found:
        settles = {places[seat.key]: _seat(seat) for seat, _ in one.settles}
        waits = {places[seat.key]: _seat(seat) for seat, _ in one.waits}
        row = {**_measurement(computed, one), "seats": []}
        told.append(
            {
                "key": one.key,
                "order": worklists.order(one),
                "first": min(waits),
                "row": row,
                "settles": [*settles.items()],
                "waits": [*waits.items()],
            }
        )
    return {"unknown": _unknown(found), "measure": told}


def joined(parts: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """The first list of what :func:`part_of_list` gave for each part, read from JSON."""
    alike: dict[str, list[Mapping[str, Any]]] = {}
    for one in sorted((one for part in parts for one in part["measure"]), key=lambda one: one["first"]):
        alike.setdefault(str(one["key"]), []).append(one)
    rows = []
    for same in alike.values():
        row = dict(same[0]["row"])
        row.update({count: sum(one["row"][count] for one in same) for count in ("settles", "waits")})
        seats = dict(pair for one in same for pair in one["settles" if row["settles"] else "waits"])
        rows.append((-row["settles"], -row["waits"], same[0]["order"], {**row, "seats": [seats[at] for at in sorted(seats)]}))
    rows.sort(key=lambda one: one[:3])
    return to_measure([row for *_, row in rows], sum(part["unknown"] for part in parts))


def _record(computed: Computed, one: worklists.Record) -> dict[str, Any]:
    """A record of the bay with what it leaves to be settled."""
    trial = one.trial
    row = _row(computed, trial.part or trial.family, say("worklists_page.record_why", why=one.why, vehicle=trial.vehicle))
    return {**row, "record": tried_words(replace(trial.record, vehicle=trial.vehicle))}


def _row(computed: Computed, owner: Part | Family | Connector | Kit, says: str) -> dict[str, Any]:
    match owner:
        case Part():
            return {"name": owner.number, "of": computed.family_title(owner), "url": urls.part_url(owner), "number": True, "says": says}
        case Kit():
            return {"name": owner.number, "of": owner.title, "url": urls.kit_url(owner.id), "number": True, "says": says}
        case Connector():
            return {
                "name": owner.title,
                "of": say("worklists_page.of_connector"),
                "url": urls.connector_url(owner.id),
                "number": False,
                "says": says,
            }
        case Family():
            return {
                "name": owner.title,
                "of": say("worklists_page.of_family"),
                "url": urls.family_url(owner.id),
                "number": False,
                "says": says,
            }


def _jumpers(computed: Computed, one: Unlooked) -> dict[str, Any]:
    of = say("worklists_page.of_plug", family=one.seat.family.title)
    return {"name": one.seat.plug.name, "of": of, "url": urls.seat_url(one.seat), "number": False, "says": listed(one.pins)}


def _unsourced(facts: tuple[str, ...]) -> str:
    return say("worklists_page.no_source", facts=tuple(map(fact_words, facts)))


def _end(one: worklists.OpenChain) -> str:
    return sentence(say("worklists_page.chain_end", why=one.why, end=one.end, status=status_short(one.why)))
