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
from rangebook.lint.fixing.edits import Change, Edit, Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.layout import Mapping, Scalar, Sequence, at
from rangebook.lint.fixing.page import Page
from rangebook.lint.rule import BookCheck, Problem, Severity, finding, rule
from rangebook.lint.suppression import Standing, Suppression
from rangebook.lint.words import Nearest, meant
from rangebook.words.lists import enumerated

_WORD = re.compile(r"[^\W\d_]{2,}")
_EMPTY = frozenset({"ok", "okay", "fine", "allow", "allowed", "todo", "known", "yes", "none"})
"""Words that say nothing of why."""
WORDS = 3
"""A reason has at least so many words of its own. This book's own choice."""
_PLAIN = re.compile(r"[\w./-]+( [\w./-]+)*\Z", re.ASCII)


def check_allowed(context: Allowed) -> Iterator[Problem]:
    """Yield a finding for each allowance that cannot stand."""
    nearest = Nearest(context.rules)
    for one in context.suppressions:
        wrong = _as_it_stands(one, nearest)
        if wrong is not None:
            key, message, fix = wrong
            yield finding(one.entry, (*one.stated.path, key), message, fix)
        if not _is_reason(one.stated.reason, one.stated.rule):
            yield finding(
                one.entry,
                (*one.stated.path, "reason"),
                f"no reason is given why {one.stated.rule} is allowed",
                "say in a few words of your own why its finding stands",
            )


def _as_it_stands(one: Suppression, nearest: Nearest) -> tuple[str, str, str] | None:
    """The key that is wrong, what of it, and what to do; ``None`` where nothing is."""
    name, place = one.stated.rule, one.stated.at
    where = "in this entry" if place is None else f"at {place}"
    match one.standing:
        case Standing.NO_SUCH_RULE:
            return "rule", f"there is no rule {name}", meant(nearest(name), "see `rangebook rules` for their names")
        case Standing.NOT_ALLOWED:
            return "rule", f"a finding of {name} cannot be allowed", "mend what it finds, and take this line out"
        case Standing.TWICE:
            return "rule", f"{name} is allowed {where} a second time", "keep one of the two lines"
        case Standing.NO_PLACE:
            fix = f"name a place where {name} finds something{_listed(one)}, as in `parts.TB-20417.contacts.2`"
            return "at", f"this entry has no place {place}", fix
        case Standing.TOO_WIDE:
            return "at", f"{place} is not one place but all of its kind", f"name the one whose finding stands{_listed(one)}"
        case Standing.SEVERAL:
            message = f"{name} finds {len(one.places)} things in this entry, and which of them stands is not said"
            return "rule", message, f"give each that stands a line with its place in `at`{_listed(one)}"
        case Standing.UNNEEDED:
            return "rule", f"{name} finds nothing {where}, so there is nothing to allow", f"take the line out{_elsewhere(one)}"
    return None


def _listed(one: Suppression) -> str:
    return f" ({enumerated(one.places)})" if one.places else ""


def _elsewhere(one: Suppression) -> str:
    return f", or correct `at`: it finds something at {enumerated(one.places)}" if one.places else ""


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
        written = place if _PLAIN.match(place) else '"' + place.replace("\\", "\\\\").replace('"', '\\"') + '"'
        before = ", " if node.flow else "\n" + " " * (page.mark(node.start).column - 1)
        edit = Edit(name.end, name.end, f"{before}at: {written}")
        yield Fix(name.start, f"{name.value} is allowed at {place}", (edit,), (Change(("allow", index, "at"), place),))


RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    BookCheck(Allowed, check_allowed),
    fixer=Fixer("allowed-place", Safety.VALUE, Turn.VALUES, find),
)
