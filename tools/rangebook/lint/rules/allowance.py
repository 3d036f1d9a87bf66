"""An ``allow`` that allows nothing.

Each line under ``allow`` names a rule that there is and that may be allowed, with ``at`` the place of the one finding that stands, says
in three words or more why it does, and is needed: the rule has something to say there. A place is written from the top of the entry
down, with dots between: keys by name, parts by number, other items of a list counted from 1. Without ``at`` a line stands only where the
rule finds one thing in the whole entry. What keeps an entry from being read cannot be allowed; and what an answer would go by stays
unknown, allowed or not.

Why it matters: an allowance is a finding that nobody sees any more. One without a reason cannot be judged by a reviewer,
and one that is wider than its finding, or has outlived it, hides the next one.

Fails: the kit has its source, so there is nothing to allow.

    kind: kit
    allow: [{rule: missing-source, at: sources, reason: "the bag came without a slip"}]

Mended: here there is.

    kind: kit
    sources: []
    allow: [{rule: missing-source, at: sources, reason: "the bag came without a slip and nobody knows from where"}]
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.lint.context import Allowed
from rangebook.lint.fixing.edits import Change, Edit, Fix, quoted
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.layout import Mapping, Scalar, Sequence, at
from rangebook.lint.fixing.page import Page
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem, rule
from rangebook.lint.suppression import Standing
from rangebook.lint.words import NEAR, Nearest
from rangebook.words.lists import some

_WORD = re.compile(r"[^\W\d_]{2,}")
_EMPTY = frozenset({"ok", "okay", "fine", "allow", "allowed", "todo", "known", "yes", "none"})
"""Words that say nothing of why."""
WORDS = 3
"""A reason has at least so many words of its own. This book's own choice."""
_OF_ITS_PLACE = frozenset({Standing.NO_PLACE, Standing.TOO_WIDE})
_PLAIN = re.compile(r"[\w./-]+( [\w./-]+)*\Z", re.ASCII)


def check_allowed(context: Allowed) -> Iterator[Problem]:
    """Yield a finding for each allowance that cannot stand."""
    nearest = Nearest(lambda: context.rules)
    for one in context.suppressions:
        name = one.stated.rule
        if one.standing is not Standing.NEEDED:
            yield problem(
                one.entry,
                (*one.stated.path, "at" if one.standing in _OF_ITS_PLACE else "rule"),
                one.standing.name.lower(),
                rule=name,
                at=one.stated.at,
                count=len(one.places),
                places=some(one.places),
                near=nearest(name) if one.standing is Standing.NO_SUCH_RULE else None,
            )
        if not _is_reason(one.stated.reason, name):
            yield problem(one.entry, (*one.stated.path, "reason"), "no_reason", rule=name)


def _is_reason(reason: str, name: str) -> bool:
    words = {word.lower() for word in _WORD.findall(reason)}
    return len(words - _EMPTY - set(name.split("-"))) >= WORDS


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each line without a place whose one finding is known: the place is put behind its rule."""
    listed = at(page.layout, ("allow",)) if page.layout is not None else None
    for index, node in enumerate(listed.items if isinstance(listed, Sequence) else ()):
        place = page.known.allowed.get((page.file, index))
        names = {key.value: value for key, value in node.pairs} if isinstance(node, Mapping) else {}
        name = names.get("rule")
        if place is None or "at" in names or not isinstance(node, Mapping) or not isinstance(name, Scalar):
            continue
        written = place if _PLAIN.match(place) else quoted(place)
        before = ", " if node.flow else "\n" + " " * (page.mark(node.start).column - 1)
        edit = Edit(name.end, name.end, f"{before}at: {written}")
        yield Fix(name.start, "placed", (edit,), (Change(("allow", index, "at"), place),), {"rule": name.value, "at": place})


_WHERE = {"given": "at", "yes": "at {at}", "no": "in this entry"}
_PLACES = {"given": "places.first", "yes": " ({places|some})"}

MESSAGES = {
    "no_such_rule": Told("there is no rule {rule}", [NEAR, "see `rangebook rules` for their names"]),
    "not_allowed": Told("a finding of {rule} cannot be allowed", "mend what it finds, and take this line out"),
    "twice": Told(["{rule} is allowed ", _WHERE, " a second time"], "keep one of the two lines"),
    "no_place": Told(
        "this entry has no place {at}",
        ["name a place where {rule} finds something", _PLACES, ", as in `parts.TB-20417.contacts.2`"],
    ),
    "too_wide": Told("{at} is not one place but all of its kind", ["name the one whose finding stands", _PLACES]),
    "several": Told(
        "{rule} finds {count} things in this entry, and which of them stands is not said",
        ["give each that stands a line with its place in `at`", _PLACES],
        beside=("count",),
    ),
    "below": Told(
        ["{rule} finds nothing ", _WHERE, " in what this layer says; what another layer says is not allowed here"],
        ["take the line out; what is found stands", _PLACES, " and is mended, or allowed, in its own layer"],
    ),
    "unneeded": Told(
        ["{rule} finds nothing ", _WHERE, ", so there is nothing to allow"],
        ["take the line out", {"given": "places.first", "yes": ", or correct `at`: it finds something at {places|some}"}],
    ),
    "placed": Told("{rule} is allowed at {at}"),
    "no_reason": Told("no reason is given why {rule} is allowed", "say in a few words of your own why its finding stands"),
}

RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    BookCheck(Allowed, check_allowed),
    messages=MESSAGES,
    fixer=Fixer("allowed-place", Safety.VALUE, Turn.VALUES, find),
)
