"""The two files of a new rule, as texts. They run, and their tests fail until someone has filled them in."""

from __future__ import annotations

import re
from collections.abc import Container

SCOPES = {
    "text": ("check_text", "entry: Entry, context: TextContext", "from rangebook.reading.entry import Entry", "each file, read or not"),
    "family": ("check_family", "family: Family, context: Context", "from rangebook.book.model import Family", "each switch family"),
    "connector": (
        "check_connector",
        "connector: Connector, context: Context",
        "from rangebook.book.model import Connector",
        "each connector",
    ),
    "kit": ("check_kit", "kit: Kit, context: Context", "from rangebook.book.model import Kit", "each kit"),
    "book": ("check_book", "context: Context", "", "the whole book"),
    "verdicts": ("check_verdicts", "context: Context", "", "what the verdicts show"),
}
"""What a rule looks at -> its generator, the arguments of that, what it has to import for them, and words for people."""

_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


class BadNameError(ValueError):
    """A name that no rule can have; the message says why."""


def files(name: str, scope: str, taken: Container[str]) -> dict[str, str]:
    """The new files of a rule, relative to the top of a checkout, and their texts. Raises :class:`BadNameError`."""
    if not _NAME.fullmatch(name):
        raise BadNameError(f"`{name}` cannot be a rule's name: small letters, figures and single hyphens, as in `hole-too-small`")
    if name in taken:
        raise BadNameError(f"there is a rule {name} already: `rangebook rules {name}` shows it")
    module = name.replace("-", "_")
    return {f"tools/rangebook/lint/rules/{module}.py": _rule(name, scope), f"tests/lint/rules/test_{module}.py": _test(name)}


def _rule(name: str, scope: str) -> str:
    function, arguments, imported, what = SCOPES[scope]
    imports = sorted(
        filter(
            None,
            (
                imported,
                f"from rangebook.lint.context import {arguments.rsplit(' ', 1)[-1]}",
                "from rangebook.lint.finding import Hit, Severity",
            ),
        )
    )
    lines = "\n".join(imports)
    return f'''"""FILL IN: what is wrong, in a few words.

FILL IN: what is checked in {what}, and where it is not. Name the source if there is one; say "common practice, no source"
of what the trade knows.

Why it matters: FILL IN, for somebody with the switch in the hand.

Fails:

    kind: kit
    note: "FILL IN: an example that this rule alone has something against"

Mended:

    kind: kit
    note: "FILL IN: the same, mended"
"""

from __future__ import annotations

from collections.abc import Iterator

{lines}

SEVERITY = Severity.WARNING


def {function}({arguments}) -> Iterator[Hit]:
    """Yield a hit at FILL IN."""
    # yield hit(owner, path, "what was found and what was expected, with names and figures", "what to do about it")
    # hit is in rangebook.lint.finding. Keep it in step with the book: use the indexes of context.book.
    yield from ()
'''


def _test(name: str) -> str:
    return f'''"""{name}."""

from tests.lint.marking import found_at_marks

# The example in the rule's docstring runs in tests/lint/test_examples.py. Here: the exact places, and what must not be found.


def test_it_is_found_where_it_is_to_be_mended():
    (found,) = found_at_marks("{name}", "    kind: kit\\n    note: »FILL IN\\n")
    assert "FILL IN: what was found" in found.message


def test_what_only_looks_like_it_is_let_pass():
    found_at_marks("{name}", "    kind: kit\\n    seals: [FILL IN]\\n")
'''
