"""A mount of which is not stated where its hub stands, or which spacers it has.

A mount has ``hub`` with ``position``, ``at_deg`` and ``steps_deg``, and each of its bolts ``spacer_mm``, 0 where there is none.

Why it matters: switches on one mount of a family share these without saying so. Whether one of another mount goes on cannot be told
without them: its bolts may stand right and its contacts be those of another position, or its spacers be missing.

Fails:

    kind: switch
    mounts:
      short-boss:
        shaft: {shape: double-flat, across_mm: 9.5}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
          - {at_mm: 43.5, at_deg: 205, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}

Mended:

    kind: switch
    mounts:
      short-boss:
        shaft: {shape: double-flat, across_mm: 9.5}
        hub: {position: N, at_deg: 110, steps_deg: [18, 16, 16, 18, 18]}
        bolts:
          - {at_mm: 43.5, at_deg: 25, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
          - {at_mm: 43.5, at_deg: 205, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: 3}
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Family, Hub
from rangebook.lint.context import Context
from rangebook.lint.rule import EntryCheck, Problem, Severity, Told, problem, rule
from rangebook.words.lists import some


def check_family(family: Family, context: Context) -> Iterator[Problem]:
    """Yield a finding for each mount that some part has and that lacks one of these."""
    used = {part.mount for part in family.designs}
    for mount in family.mounts.values():
        bare = [index + 1 for index, bolt in enumerate(mount.bolts) if bolt.spacer_mm is None]
        no_hub = not _is_whole(mount.hub)
        if (no_hub or bare) and mount.bolts and mount.name in used:
            yield problem(
                family,
                mount.path,
                "lacks",
                key=True,
                mount=mount.name,
                no_hub=no_hub,
                no_spacer=bool(bare),
                bolts=some(map(str, bare)),
            )


def _is_whole(hub: Hub | None) -> bool:
    return hub is not None and hub.position is not None and hub.at_deg is not None and bool(hub.steps_deg)


MESSAGES = {
    "lacks": Told(
        [
            "the mount {mount} does not state ",
            {"given": "no_hub", "yes": "where its hub stands in each position (`hub`)"},
            {"given": "no_hub", "yes": {"given": "no_spacer", "yes": " nor "}},
            {"given": "no_spacer", "yes": "the spacer of bolt {bolts|some} (`spacer_mm`, 0 where there is none)"},
        ],
        "lever in N, plug side up and latch up: a protractor from where the bolts are counted to the mark of the hub, then from "
        "detent to detent; a calliper for the spacers",
    ),
}

RULE = rule(__name__, __doc__, Severity.HINT, EntryCheck(Family, Context, check_family), messages=MESSAGES)
