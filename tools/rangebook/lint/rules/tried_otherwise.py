"""What was tried in the bay, and what the facts say of it.

A record under ``fitted`` agrees with what is computed for its vehicle: what worked there is not a part that does not fit, and what failed
there is not one that goes on. Where the book has the vehicle in several forms the record is only against the answer if it is against
each, because it does not say which of them it was; one that stands under a vehicle is of that one. An answer that is not known is
contradicted by nothing: the page *What is missing* lists such records, for whoever made one can measure what the book lacks.

Why it matters: one of the two is wrong. Either a fact of the part, the plug or the mount is mistaken, and then the next vehicle gets the
wrong answer, or the record is, of another vehicle or another part. The record never changes the answer; somebody has to look.

Fails: the part was proved in a vehicle whose plug does not go on it.

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        fitted: [{on: 2026-03-02, by: bay 2, vehicle: Corran Delver 2.4, outcome: fails, note: "the starter turned in R"}]
        sources: [{kind: seen}]

Mended: it had been another part.

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}, tolerance_percent: 5}
        fitted: [{on: 2026-03-02, by: bay 2, vehicle: Corran Delver 2.4, outcome: works}]
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rangebook.fitting.tried import WORKED, Accord, Trial, accord, trials
from rangebook.fitting.verdict import Verdict, VerdictKind
from rangebook.lint.context import Verdicts
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule
from rangebook.reasons.reason import Check, Outcome


def check_seats(context: Verdicts) -> Iterator[Problem]:
    """Yield a finding at each record that contradicts every answer that it can be of."""
    for one in trials(context.book, context.seats):
        if one.part is None:
            continue
        found = [context.verdict(seat, one.part) for seat in one.seats]
        if accord(one.record.outcome, (verdict.kind for verdict in found)) is Accord.AGAINST:
            path = (*one.record.path, "outcome")
            yield problem(one.family, path, _code(one, found), number=one.part.number, vehicle=one.vehicle)


def _code(one: Trial, found: Iterable[Verdict]) -> str:
    if one.record.outcome == WORKED:
        return "unsafe" if any(_is_unsafe(verdict) for verdict in found) else "works"
    return "fails" if any(verdict.kind is VerdictKind.STRAIGHT for verdict in found) else "fails_with"


def _is_unsafe(verdict: Verdict) -> bool:
    return any(reason.check is Check.SAFETY and reason.outcome is Outcome.AGAINST for reason in verdict.checked)


_COMPARE = "compare part and plug with what is written of them; one of the two, or this record, is wrong"

MESSAGES = {
    "works": Told("{number} is said to have worked in the {vehicle}, but by what is stated of both it does not fit", _COMPARE),
    "unsafe": Told(
        "{number} is said to have worked in the {vehicle}, but by what is stated of both it is not safe there",
        "do not go by the record: measure both in every position of the lever, then correct what is stated, or the record",
    ),
    "fails": Told("{number} is said to have failed in the {vehicle}, but by what is stated of both it fits", _COMPARE),
    "fails_with": Told(
        "{number} is said to have failed in the {vehicle}, but by what is stated of both it goes on there with what the answer lists",
        "look whether that was there; if it was, one of the facts or the record is wrong, else allow this and say what was missing",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, BookCheck(Verdicts, check_seats), messages=MESSAGES)
