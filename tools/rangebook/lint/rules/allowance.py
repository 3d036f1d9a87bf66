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
from functools import cached_property

from rangebook.book.build import allowances
from rangebook.lint.context import Context
from rangebook.lint.finding import Hit, Severity, hit
from rangebook.lint.registry import all_rules
from rangebook.lint.run import lint, may_be_allowed
from rangebook.lint.words import Nearest, meant

SEVERITY = Severity.ERROR

_WORD = re.compile(r"[^\W\d_]{2}")


def check_allowances(context: Context, used: set[tuple[str, str]]) -> Iterator[Hit]:
    """Yield a hit for each allowance that cannot stand; ``used`` are the file and rule of every one that was needed."""
    nearest, silence = Nearest(all_rules()), _Silence(context)
    for entry in context.loaded.entries:
        seen: set[str] = set()
        for one in allowances(entry):
            at_rule = (*one.path, "rule")
            if one.rule not in all_rules():
                yield hit(
                    entry,
                    at_rule,
                    f"there is no rule {one.rule}",
                    meant(nearest(one.rule), "see `rangebook rules` for their names"),
                )
            elif not may_be_allowed(one.rule):
                yield hit(entry, at_rule, f"a finding of {one.rule} cannot be allowed", "mend what it finds, and take this line out")
            elif one.rule in seen:
                yield hit(entry, at_rule, f"{one.rule} is allowed here a second time", "keep one of the two lines")
            elif (entry.file, one.rule) not in used and not silence.may_be_of(one.rule):
                yield hit(entry, at_rule, f"{one.rule} finds nothing in this entry, so there is nothing to allow", "take the line out")
            if not _WORD.search(one.reason):
                yield hit(
                    entry,
                    (*one.path, "reason"),
                    f"no reason is given why {one.rule} is allowed",
                    "say in a few words why its finding stands",
                )
            seen.add(one.rule)


class _Silence:
    """Which rules may have had nothing to say only because something else is wrong.

    An entry that is set aside was looked at by none, and a rule that goes by several entries together, or by verdicts, is
    silent where an error elsewhere has left it nothing to go by.
    """

    def __init__(self, context: Context) -> None:
        self._context = context

    def may_be_of(self, name: str) -> bool:
        """Whether the rule of this name may have been kept silent."""
        if self._context.book.lost:
            return True
        return all_rules()[name].scope != "entry" and bool(self._erring - {name})

    @cached_property
    def _erring(self) -> set[str]:
        rules = [one for one in all_rules().values() if one.scope in ("entry", "book") and not hasattr(one.module, "check_allowances")]
        found = lint(self._context.loaded, self._context.today, rules)
        return {one.rule for one in found if one.severity is Severity.ERROR}
