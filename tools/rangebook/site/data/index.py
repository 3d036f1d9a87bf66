"""The two small files that the find box searches: every number, and every name."""

from __future__ import annotations

from typing import Any

from rangebook.book import trouble_codes
from rangebook.book.former_ids import now_called
from rangebook.book.model import Application
from rangebook.fitting.standing import Group
from rangebook.fitting.verdict import VerdictKind
from rangebook.reasons.reason import Outcome
from rangebook.site.facts.computed import Computed
from rangebook.site.shared import urls
from rangebook.words.book import application_words, gone_words, group_words, outcome_words, status_words, verdict_words

NUMBERS_URL = "data/numbers.json"
NAMES_URL = "data/names.json"

_STATUS_LETTER = {"current": "c", "superseded": "s", "discontinued": "d", "withdrawn": "w", None: "?"}


def numbers(computed: Computed) -> dict[str, Any]:
    """Every part and kit number by family: ``[id, title, [number, ...], one letter of status for each]``; other numbers that a part goes
    by as ``[number, whose, family, part]``, the last two by their places; the book's own stock as ``[number, count, place]``."""
    book = computed.book
    return {
        "edition": computed.edition.mark,
        "families": [
            [
                family.id,
                family.title,
                [part.number for part in family.parts],
                "".join(_STATUS_LETTER[part.status] for part in family.parts),
            ]
            for family in book.families.values()
        ],
        "former": now_called(computed.book.families),
        "others": _others(computed),
        "shelf": [[one.number, one.pieces, one.place] for one in computed.shelf],
        "kits": [[kit.number, kit.title, urls.kit_url(kit.id)] for kit in book.kits.values()],
        "words": {
            "status": {letter: status_words(status) for status, letter in _STATUS_LETTER.items()},
            "gone": {letter: words for status, letter in _STATUS_LETTER.items() if (words := gone_words(status))},
            "verdict": {str(kind): verdict_words(kind) for kind in VerdictKind},
            "group": {str(group): group_words(group) for group in Group},
            "says": {str(outcome): outcome_words(outcome) for outcome in Outcome},
        },
    }


def _others(computed: Computed) -> list[list[Any]]:
    found = computed.book.by_other_number
    return [
        [other.number, other.by or "", at, place]
        for at, family in enumerate(computed.book.families.values())
        for place, part in enumerate(family.parts)
        for other in part.also_numbered
        if found.get(other.key) is part
    ]


def names(computed: Computed) -> dict[str, Any]:
    """Every vehicle, gearbox and connector, and by what else a switch is known: trade names of its family, what is stamped on it, and the
    trouble codes that it is looked at for.

    ``vehicles`` are ``[name, [[rest of the line, first year, last year or 0, gearbox, family, seat or 0], ...]]``; gearbox and
    family are places in ``gearboxes`` (-1: not stated) and in the families of :func:`numbers`. ``called`` and ``codes`` are
    ``[name, [family, ...]]``, a code with what it means behind it; ``marks`` are ``[what is stamped, [[family, part], ...]]``.
    """
    book = computed.book
    family_at = {family: at for at, family in enumerate(book.families)}
    gearbox_at = {gearbox: at for at, gearbox in enumerate(book.by_gearbox)}
    vehicles: dict[str, list[list[Any]]] = {}
    called: dict[str, list[int]] = {}
    codes: dict[str, list[int]] = {}
    marks: dict[str, list[list[int]]] = {}
    for at, family in enumerate(book.families.values()):
        for name in family.also_called:
            called.setdefault(name, []).append(at)
        for code in family.trouble_codes:
            codes.setdefault(code, []).append(at)
        for place, part in enumerate(family.parts):
            for mark in part.stamped:
                marks.setdefault(mark, []).append([at, place])
    for family in book.families.values():
        for one in family.applications:
            seat = computed.seat_of(family, one)
            vehicles.setdefault(one.vehicle, []).append(
                [
                    _rest(one),
                    one.first_year or 0,
                    one.last_year or 0,
                    gearbox_at.get(one.gearbox or "", -1),
                    family_at[family.id],
                    urls.seat_id(seat) if seat else 0,
                ]
            )
    for listed in vehicles.values():
        listed.sort(key=lambda row: (row[1], row[0]))
    return {
        "gearboxes": [[gearbox, [family_at[family.id] for family in families]] for gearbox, families in book.by_gearbox.items()],
        "vehicles": [[vehicle, vehicles[vehicle]] for vehicle in sorted(vehicles)],
        "called": sorted(map(list, called.items())),
        "codes": [[code, codes[code], trouble_codes.TEXTS.get(code, "")] for code in sorted(codes)],
        "marks": sorted(map(list, marks.items())),
        "connectors": [[one.title, urls.connector_url(one.id), len(one.cavities)] for one in book.connectors.values()],
    }


def _rest(application: Application) -> str:
    """The line of a vehicle without its name."""
    return application_words(application, with_vehicle=False)
