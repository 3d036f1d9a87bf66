"""A mount that the family does not describe.

A part's ``mount`` is one of the names under its family's ``mounts``.

Why it matters: the mount says where the bolts stand and which spacers they carry. Without it nobody can tell whether the
switch bolts on.

Fails:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: shortboss
        status: current
        sources: [{kind: seen}]

Mended:

    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        status: current
        sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family
from rangebook.fitting.contradictions import unknown_mount
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.lint.words import NEAR, Nearest
from rangebook.words.lists import some


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding for each part whose mount is not among the family's."""
    nearest = Nearest(family.mounts.keys)
    for part in family.designs:
        for path, (mount,) in unknown_mount(family, part):
            yield problem(family, path, "unknown", part=part.number, mount=mount, mounts=some(family.mounts), near=nearest(mount))


MESSAGES = {
    "unknown": Told(
        "{part} has the mount {mount}, which is not described under `mounts` (there: {mounts|some})",
        [NEAR, "describe {mount} under `mounts`"],
        beside=("mounts",),
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Context, check_family), messages=MESSAGES)
