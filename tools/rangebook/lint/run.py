"""Run the rules over a book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from rangebook.book import build
from rangebook.book.load import Loaded
from rangebook.lint.context import Context
from rangebook.lint.finding import Finding, Hit, Severity
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Rule
from rangebook.reading import garbage


def lint(loaded: Loaded, today: date | None = None, rules: Iterable[Rule] | None = None) -> list[Finding]:
    """Everything that the rules find in a book, sorted by place, what an entry allows left out."""
    with garbage.put_off():
        return _lint(loaded, today or date.today(), rules)


def _lint(loaded: Loaded, today: date, rules: Iterable[Rule] | None) -> list[Finding]:
    context = Context(loaded, today)
    chosen = list(all_rules().values() if rules is None else rules)
    found = [_finding(rule, hit) for rule in chosen for hit in _hits(rule, context)]
    allowed = {
        entry.file: {one.rule for one in build.allowances(entry)} for entry in loaded.entries if entry.front is not None
    }
    kept, used = [], set()
    for finding in found:
        if finding.rule in allowed.get(finding.file, ()) and may_be_allowed(finding.rule):
            used.add((finding.file, finding.rule))
        else:
            kept.append(finding)
    for rule in chosen:
        check = getattr(rule.module, "check_allowances", None)
        if check:
            kept += [_finding(rule, hit) for hit in check(context, used)]
    return sorted(set(kept))


def may_be_allowed(name: str) -> bool:
    """Whether an entry may let a finding of this rule stand. What keeps an entry from being read cannot."""
    rule = all_rules().get(name)
    return rule is not None and rule.scope != "text" and not hasattr(rule.module, "check_allowances")


def has_errors(findings: Iterable[Finding]) -> bool:
    """Whether any finding is an error: then nothing is built."""
    return any(finding.severity is Severity.ERROR for finding in findings)


def _hits(rule: Rule, context: Context) -> Iterator[Hit]:
    module, book = rule.module, context.book
    for name, items in (
        ("check_text", context.loaded.entries),
        ("check_family", book.families.values()),
        ("check_connector", book.connectors.values()),
        ("check_kit", book.kits.values()),
    ):
        check = getattr(module, name, None)
        if check:
            for item in items:
                yield from check(item, context)
    for name in ("check_book", "check_verdicts"):
        check = getattr(module, name, None)
        if check:
            yield from check(context)


def _finding(rule: Rule, hit: Hit) -> Finding:
    return Finding(hit.entry.file, hit.mark.line, hit.mark.column, rule.name, rule.severity, hit.message, hit.fix)
