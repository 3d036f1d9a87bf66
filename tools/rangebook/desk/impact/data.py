"""An impact report as JSON data.

Shape::

    {"base": text, "commit": id, "safety": how many of the verdicts are for safety to look at first,
     "files": [{"file", "how": "added|removed|changed", "broken": bool, "was_broken": bool,
                "problems": [{"line", "column", "message", "fix"}]}],
     "schema_changed": bool,
     "circuits": [{"family", "what": "part|plug", "name", "old", "new"}],
     "first": how many things are to be looked at first, of facts, applications and verdicts,
     "applications": [{"family", "vehicle", "years", "engine", "drive", "gearbox", "change": "added|gone|changed", "safety": bool,
                       "old": told or null, "new": told or null}],
     "facts": [{"file", "line", "kind": "switch|connector|kit|circuits", "entry", "at": place by names, "key", "old", "new",
                "safety": bool}],
     "verdicts": [{"family", "plug", "came_with", "positions": [...], "vehicles": [...], "number", "part_family",
                   "change": "word|order|reasons", "safety": [why, ...],
                   "old": side, "new": side}],
     "gone": [{"number", "kind": "part|kit", "entry", "file"}],
     "chains": [{"number", "family", "broken": bool, "old": ends or null, "new": ends or null}],
     "findings": {"came": [finding, ...], "went": [finding, ...]},
     "pages": [{"kind": "switch|connector|kit", "id", "url", "why": [...]}]}

What an application is told is ``{"family", "plug", "came_with", "lever", "years", "seat": bool, "first": number or null, "verdict",
"needs": [...], "moves"}``; ``old`` and ``new`` of a fact are what is typed, ``null`` where nothing is; ``line`` counts in the new state.
A side is ``{"state": "judged|not_in_book|no_vehicle|broken", "verdict": word or null, "needs": [{"kit", "seal", "blanks"}],
"moves": {old: new},
"unused_pins": [...], "reasons": [reason, ...], "safety": [text, ...]}``; ends are ``[{"number", "in_book", "status", "loops",
"needs": [{"kit", "seal", "blanks", "note"}]}]``; findings are those of ``rangebook lint --format json``. ``url`` counts from the top of
the site.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict
from typing import Any

from rangebook.desk.impact.phrases import alarm_words, cause_words, circuits_words
from rangebook.desk.needs import need_data, needs_data
from rangebook.revisions.chains import ChainChange, EndSeen
from rangebook.revisions.facts import FactChange
from rangebook.revisions.report import FileChange, Impact
from rangebook.revisions.safety_circuits import CircuitChange
from rangebook.revisions.vehicles import Told, VehicleChange
from rangebook.revisions.verdicts import Side, VerdictChange
from rangebook.words.problems import problem_fix, problem_words
from rangebook.words.reasons import reason_data, reason_words

Urls = Mapping[str, Callable[[str], str]]
"""Kind of entry -> a function from its id to the address of its page, from the top of the site."""


def as_data(report: Impact, urls: Urls) -> dict[str, Any]:
    """The whole report; nothing is cut off."""
    return {
        "base": report.base,
        "commit": report.commit,
        "safety": len(report.safety),
        "files": [_file(one) for one in report.files],
        "schema_changed": report.schema_changed,
        "circuits": [_circuits(one) for one in report.circuits],
        "first": report.first,
        "applications": [_application(one) for one in report.vehicles],
        "facts": [{**_fact(one), **_layer(one, report.layers[1])} for one in report.facts],
        "verdicts": [_verdict(one) for one in report.verdicts],
        "gone": [asdict(one) for one in report.gone],
        "chains": [_chain(one) for one in report.chains],
        "findings": {
            "came": [one.as_data(report.layers[1]) for one in report.came],
            "went": [one.as_data(report.layers[0]) for one in report.went],
        },
        "pages": [
            {"kind": one.kind, "id": one.id, "url": urls[one.kind](one.id), "why": list(map(cause_words, one.why))} for one in report.pages
        ],
    }


def _file(change: FileChange) -> dict[str, Any]:
    return {
        "file": change.file,
        "how": change.how,
        "broken": bool(change.problems),
        "was_broken": change.was_broken,
        "problems": [
            {"line": one.mark.in_file.line, "column": one.mark.column, "message": problem_words(one), "fix": problem_fix(one)}
            for one in change.problems
        ],
    }


def _circuits(change: CircuitChange) -> dict[str, Any]:
    old, new = circuits_words(change.old), circuits_words(change.new)
    return {"family": change.family, "what": change.what, "name": change.name, "old": old, "new": new}


def _application(change: VehicleChange) -> dict[str, Any]:
    old, new = change.old, change.new
    return {
        "family": change.family,
        "vehicle": change.vehicle,
        "years": change.years,
        "engine": change.engine,
        "drive": change.drive,
        "gearbox": change.gearbox,
        "change": "added" if old is None else "gone" if new is None else "changed",
        "safety": change.safety,
        "old": None if old is None else _told(old, change.old_years),
        "new": None if new is None else _told(new, change.years),
    }


def _told(told: Told, years: str | None) -> dict[str, Any]:
    return {
        "family": told.family,
        "plug": told.plug,
        "came_with": told.came_with,
        "lever": None if told.lever is None else list(told.lever),
        "years": years,
        "seat": told.has_seat,
        "first": told.first,
        "verdict": None if told.verdict is None else str(told.verdict),
        "needs": needs_data(told.needs, told.also),
        "moves": dict(told.moves),
    }


def _layer(change: FactChange, layers: Sequence[str]) -> dict[str, str]:
    """The layer whose line states a fact now; nothing of a book that has but one."""
    return {"layer": layers[change.layer]} if len(layers) > 1 and change.layer < len(layers) else {}


def _fact(change: FactChange) -> dict[str, Any]:
    return {
        "file": change.file,
        "line": change.line,
        "kind": change.kind,
        "entry": change.entry,
        "at": change.place,
        "key": change.at[-1] if change.at else None,
        "old": change.old,
        "new": change.new,
        "safety": change.safety,
    }


def _verdict(change: VerdictChange) -> dict[str, Any]:
    seat = change.seat
    return {
        "family": seat.family.id,
        "plug": seat.plug.name,
        "came_with": seat.original.number,
        "positions": list(seat.positions),
        "vehicles": list(change.vehicles),
        "number": change.number,
        "part_family": change.part_family,
        "change": str(change.differs),
        "safety": [alarm_words(one) for one in change.safety],
        "old": _side(change.old),
        "new": _side(change.new),
    }


def _side(side: Side) -> dict[str, Any]:
    return {
        "state": str(side.state),
        "verdict": None if side.kind is None else str(side.kind),
        "needs": [*map(asdict, side.needs), *needs_data((), side.also)],
        "moves": dict(side.moves),
        **({"fans": {old: list(every) for old, every in side.fans}} if side.fans else {}),
        "unused_pins": list(side.unused_pins),
        "reasons": [reason_data(one) for one in side.reasons],
        "safety": [reason_words(one) for one in side.safety],
    }


def _chain(change: ChainChange) -> dict[str, Any]:
    def ends(listed: tuple[EndSeen, ...] | None) -> list[dict[str, Any]] | None:
        return None if listed is None else [{**asdict(one), "needs": [need_data(need) for need in one.needs]} for one in listed]

    return {"number": change.number, "family": change.family, "broken": change.broken, "old": ends(change.old), "new": ends(change.new)}
