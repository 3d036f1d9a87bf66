"""Run the rules over a book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from rangebook.book import build
from rangebook.book.load import Loaded
from rangebook.lint.context import Context, TextContext
from rangebook.lint.finding import Finding, Hit, Severity
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Rule
from rangebook.reading import garbage
from rangebook.reading.entry import Entry


def lint(loaded: Loaded, today: date | None = None, rules: Iterable[Rule] | None = None) -> list[Finding]:
    """Everything that the rules find in a book, sorted by place, what an entry allows left out."""
    today = today or date.today()
    chosen = list(all_rules().values() if rules is None else rules)
    with garbage.put_off():
        of_text = TextContext(loaded.schemas, today)
        found = [one for entry in loaded.entries for one in text_findings(entry, of_text, chosen)]
        context = Context(loaded, today)
        return settle(context, [*found, *entry_findings(context, chosen), *book_findings(context, chosen)], chosen)


def text_findings(entry: Entry, context: TextContext, rules: Iterable[Rule]) -> Iterator[Finding]:
    """What the rules of scope ``text`` find in one entry. They need the entry as it stands in its file, and no other."""
    for rule in rules:
        check = getattr(rule.module, "check_text", None)
        if check:
            for hit in check(entry, context):
                yield _finding(rule, hit)


def entry_findings(context: Context, rules: Iterable[Rule]) -> Iterator[Finding]:
    """What the rules of scope ``entry`` find, entry by entry."""
    rules, book = list(rules), context.book
    for name, items in (
        ("check_family", book.families.values()),
        ("check_connector", book.connectors.values()),
        ("check_kit", book.kits.values()),
    ):
        checks = [(rule, getattr(rule.module, name)) for rule in rules if hasattr(rule.module, name)]
        for item in items:
            for rule, check in checks:
                for hit in check(item, context):
                    yield _finding(rule, hit)


def book_findings(context: Context, rules: Iterable[Rule]) -> Iterator[Finding]:
    """What the rules of the scopes ``book`` and ``computed`` find."""
    for rule in rules:
        for name in ("check_book", "check_verdicts"):
            check = getattr(rule.module, name, None)
            if check:
                for hit in check(context):
                    yield _finding(rule, hit)


def settle(context: Context, found: Iterable[Finding], rules: Iterable[Rule]) -> list[Finding]:
    """What is left when each entry's ``allow`` is gone by, and what is wrong with those; sorted, each once."""
    allowed = {entry.file: {one.rule for one in build.allowances(entry)} for entry in context.loaded.entries if entry.head is not None}
    kept, used = [], set()
    for finding in found:
        if finding.rule in allowed.get(finding.file, ()) and may_be_allowed(finding.rule):
            used.add((finding.file, finding.rule))
        else:
            kept.append(finding)
    for rule in rules:
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


def _finding(rule: Rule, hit: Hit) -> Finding:
    return Finding(hit.entry.file, hit.mark.line, hit.mark.column, rule.name, rule.severity, hit.message, hit.fix)
