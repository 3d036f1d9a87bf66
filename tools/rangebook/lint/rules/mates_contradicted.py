"""A plug that is said to go on a housing, and by their own entries does not.

A connector that a housing lists in ``mates`` has its outline, its style, width and sex of terminals and its sealing. It has the same
rows as well, or the mate states a map of the cavities by place: then each cavity of the map is there, no two meet one, and each
connector is listed once.

Why it matters: the answer for every vehicle with that plug goes by it. Wires are read by the labels of cavities, so two rows in
another order cross wires that a mechanic never sees: the start feed may meet the backup lamp.

Fails: an open plug with narrow terminals on a sealed housing.

    # entries/connectors/oval-9-open.md
    kind: connector
    id: oval-9-open
    title: Nine-way oval, open
    outline: oval
    rows:
      - [1, 2, 3, 4, 5]
      - [6, 7, 8, 9]
    terminal: {style: blade, width_mm: 1.5, on_switch: male}
    sealed: no

and

    # entries/connectors/oval-9.md
    kind: connector
    id: oval-9
    mates: [oval-9-open]

Mended:

    # entries/connectors/oval-9-open.md
    kind: connector
    id: oval-9-open
    title: Nine-way oval, early
    outline: oval
    rows:
      - [1, 2, 3, 4, 5]
      - [6, 7, 8, 9]
    terminal: {style: blade, width_mm: 2.8, on_switch: male}
    sealed: yes

and

    # entries/connectors/oval-9.md
    kind: connector
    id: oval-9
    mates: [oval-9-open]
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rangebook.book.model import Connector, Mate
from rangebook.fitting.mating import map_faults
from rangebook.lint.context import Housings
from rangebook.lint.mates import mates_of
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.reasons.codes import CavitiesNotMatched, OutlineDiffers, RowsDiffer, SealingDiffers, TerminalDiffers
from rangebook.reasons.reason import Detail
from rangebook.words.lists import some


def check_connector(connector: Connector, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each mate that the two entries contradict, and at each cavity of a map that cannot be right."""
    listed: set[str] = set()
    for mate in connector.mates:
        if mate.connector == connector.id:
            yield problem(connector, mate.path, "itself")
        elif mate.connector in listed:
            yield problem(connector, mate.path, "twice", plug=mate.connector)
        listed.add(mate.connector)
    for mate, plug, reasons in mates_of(connector, context):
        yield from _of_map(connector, plug, mate)
        for reason in reasons:
            told = _told(plug, connector, reason.detail)
            if told is not None and not (mate.cavities is not None and isinstance(reason.detail, CavitiesNotMatched)):
                code, values = told
                yield problem(connector, mate.path, code, plug=plug.id, housing=connector.id, **values)


def _of_map(connector: Connector, plug: Connector, mate: Mate) -> Iterator[Problem]:
    for cavity, fault in map_faults(plug, connector, mate.cavities or {}).items():
        yield problem(
            connector,
            (*mate.path, "cavities", cavity),
            {"plug": "map_plug", "housing": "map_housing"}.get(fault, "map_twice"),
            key=fault == "plug",
            cavity=cavity,
            met=(mate.cavities or {})[cavity],
            plug=plug.id,
            plug_cavities=some(plug.cavities),
            housing=connector.id,
            cavities=some(connector.cavities),
        )


def _told(plug: Connector, housing: Connector, detail: Detail) -> tuple[str, dict[str, Any]] | None:
    match detail:
        case RowsDiffer():
            return "rows", {}
        case CavitiesNotMatched():
            return "labels", {}
        case OutlineDiffers():
            return "outline", {"plug_outline": plug.outline, "outline": housing.outline}
        case TerminalDiffers(one, other):
            return "terminal", {"own": one, "other": other}
        case SealingDiffers():
            return "sealing", {"sealed": plug.id if plug.sealed else housing.id}
    return None


_SAID = "the plug of {plug} is said to go on {housing}, but "
_MAP = "look which cavity meets which and correct the map"
_FIX = "put the two side by side and correct the entry that is wrong, or take it out of `mates`"

MESSAGES = {
    "itself": Told("it lists itself; its own plug goes on it as it is", "take it out of `mates`"),
    "twice": Told("{plug} is listed twice; expected each once", "take one out"),
    "map_plug": Told(
        "a cavity {cavity} of the plug, which {plug} does not have (it has {plug_cavities|some})", _MAP, beside=("plug_cavities",)
    ),
    "map_housing": Told(
        "cavity {cavity} of the plug meets {met}, which {housing} does not have (it has {cavities|some})", _MAP, beside=("cavities",)
    ),
    "map_twice": Told("two cavities of the plug meet {met}; expected one for each", _MAP),
    "rows": Told(
        [_SAID, "their cavities are not in the same places; where the plug goes on all the same a map says which cavity meets which"],
        _FIX,
    ),
    "labels": Told([_SAID, "their cavities have other labels; a map has to say which meets which"], _FIX),
    "outline": Told([_SAID, "the one is {plug_outline} and the other {outline}"], _FIX),
    "terminal": Told([_SAID, "they are made for other terminals: {own|terminal_stated} against {other|terminal_stated}"], _FIX),
    "sealing": Told([_SAID, "{sealed} is sealed and the other is not"], _FIX),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Connector, Housings, check_connector), messages=MESSAGES)
