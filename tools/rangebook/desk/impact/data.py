"""An impact report as JSON data.

Shape::

    {"base": text, "commit": id, "safety": how many of the verdicts are for safety to look at first,
     "files": [{"file", "how": "added|removed|changed", "broken": bool, "was_broken": bool,
                "problems": [{"line", "column", "message", "fix"}]}],
     "schema_changed": bool,
     "circuits": [{"family", "what": "part|plug", "name", "old", "new"}],
     "verdicts": [{"family", "plug", "came_with", "positions": [...], "vehicles": [...], "number", "part_family",
                   "change": "word|order|reasons", "safety": [why, ...],
                   "old": side, "new": side}],
     "gone": [{"number", "kind": "part|kit", "entry", "file"}],
     "chains": [{"number", "family", "broken": bool, "old": ends or null, "new": ends or null}],
     "findings": {"came": [finding, ...], "went": [finding, ...]},
     "pages": [{"kind": "switch|connector|kit", "id", "url", "why": [...]}]}

A side is ``{"state": "judged|not_in_book|broken", "verdict": word or null, "needs": [{"kit", "seal", "blanks"}], "moves": {old: new},
"unused_pins": [...], "reasons": [reason, ...], "safety": [text, ...]}``; ends are ``[{"number", "in_book", "status", "loops",
"needs": [{"kit", "seal", "blanks", "note"}]}]``; findings are those of ``rangebook lint --format json``. ``url`` counts from the top of
the site.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict
from typing import Any

from rangebook.desk.impact.phrases import alarm_words, cause_words, circuits_words
from rangebook.desk.needs import need_data, needs_data
from rangebook.revisions.chains import ChainChange, EndSeen
from rangebook.revisions.report import FileChange, Impact
from rangebook.revisions.safety_circuits import CircuitChange
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
        "verdicts": [_verdict(one) for one in report.verdicts],
        "gone": [asdict(one) for one in report.gone],
        "chains": [_chain(one) for one in report.chains],
        "findings": {"came": [one.as_data() for one in report.came], "went": [one.as_data() for one in report.went]},
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
            {"line": one.mark.line, "column": one.mark.column, "message": problem_words(one), "fix": problem_fix(one)}
            for one in change.problems
        ],
    }


def _circuits(change: CircuitChange) -> dict[str, Any]:
    old, new = circuits_words(change.old), circuits_words(change.new)
    return {"family": change.family, "what": change.what, "name": change.name, "old": old, "new": new}


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
        "unused_pins": list(side.unused_pins),
        "reasons": [reason_data(one) for one in side.reasons],
        "safety": [reason_words(one) for one in side.safety],
    }


def _chain(change: ChainChange) -> dict[str, Any]:
    def ends(listed: tuple[EndSeen, ...] | None) -> list[dict[str, Any]] | None:
        return None if listed is None else [{**asdict(one), "needs": [need_data(need) for need in one.needs]} for one in listed]

    return {"number": change.number, "family": change.family, "broken": change.broken, "old": ends(change.old), "new": ends(change.new)}
