"""What entries allow: the findings that it takes away, and what of it cannot stand or is not needed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from enum import Enum, auto

from rangebook.book import build
from rangebook.book.model import Allowance
from rangebook.lint.finding import Finding
from rangebook.reading.entry import Entry


class Standing(Enum):
    """How something that an entry allows stands."""

    NEEDED = auto()
    """It takes a finding away, or may when other errors are mended."""
    NO_SUCH_RULE = auto()
    NOT_ALLOWED = auto()
    """Findings of this rule keep an entry from being read, or are about what it allows."""
    TWICE = auto()
    UNNEEDED = auto()


@dataclass(frozen=True)
class Suppression:
    """One line of an entry's ``allow``."""

    entry: Entry
    stated: Allowance
    standing: Standing


class Suppressions:
    """What the entries of a book allow, and of what of it something was found. ``allowable`` are the rules that may be allowed."""

    def __init__(self, entries: Iterable[Entry], allowable: Iterable[str]) -> None:
        self._allowable = frozenset(allowable)
        self._stated = {entry.file: (entry, found) for entry in entries if entry.head is not None and (found := build.allowances(entry))}
        self._used: set[tuple[str, str]] = set()

    def left(self, found: Iterable[Finding]) -> list[Finding]:
        """The findings that no entry allows."""
        kept = []
        for one in found:
            if self.allow(one.file, one.rule):
                self._used.add((one.file, one.rule))
            else:
                kept.append(one)
        return kept

    def allow(self, file: str, rule: str) -> bool:
        """Whether the entry in a file lets what a rule finds in it stand."""
        stated = self._stated.get(file)
        return stated is not None and rule in self._allowable and any(one.rule == rule for one in stated[1])

    def judged(self, rules: Iterable[str], may_be_silent: Callable[[str], bool]) -> Iterator[Suppression]:
        """Each with how it stands, once all was found that there is to find. ``may_be_silent`` says of a rule that found nothing whether
        something else may have kept it from that."""
        known = frozenset(rules)
        for entry, stated in self._stated.values():
            seen: set[str] = set()
            for one in stated:
                if one.rule not in known:
                    standing = Standing.NO_SUCH_RULE
                elif one.rule not in self._allowable:
                    standing = Standing.NOT_ALLOWED
                elif one.rule in seen:
                    standing = Standing.TWICE
                elif (entry.file, one.rule) not in self._used and not may_be_silent(one.rule):
                    standing = Standing.UNNEEDED
                else:
                    standing = Standing.NEEDED
                seen.add(one.rule)
                yield Suppression(entry, one, standing)
