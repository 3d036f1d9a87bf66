"""Two layers of a book that say different things.

Of a book that is laid over another one (``layers:`` in ``book.yml``, or ``--root`` several times) the upper layer adds what it knows.
Where it says something else than the layer below, it names a source for that beside it: in ``sources`` of the part, or of the entry for
its plugs, mounts and vehicles; ``hearsay`` is none. ``pins``, ``wires``, ``moves`` and ``mates`` name all that there is, so one more is
something else too. No source lets a layer take a safety circuit from a pin or a wire.

Why it matters: the shop that wrote the upper layer and those who keep the lower one cannot both be right. Which of them is decides what
somebody is told to fit, so nothing is built on either before one of them has looked.

Fails: the layer below says that another number took its place.

    # above: entries/switches/tamblin-gate.md
    kind: switch
    id: tamblin-gate
    parts:
      - number: TB-20417
        status: discontinued

Mended: what is added is something else, or what is said already.

    # above: entries/switches/tamblin-gate.md
    kind: switch
    id: tamblin-gate
    parts:
      - number: TB-20417
        status: superseded
        stamped: [K4]
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rangebook.book.laid_over import Owner, is_settled, loosens
from rangebook.book.places import name_of_path
from rangebook.lint.context import Circuits
from rangebook.lint.rule import Line, Problem, Severity, Told, every_kind, problem, rule
from rangebook.reading.laid_over import written


def check_entry(owner: Owner, context: Circuits) -> Iterator[Problem]:
    """Yield a finding at what the upper layer says."""
    entry = owner.entry
    for clash in entry.clashes:
        if is_settled(clash, context.circuits):
            continue
        taken = loosens(clash, context.circuits) if clash.sourced else ()
        found = problem(
            owner,
            clash.path,
            "safety" if taken else "denied" if clash.lower is None else "otherwise",
            at=name_of_path(entry.front, clash.path),
            upper=written(clash.upper),
            lower=written(clash.lower),
            above=entry.called(clash.above.layer),
            below=entry.called(clash.below.layer),
            line=Line(clash.below.line),
            circuits=taken,
        )
        yield replace(found, mark=clash.above)


_FIX = "find out which is so: what {above} says stands with its source beside it (`sources`); else take it out here, or mend it in {below}"

MESSAGES = {
    "otherwise": Told("{above} says `{upper}` of {at}, and {below} says `{lower}` in line {line}; no source is named for it", _FIX),
    "denied": Told("{above} has {at} (`{upper}`), and by what {below} lists in line {line} there is none; no source is named for it", _FIX),
    "safety": Told(
        "{above} takes {circuits|code|and} from {at} and says `{upper}`; {below} says `{lower}` in line {line}, and safety hangs on it",
        "whatever its source, this is mended in {below}: take it out here",
    ),
}

RULE = rule(__name__, __doc__, Severity.ERROR, *every_kind(Circuits, check_entry), messages=MESSAGES)
