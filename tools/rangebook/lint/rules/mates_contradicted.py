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

from rangebook.book.model import Connector, Mate
from rangebook.fitting.mating import map_faults
from rangebook.lint.context import Housings
from rangebook.lint.mates import mates_of
from rangebook.lint.rule import EntryCheck, Problem, Severity, finding, rule
from rangebook.reasons.codes import CavitiesNotMatched, OutlineDiffers, RowsDiffer, SealingDiffers, TerminalDiffers, TerminalMade
from rangebook.reasons.reason import Detail
from rangebook.words.lists import enumerated


def check_connector(connector: Connector, context: Housings) -> Iterator[Problem]:
    """Yield a finding at each mate that the two entries contradict, and at each cavity of a map that cannot be right."""
    listed: set[str] = set()
    for mate in connector.mates:
        if mate.connector == connector.id:
            yield finding(connector, mate.path, "it lists itself; its own plug goes on it as it is", "take it out of `mates`")
        elif mate.connector in listed:
            yield finding(connector, mate.path, f"{mate.connector} is listed twice; expected each once", "take one out")
        listed.add(mate.connector)
    for mate, plug, reasons in mates_of(connector, context):
        yield from _of_map(connector, plug, mate)
        for reason in reasons:
            told = _told(plug, connector, reason.detail)
            if told is not None and not (mate.cavities is not None and isinstance(reason.detail, CavitiesNotMatched)):
                yield finding(connector, mate.path, f"the plug of {plug.id} is said to go on {connector.id}, but {told}", _FIX)


_FIX = "put the two side by side and correct the entry that is wrong, or take it out of `mates`"


def _of_map(connector: Connector, plug: Connector, mate: Mate) -> Iterator[Problem]:
    for cavity, fault in map_faults(plug, connector, mate.cavities or {}).items():
        path = (*mate.path, "cavities", cavity)
        met = (mate.cavities or {})[cavity]
        if fault == "plug":
            told = f"a cavity {cavity} of the plug, which {plug.id} does not have (it has {enumerated(plug.cavities)})"
        elif fault == "housing":
            told = f"cavity {cavity} of the plug meets {met}, which {connector.id} does not have (it has {enumerated(connector.cavities)})"
        else:
            told = f"two cavities of the plug meet {met}; expected one for each"
        yield finding(connector, path, told, "look which cavity meets which and correct the map", key=fault == "plug")


def _told(plug: Connector, housing: Connector, detail: Detail) -> str | None:
    match detail:
        case RowsDiffer():
            return "their cavities are not in the same places; where the plug goes on all the same a map says which cavity meets which"
        case CavitiesNotMatched():
            return "their cavities have other labels; a map has to say which meets which"
        case OutlineDiffers():
            return f"the one is {plug.outline} and the other {housing.outline}"
        case TerminalDiffers(one, other):
            return f"they are made for other terminals: {_made(one)} against {_made(other)}"
        case SealingDiffers():
            return f"{plug.id if plug.sealed else housing.id} is sealed and the other is not"
    return None


def _made(terminal: TerminalMade) -> str:
    width = None if terminal.width_mm is None else f"{terminal.width_mm:g} mm"
    sex = terminal.on_switch and f"{terminal.on_switch} on the switch"
    return ", ".join(one for one in (terminal.style, width, sex) if one)


RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Connector, Housings, check_connector))
