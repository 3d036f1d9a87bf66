"""Facts that contradict each other: nothing that goes by them is better than unknown, and the linter tells of the same ones.

Each contradiction is planted in one small book in which everything else goes on.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from rangebook.book.load import load_texts
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.verdict import GOES_ON, VerdictKind
from rangebook.lint.engine import lint
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Severity
from rangebook.reading.stacked import Stacked
from rangebook.reasons.codes import Contradiction, FactsContradict
from tests.making import MOUNT, application, book, connector, family, part, plug, texts

TODAY = date(2026, 6, 1)
POSITIONS = ["P", "R", "N", "D"]
PINS = {
    "1": "start_feed",
    "2": "start_out",
    "3": "backup_feed",
    "4": "backup_out",
    "5": "range_signal",
    "6": "range_return",
    "7": "supply",
    "8": "signal_ground",
}
CONTACTS = [
    {"pins": ["1", "2"], "closed": ["P", "N"]},
    {"pins": ["3", "4"], "closed": ["R"]},
    {"pins": ["5", "6"], "ohms": {"P": 4300, "R": 2000, "N": 1100, "D": 620}, "tolerance_percent": 5},
]
SIGNAL = {"pin": "5", "supply": "7", "ground": "8", "kind": "volts", "values": {"P": 1, "R": 2, "N": 3, "D": 4}, "tolerance": 0.1}
SOURCE = {"sources": [{"kind": "seen"}]}

Entries = dict[str, Any]


def clean() -> Entries:
    """A family with three parts: the original, one like it, and one on another housing that a kit leads to."""
    listed = [
        part("A", pins=dict(PINS), contacts=copy.deepcopy(CONTACTS), status="current", **SOURCE),
        part("B", pins=dict(PINS), contacts=copy.deepcopy(CONTACTS), status="current", **SOURCE),
        part("K", connector="d", pins=dict(PINS), contacts=copy.deepcopy(CONTACTS), status="current", **SOURCE),
    ]
    kit = {
        "kind": "kit",
        "id": "k",
        "number": "K-1",
        "title": "renewal",
        "from": "c",
        "to": "d",
        "moves": {str(at): str(at) for at in range(1, 9)},
        "seals": [8],
        "blanks": 0,
        **SOURCE,
    }
    plugs = {"p": plug({cavity: PINS[cavity] for cavity in "123456"})}
    made = family(
        "f",
        listed,
        positions=list(POSITIONS),
        mounts={"boss": copy.deepcopy(MOUNT)},
        plugs=plugs,
        applications=[application("p", "A", lever=list(POSITIONS))],
    )
    return {"c": connector("c", 8, **SOURCE), "d": connector("d", 8, **SOURCE), "f": made, "k": kit}


def of(entries: Entries, number: str) -> dict[str, Any]:
    return next(one for one in entries["f"]["parts"] if one["number"] == number)


def set_in(*path: Any, to: Any) -> Callable[[Entries], None]:
    def change(entries: Entries) -> None:
        node: Any = entries
        for step in path[:-1]:
            node = of(node, step[1:]) if isinstance(step, str) and step.startswith("#") else node[step]
        node[path[-1]] = to

    return change


def over(name: str, upper: Entries) -> Callable[[Entries], None]:
    """What another layer says of an entry, without a source."""
    return lambda entries: entries.update(over={"kind": entries[name]["kind"], "id": name, **copy.deepcopy(upper)})


def both(*changes: Callable[[Entries], None]) -> Callable[[Entries], None]:
    def change(entries: Entries) -> None:
        for one in changes:
            one(entries)

    return change


def gives(volts: Any) -> Callable[[Entries], None]:
    return set_in("f", "plugs", "p", "wires", "1", "gives_volts", to=volts)


ALL = {"A", "B", "K"}

PLANTED: list[tuple[str, Callable[[Entries], None], set[str]]] = [
    # rule, the change, and the parts that must not go on any more
    ("contact-without-pin", set_in("#B", "contacts", 2, "pins", to=["5", "9"]), {"B"}),
    ("contact-without-pin", lambda e: of(e, "B")["contacts"].append({"pins": ["9", "case"], "closed": []}), {"B"}),
    ("contact-without-pin", lambda e: of(e, "A")["contacts"].append({"pins": ["9", "case"], "closed": []}), ALL),
    ("contact-to-itself", lambda e: of(e, "B")["contacts"].append({"pins": ["7", "7"], "closed": ["P"]}), {"B"}),
    ("signal-without-pin", set_in("#B", "signals", to=[{**SIGNAL, "pin": "9", "supply": "7"}]), {"B"}),
    ("signal-facts", set_in("#B", "signals", to=[{**SIGNAL, "protocol": "house"}]), {"B"}),
    ("signal-twice", set_in("#B", "signals", to=[SIGNAL, SIGNAL]), {"B"}),
    ("pin-outside-housing", set_in("#B", "pins", "9", to="not_connected"), {"B"}),
    ("unknown-position", lambda e: of(e, "B")["contacts"].append({"pins": ["7", "8"], "closed": ["X"]}), {"B"}),
    ("unknown-position", set_in("#B", "contacts", 2, "ohms", "X", to=50), {"B"}),
    ("unknown-position", set_in("#A", "contacts", 2, "ohms", "X", to=50), ALL),
    ("unknown-position", set_in("f", "applications", 0, "lever", to=["P", "R", "N", "D", "X"]), ALL),
    ("position-twice", lambda e: of(e, "B")["contacts"].append({"pins": ["7", "8"], "closed": ["P", "P"]}), {"B"}),
    ("position-twice", set_in("f", "positions", to=["P", "R", "N", "D", "D"]), ALL),
    ("position-twice", set_in("f", "applications", 0, "lever", to=["P", "R", "N", "D", "D"]), ALL),
    ("lever-order", both(set_in("f", "positions", to=["P", "N", "R", "D"]), set_in("f", "applications", 0, "lever", to=None)), ALL),
    ("lever-order", set_in("f", "applications", 0, "lever", to=["P", "N", "R", "D"]), ALL),
    ("positions-alike", both(*(set_in(f"#{one}", "contacts", 2, "ohms", "D", to=1100) for one in "ABK")), ALL),
    ("windows-overlap", both(*(set_in(f"#{one}", "contacts", 2, "ohms", "D", to=1050) for one in "ABK")), ALL),
    ("windows-overlap", set_in("#B", "contacts", 2, "tolerance_percent", to=40), {"B"}),
    ("start-path", both(*(set_in(f"#{one}", "contacts", 0, "closed", to=["P"]) for one in "ABK")), ALL),
    ("start-path", both(*(set_in(f"#{one}", "contacts", 0, "closed", to=["P", "N", "D"]) for one in "ABK")), ALL),
    ("backup-lamp", both(*(set_in(f"#{one}", "contacts", 1, "closed", to=[]) for one in "ABK")), ALL),
    ("unknown-circuit", set_in("#B", "pins", "2", to="strat_out"), {"B"}),
    ("unknown-circuit", set_in("f", "plugs", "p", "wires", "2", "circuit", to="strat_out"), ALL),
    ("wire-circuit-disagrees", set_in("f", "plugs", "p", "wires", "5", "circuit", to="start_out"), ALL),
    ("unknown-connector", set_in("#B", "connector", to="nowhere"), {"B"}),
    (
        "unknown-connector",
        both(*(set_in(f"#{one}", "connector", to="nowhere") for one in "AB"), set_in("f", "plugs", "p", "connector", to="nowhere")),
        ALL,
    ),
    ("unknown-mount", both(*(set_in(f"#{one}", "mount", to="nowhere") for one in "ABK")), ALL),
    ("hole-too-small", set_in("f", "mounts", "boss", "bolts", 0, "hole_mm", to=5), ALL),
    ("wire-outside-plug", set_in("f", "plugs", "p", "wires", "9", to={"circuit": "ground"}), ALL),
    ("wire-outside-plug", set_in("f", "plugs", "p", "reads", to={"pins": ["5", "8"], "pull_up_ohms": 1000, "volts": 5}), ALL),
    ("wire-outside-plug", set_in("f", "applications", 0, "optional_cavities", to=["7"]), ALL),
    ("cavity-twice", set_in("c", "rows", to=[["1", "2", "3", "4", "5", "6", "7", "8", "8"]]), ALL),
    ("cavity-twice", set_in("d", "rows", to=[["1", "2", "3", "4", "5", "6", "7", "8", "8"]]), {"K"}),
    ("duplicate-number", lambda e: e["f"]["parts"].append({**copy.deepcopy(of(e, "B")), "number": "b"}), {"B"}),
    ("duplicate-number", set_in("k", "number", to="B"), {"B", "K"}),
    ("kit-moves", set_in("k", "moves", "9", to="7"), {"K"}),
    ("terminal-outside", set_in("k", "terminals", to={"9": {"width_mm": 6.3}}), {"K"}),
    ("terminal-outside", set_in("c", "terminals", to={"9": {"width_mm": 6.3}}), ALL),
    ("supply-beyond", both(set_in("#A", "signals", to=[{**SIGNAL, "supply": "1", "supply_volts": 5}]), gives(12)), ALL),
    ("supply-beyond", both(set_in("#A", "signals", to=[{**SIGNAL, "supply": "1", "supply_volts": 12}]), gives([14, 11])), ALL),
    ("kit-moves", set_in("k", "moves", "8", to="9"), {"K"}),
    ("kit-seals", set_in("k", "seals", to=[6, 12]), {"K"}),
    ("original-misfit", set_in("f", "applications", 0, "came_with", to="K"), ALL),
    ("unknown-position", set_in("f", "means", to={"X": "R"}), ALL),
    ("unknown-position", set_in("f", "plugs", "p", "cranks", to={"in": ["P", "X"]}), ALL),
    ("position-meaning", set_in("f", "means", to={"D": "N"}), ALL),
    ("position-meaning", set_in("f", "means", to={"R": "N"}), ALL),
    ("cranking", set_in("f", "plugs", "p", "cranks", to={"in": ["P", "N", "D"]}), ALL),
    ("cranking", set_in("f", "applications", 0, "cranks", to={"by": "module", "in": ["P", "R"], **SOURCE}), ALL),
    ("overlap-apart", lambda e: of(e, "B")["contacts"].append({"pins": ["7", "8"], "closed": ["D"], "overlaps": ["P"]}), {"B"}),
    ("wire-outside-plug", set_in("f", "plugs", "p", "loops", to=[["7", "9"]]), ALL),
    ("kit-moves", set_in("k", "loops", to=[["7", "9"]]), {"K"}),
    ("layers-contradict", over("f", {"parts": [{"number": "b", "status": "withdrawn"}]}), {"B"}),
    ("layers-contradict", over("f", {"parts": [{"number": "B", "contacts": CONTACTS[:2]}]}), {"B"}),
    ("layers-contradict", over("f", {"plugs": {"p": {"wires": {"2": {"circuit": "range_signal"}}}}}), ALL),
    ("layers-contradict", over("f", {"mounts": {"boss": {"shaft": {"shape": "square"}}}}), ALL),
    ("layers-contradict", over("f", {"positions": ["P", "R", "D", "N"]}), ALL),
    ("layers-contradict", over("d", {"rows": [["8", "7", "6", "5", "4", "3", "2", "1"]]}), {"K"}),
    ("layers-contradict", over("k", {"moves": {"1": "2"}}), {"K"}),
    ("id-and-file", lambda e: e.update(again={**e["c"], "title": "another"}), ALL),
]


def planted(change: Callable[[Entries], None]) -> list[dict[str, Any]]:
    entries = clean()
    change(entries)
    for one in entries["f"]["applications"]:
        if one.get("lever") is None:
            del one["lever"]
    return list(entries.values())


def files_of(entries: list[dict[str, Any]]) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for one in entries:
        (name, data), *_ = texts(one).items()
        if "title" not in one:
            found[name] = Stacked.of([(0, "shared", found[name]), (1, "ours", data)])
            continue
        found[name if name not in found else name.replace(".md", "-again.md")] = data
    return found


def test_the_clean_book_goes_on_and_has_nothing_against_it() -> None:
    loaded = load_texts(files_of(list(clean().values())))
    fitter = Fitter(loaded.book)
    (seat,) = fitter.seats
    assert {one.number: fitter.verdict(seat, one).kind for one in loaded.book.parts} == {
        "A": VerdictKind.STRAIGHT,
        "B": VerdictKind.STRAIGHT,
        "K": VerdictKind.WITH_PARTS,
    }
    assert [one for one in lint(loaded, TODAY) if one.severity is not Severity.HINT] == []


@pytest.mark.parametrize(("rule", "change", "parts"), PLANTED, ids=[f"{rule}-{at}" for at, (rule, *_) in enumerate(PLANTED)])
def test_nothing_is_built_on_it_allowed_or_not(rule: str, change: Callable[[Entries], None], parts: set[str]) -> None:
    files = files_of(planted(change))
    loaded = load_texts(files)
    assert rule in {one.rule for one in lint(loaded, TODAY)}, "the linter tells of it"
    fitter = Fitter(loaded.book)
    (seat,) = fitter.seats
    for one in loaded.book.parts:
        verdict = fitter.verdict(seat, one)
        if one.number.upper() in parts:
            assert verdict.kind not in GOES_ON, (one.number, verdict)
            kinds = {reason.detail.contradiction for reason in verdict.checked if isinstance(reason.detail, FactsContradict)}
            assert verdict.kind is VerdictKind.NO or Contradiction(rule) in kinds, (one.number, kinds)
        else:
            assert verdict.kind in GOES_ON, (one.number, [reason.code for reason in verdict.reasons])


def test_each_contradiction_is_a_rule_and_planted() -> None:
    assert {str(one) for one in Contradiction} <= set(all_rules())
    assert {rule for rule, *_ in PLANTED} == {str(one) for one in Contradiction}


FEEDS_NONE = {
    "allowance": "it is about what entries allow",
    "unseen-character": "such an entry is not taken in",
    "unsafe-loop": "the safety check comes to no by itself",
    "condition-impossible": "such a condition is not known to hold of any vehicle: what goes by it comes to unknown by itself",
    "wire-size": "judged where a kit's plug takes the wire",
    "confusable-number": "two numbers look alike; what is stated of each part is not touched",
    "dead-link": "prose",
    "duplicate-key": "the entry is not taken in",
    "front-matter": "the entry is not taken in",
    "hole-too-wide": "the check of the mount comes to unknown by itself",
    "hub-detents": "the check of the mount goes by detents only where they agree with the lever",
    "merge-marker": "prose; in the front matter the entry is not taken in",
    "mates-contradicted": "the check of mating comes to no, or to unknown, by itself",
    "impossible-date": "no verdict goes by a date",
    "lever-incomplete": "the safety check comes to unknown by itself",
    "photo": "no verdict goes by a picture",
    "prose-bounds": "prose",
    "rating-below-load": "the check of ratings comes to no by itself",
    "schema": "the entry is not taken in",
    "shelf-line": "no verdict goes by what lies on the shelf",
    "slot-too-long": "the check of the mount comes to unknown by itself",
    "status-and-links": "no verdict goes by a status or a successor",
    "supersession-back-in-time": "a maker's claim, which verdicts are held against",
    "supersession-contradicted": "a maker's claim, which verdicts are held against",
    "supersession-cycle": "a maker's claim, which verdicts are held against",
    "tolerance-too-wide": "the check of behaviour comes to unknown by itself",
    "torque-and-bolt": "no verdict goes by a torque",
    "unknown-gearbox": "no verdict goes by a gearbox's name",
    "unknown-kit": "a maker's claim of what is needed",
    "unknown-part": "a vehicle whose part is not in the book has no seat",
    "unknown-plug": "a vehicle whose plug is not described has no seat",
    "unreadable-file": "the entry is not taken in",
    "unsafe-prose": "prose",
    "yaml-feature": "the entry is not taken in",
    "yaml-syntax": "the entry is not taken in",
    "years-backwards": "no verdict goes by years",
}
"""Rules of error level that no contradiction stands for, and why. Who makes a rule decides which it is."""


def test_every_error_feeds_a_verdict_or_is_said_not_to() -> None:
    errors = {name for name, rule in all_rules().items() if rule.severity is Severity.ERROR}
    named = {str(one) for one in Contradiction}
    assert errors - named == set(FEEDS_NONE)
    assert not named & set(FEEDS_NONE)


def test_which_of_two_is_meant_is_known_when_the_other_goes() -> None:
    """The verdicts of two states are not shared where a number is there twice in one of them."""
    entries = planted(lambda e: e["f"]["parts"].append({**copy.deepcopy(of(e, "B")), "number": "b"}))
    made = book(*entries)
    fitter = Fitter(made)
    (seat,) = fitter.seats
    assert fitter.verdict(seat, made.by_number["B"]).kind is VerdictKind.UNKNOWN
    again = Fitter(book(*clean().values()))
    assert again.verdict(again.seats[0], again.book.by_number["B"]).kind is VerdictKind.STRAIGHT
