"""An ``allow`` that allows nothing.

Each line under ``allow`` names a rule that there is and that may be allowed, says why its finding stands, and is needed:
the rule has something to say in this entry. What keeps an entry from being read cannot be allowed.

Why it matters: an allowance is a finding that nobody sees any more. One without a reason cannot be judged by a reviewer,
and one that has outlived its finding hides the next one.

Fails: the kit has its source, so there is nothing to allow.

    kind: kit
    allow: [{rule: missing-source, reason: "the bag came without a slip"}]

Mended: here there is.

    kind: kit
    sources: []
    allow: [{rule: missing-source, reason: "the bag came without a slip and nobody knows from where"}]
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.lint.context import Allowed
from rangebook.lint.rule import BookCheck, Problem, Severity, finding, rule
from rangebook.lint.suppression import Standing
from rangebook.lint.words import Nearest, meant

_WORD = re.compile(r"[^\W\d_]{2}")


def check_allowed(context: Allowed) -> Iterator[Problem]:
    """Yield a finding for each allowance that cannot stand."""
    nearest = Nearest(context.rules)
    for one in context.suppressions:
        entry, rule, at_rule = one.entry, one.stated.rule, (*one.stated.path, "rule")
        match one.standing:
            case Standing.NO_SUCH_RULE:
                yield finding(entry, at_rule, f"there is no rule {rule}", meant(nearest(rule), "see `rangebook rules` for their names"))
            case Standing.NOT_ALLOWED:
                yield finding(entry, at_rule, f"a finding of {rule} cannot be allowed", "mend what it finds, and take this line out")
            case Standing.TWICE:
                yield finding(entry, at_rule, f"{rule} is allowed here a second time", "keep one of the two lines")
            case Standing.UNNEEDED:
                yield finding(entry, at_rule, f"{rule} finds nothing in this entry, so there is nothing to allow", "take the line out")
        if not _WORD.search(one.stated.reason):
            yield finding(
                entry,
                (*one.stated.path, "reason"),
                f"no reason is given why {rule} is allowed",
                "say in a few words why its finding stands",
            )


RULE = rule(__name__, __doc__, Severity.ERROR, BookCheck(Allowed, check_allowed))
