"""Ohms with a point where thousands are parted.

Of a resistance with three figures behind a point it is asked which is meant: ``4.700`` is read as 4.7 ohm.

Why it matters: in half of the world a point parts thousands, and a ladder that is a thousand times too low fits nothing, or something else.

Fails:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD, size_mm2: 1.0}
          2: {circuit: start_out, colour: YE, size_mm2: 1.0}
          3: {circuit: backup_feed, colour: GN, size_mm2: 0.75}
          4: {circuit: backup_out, colour: GNWH, size_mm2: 0.75}
          5: {circuit: range_signal, colour: VT, size_mm2: 0.35}
          6: {circuit: range_return, colour: BN, size_mm2: 0.35}
        reads: {pins: [5, 6], pull_up_ohms: 1.000, volts: 5}

Mended:

    kind: switch
    plugs:
      six-wire:
        connector: oval-9
        wires:
          1: {circuit: start_feed, colour: RD, size_mm2: 1.0}
          2: {circuit: start_out, colour: YE, size_mm2: 1.0}
          3: {circuit: backup_feed, colour: GN, size_mm2: 0.75}
          4: {circuit: backup_out, colour: GNWH, size_mm2: 0.75}
          5: {circuit: range_signal, colour: VT, size_mm2: 0.35}
          6: {circuit: range_return, colour: BN, size_mm2: 0.35}
        reads: {pins: [5, 6], pull_up_ohms: 1000, volts: 5}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.book.places import path_at
from rangebook.lint.context import TextContext
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, problem_at, rule
from rangebook.reading.entry import Entry
from rangebook.reading.located import Mark

_PARTED = re.compile(r"(?<=[:\[,]) *[\"']?(\d{1,3}\.\d{3})(?=[\"']?\s*(?:$|[,\]}]))", re.MULTILINE)
_POINT = re.compile(r"\.\d{3}")
_OHMS = frozenset({"ohms", "pull_up_ohms"})


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at each resistance that is typed so."""
    if entry.folder != "switches" or not _may_have_any(entry.source) or entry.front is None:
        return
    for number, line in enumerate(entry.source.split("\n")[: entry.prose_line - 1], start=1):
        for match in _PARTED.finditer(line):
            mark = Mark(number, match.start(1) + 1)
            if _OHMS.intersection(path_at(entry.front, mark)):
                typed = match.group(1)
                yield problem_at(entry, mark, "parted", typed=typed, ohms=float(typed), thousands=typed.replace(".", ""))


def _may_have_any(text: str) -> bool:
    """Whether any line may have one: soon seen, for most have no figures behind a point."""
    at = 0
    while found := _POINT.search(text, at):
        begins, ends = text.rfind("\n", 0, found.start()) + 1, text.find("\n", found.end())
        at = len(text) if ends < 0 else ends
        if _PARTED.search(text[begins:at]):
            return True
    return False


MESSAGES = {
    "parted": Told(
        "`{typed}` is read as {ohms|g} ohm",
        "write `{thousands}` if the point parts thousands, or `{ohms|g}` if it does not",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, TextCheck(TextContext, check_text), messages=MESSAGES)
