"""The two files of a new rule, as texts. They run, and their tests fail until someone has filled them in."""

from __future__ import annotations

import re
from collections.abc import Container
from typing import NamedTuple


class _Form(NamedTuple):
    """What a rule of a scope looks like: its generator, what that is called with beside its context, and the context."""

    function: str
    item: str
    kind: str
    """What an example of it is a piece of."""
    context: str
    check: str
    where: str
    """Words for people."""


SCOPES = {
    "text": _Form("check_text", "entry: Entry", "kit", "TextContext", "TextCheck", "each file, read or not"),
    "family": _Form("check_family", "family: Family", "switch", "Context", "EntryCheck", "each switch family"),
    "connector": _Form("check_connector", "connector: Connector", "connector", "Context", "EntryCheck", "each connector"),
    "kit": _Form("check_kit", "kit: Kit", "kit", "Context", "EntryCheck", "each kit"),
    "book": _Form("check_book", "", "switch", "WholeBook", "BookCheck", "the whole book"),
    "verdicts": _Form("check_verdicts", "", "switch", "Verdicts", "BookCheck", "what the verdicts show"),
    "revisions": _Form("check_revisions", "", "kit", "TwoRevisions", "BookCheck", "the book and what it was before a change"),
}
"""What a rule looks at, and how it is declared."""

_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


class BadNameError(ValueError):
    """A name that no rule can have; the message says why."""


def files(name: str, scope: str, taken: Container[str]) -> dict[str, str]:
    """The new files of a rule, relative to the top of a checkout, and their texts. Raises :class:`BadNameError`."""
    if not _NAME.fullmatch(name):
        raise BadNameError(f"`{name}` cannot be a rule's name: small letters, figures and single hyphens, as in `hole-too-small`")
    if name in taken:
        raise BadNameError(f"there is a rule {name} already: `rangebook rules {name}` shows it")
    module, form = name.replace("-", "_"), SCOPES[scope]
    return {f"tools/rangebook/lint/rules/{module}.py": _rule(form), f"tests/lint/rules/test_{module}.py": _test(name, form)}


def _rule(form: _Form) -> str:
    item = form.item.rpartition(" ")[2]
    words = ", ".join(sorted((form.check, "Problem", "Severity", "Told")))
    imports = [f"from rangebook.lint.context import {form.context}", f"from rangebook.lint.rule import {words}, rule"]
    if item:
        imports.append(f"from rangebook.{'reading.entry' if item == 'Entry' else 'book.model'} import {item}")
    lines = "\n".join(sorted(imports))
    arguments = ", ".join(filter(None, (form.item, f"context: {form.context}")))
    seen = ", ".join(filter(None, (item if form.check == "EntryCheck" else "", form.context, form.function)))
    return f'''"""FILL IN: what is wrong, in a few words.

FILL IN: what is checked in {form.where}, and where it is not.
Name the source if there is one; say "common practice, no source" of what the trade knows.

Why it matters: FILL IN, for somebody with the switch in the hand.

Fails:

    kind: {form.kind}
    note: "FILL IN: an example that this rule alone has something against"

Mended:

    kind: {form.kind}
    note: "FILL IN: the same, mended"
"""

from __future__ import annotations

from collections.abc import Iterator

{lines}


def {form.function}({arguments}) -> Iterator[Problem]:
    """Yield a finding at FILL IN."""
    # Yield a `problem` of rangebook.lint.rule for each: the owner, the path of keys to the place, the name of a message, and by name
    # what is put into it. Is more to be seen than {form.context} has, name another class of rangebook.lint.context.
    yield from ()


MESSAGES = {{
    "FILL IN": Told("FILL IN: what was found and expected, with {{names}} and {{figures|g}}", "FILL IN: what to do about it"),
}}

RULE = rule(__name__, __doc__, Severity.WARNING, {form.check}({seen}), messages=MESSAGES)
'''


def _test(name: str, form: _Form) -> str:
    return f'''"""{name}."""

from collections.abc import Iterator

from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

# The example in the rule's docstring runs in tests/lint/test_examples.py, what is sown here in tests/lint/seeding.
# Here: the exact places, and what must not be found.


@operator("FILL IN: a slip that {name} is there for", "{name}")
def _(ground: Ground) -> Iterator[Seed]:
    # FILL IN: yield a seed for each place of the demo book in which that slip can be made, going by what its entries say.
    yield from ()


def test_it_is_found_where_it_is_to_be_mended():
    (found,) = found_at_marks("{name}", "    kind: {form.kind}\\n    note: »FILL IN\\n")
    assert "FILL IN: what was found" in found.message


def test_what_only_looks_like_it_is_let_pass():
    found_at_marks("{name}", "    kind: {form.kind}\\n    sources: [FILL IN]\\n")
'''
