"""A rule: one module under ``rules/``, its docstring the page that people read.

The module's name with hyphens is the rule's name. Its ``RULE`` declares all else: how severe it is, what its generators of findings look at
and what they see beside that (the contexts of :mod:`rangebook.lint.context`), and what it can mend::

    RULE = rule(__name__, __doc__, Severity.ERROR, EntryCheck(Family, Housings, check_family))

    TextCheck(context, check)         text      each file, read or not
    EntryCheck(kind, context, check)  entry     each family, connector or kit
    BookCheck(context, check)         the context's scope, once: for what only several entries, verdicts or two revisions show

Its docstring has a title line, a paragraph on what it checks, and sections ``Why it matters:``, ``Fails:`` and
``Mended:``. The last two hold one or more examples in the form of :mod:`rangebook.lint.examples`.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Generic, TypeVar

from rangebook.book.model import Connector, Family, Kit
from rangebook.lint.context import Context, Input, Scope, TextContext, WideContext
from rangebook.lint.finding import Finding, Line, Owner, Problem, Severity, place_of, problem, problem_at, problem_in
from rangebook.lint.fixing.fixer import Fixer
from rangebook.reading.entry import Entry
from rangebook.words.problems import Told

__all__ = [
    "BookCheck",
    "EntryCheck",
    "Finding",
    "Line",
    "Owner",
    "Problem",
    "Rule",
    "Severity",
    "TextCheck",
    "Told",
    "every_kind",
    "name_of",
    "place_of",
    "problem",
    "problem_at",
    "problem_in",
    "rule",
]
"""What a rule's module writes its findings and its declaration with."""

_Text = TypeVar("_Text", bound=TextContext)
_Item = TypeVar("_Item", Family, Connector, Kit)
_Context = TypeVar("_Context", bound=Context)
_Wide = TypeVar("_Wide", bound=WideContext)

_SECTIONS = re.compile(r"^(Why it matters|Fails|Mended):[ \t]*\n?", re.MULTILINE)


@dataclass(frozen=True)
class TextCheck(Generic[_Text]):
    """A generator that is called with each entry as it stands in its file, before anything is known of the others."""

    sees: type[_Text]
    find: Callable[[Entry, _Text], Iterator[Problem]]


@dataclass(frozen=True)
class EntryCheck(Generic[_Item, _Context]):
    """A generator that is called with each entry of a kind that the book took in."""

    kind: type[_Item]
    sees: type[_Context]
    find: Callable[[_Item, _Context], Iterator[Problem]]


def every_kind(sees: type[_Context], find: Callable[[Any, _Context], Iterator[Problem]]) -> tuple[EntryCheck[Any, _Context], ...]:
    """A generator that is called with each family, connector and kit."""
    return EntryCheck(Family, sees, find), EntryCheck(Connector, sees, find), EntryCheck(Kit, sees, find)


@dataclass(frozen=True)
class BookCheck(Generic[_Wide]):
    """A generator that is called once."""

    sees: type[_Wide]
    find: Callable[[_Wide], Iterator[Problem]]


Check = TextCheck[Any] | EntryCheck[Any, Any] | BookCheck[Any]


@dataclass(frozen=True)
class Rule:
    """A rule with its page in pieces. ``fails`` and ``mended`` are examples as they stand in the docstring."""

    name: str
    severity: Severity
    generators: tuple[Check, ...]
    fixer: Fixer | None
    messages: Mapping[str, Told]
    title: str
    checks: str
    why: str
    fails: str
    mended: str

    @property
    def scope(self) -> Scope:
        """What it looks at."""
        first = self.generators[0]
        if isinstance(first, BookCheck):
            return first.sees.scope  # type: ignore[no-any-return]
        return Scope.TEXT if isinstance(first, TextCheck) else Scope.ENTRY

    @property
    def inputs(self) -> frozenset[Input]:
        """What its findings in an entry depend on beside that entry and the schema."""
        return frozenset().union(*(check.sees.inputs for check in self.generators))

    @property
    def may_be_allowed(self) -> bool:
        """Whether an entry may let a finding of this rule stand. What keeps an entry from being read cannot."""
        return self.scope in (Scope.ENTRY, Scope.BOOK, Scope.VERDICTS)


def name_of(module: str) -> str:
    """The name of the rule in a module."""
    return module.rsplit(".", 1)[-1].replace("_", "-")


def rule(
    module: str,
    doc: str | None,
    severity: Severity,
    *generators: Check,
    messages: Mapping[str, Told] = MappingProxyType({}),
    fixer: Fixer | None = None,
) -> Rule:
    """A rule from its module's name and docstring. Raises ``ValueError``, naming what is missing, so that no rule is half there."""
    name = name_of(module)
    head, *sections = _SECTIONS.split(inspect.cleandoc(doc or ""))
    title, _, checks = head.strip().partition("\n")
    texts = dict(zip(sections[::2], sections[1::2], strict=True))
    missing = [heading for heading in ("Why it matters", "Fails", "Mended") if not texts.get(heading, "").strip()]
    if missing or not title or not checks.strip() or not generators:
        raise ValueError(f"rule {name}: it lacks {', '.join(missing) or 'a title, what it checks, or a generator'}")
    why, fails, mended = (texts[heading] for heading in ("Why it matters", "Fails", "Mended"))
    page = title.strip(), checks.strip(), why.strip(), fails.strip("\n"), mended.strip("\n")
    return Rule(name, severity, generators, fixer, messages, *page)
