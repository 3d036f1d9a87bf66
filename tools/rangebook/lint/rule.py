"""A rule: one module under ``rules/``, its docstring the page that people read.

The module's name with hyphens is the rule's name. It has ``SEVERITY`` and one or more of these generators of hits, and
which of them it has is its scope::

    check_text(entry, context)          text      each file, read or not
    check_family(family, context)       entry     each switch family
    check_connector(connector, context) entry     each connector
    check_kit(kit, context)             entry     each kit
    check_book(context)                 book      once, for what only several entries together show
    check_verdicts(context)             computed  once, for what only the computed verdicts show

Its docstring has a title line, a paragraph on what it checks, and sections ``Why it matters:``, ``Fails:`` and
``Mended:``. The last two hold one or more examples in the form of :mod:`rangebook.lint.examples`.
"""

from __future__ import annotations

import inspect
import re
from dataclasses import dataclass
from types import ModuleType

from rangebook.lint.finding import Severity

SCOPES = {
    "check_text": "text",
    "check_family": "entry",
    "check_connector": "entry",
    "check_kit": "entry",
    "check_book": "book",
    "check_verdicts": "computed",
    "check_allowances": "book",
}
"""Generator -> the scope that it gives its rule."""

_SECTIONS = re.compile(r"^(Why it matters|Fails|Mended):[ \t]*\n?", re.MULTILINE)


@dataclass(frozen=True)
class Rule:
    """A rule with its page in pieces. ``fails`` and ``mended`` are examples as they stand in the docstring."""

    name: str
    severity: Severity
    scope: str
    title: str
    checks: str
    why: str
    fails: str
    mended: str
    module: ModuleType


def rule_from(module: ModuleType) -> Rule:
    """Read a rule from its module. Raises ``ValueError``, naming what is missing, so that no rule is half there."""
    name = module.__name__.rsplit(".", 1)[-1].replace("_", "-")
    scopes = [scope for function, scope in SCOPES.items() if hasattr(module, function)]
    if not scopes:
        raise ValueError(f"rule {name}: has none of {', '.join(SCOPES)}")
    head, *sections = _SECTIONS.split(inspect.cleandoc(module.__doc__ or ""))
    title, _, checks = head.strip().partition("\n")
    texts = {heading: text for heading, text in zip(sections[::2], sections[1::2], strict=True)}
    missing = [heading for heading in ("Why it matters", "Fails", "Mended") if not texts.get(heading, "").strip()]
    if missing or not title or not checks.strip():
        raise ValueError(f"rule {name}: its docstring lacks {', '.join(missing) or 'a title and what it checks'}")
    return Rule(
        name,
        module.SEVERITY,
        scopes[-1],
        title.strip(),
        checks.strip(),
        texts["Why it matters"].strip(),
        texts["Fails"].strip("\n"),
        texts["Mended"].strip("\n"),
        module,
    )
