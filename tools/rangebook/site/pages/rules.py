"""The linter's rules, each a page made of its docstring."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any

from rangebook.lint.context import Scope
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Rule
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page, Shell
from rangebook.words.catalogue import Words, say


def pages(computed: Computed) -> Iterator[Page]:
    """The list of rules, and a page for each."""
    rules = list(all_rules().values())
    yield Page(
        source="handbook/rules/index.md",
        title=say("rules_page.title"),
        shell=Shell.HANDBOOK,
        template="rules.html",
        data=lambda: rules_data(rules),
        about=say("rules_page.page_about"),
    )
    for rule in rules:
        yield Page(
            source=f"handbook/rules/{rule.name}.md",
            title=rule.name,
            shell=Shell.HANDBOOK,
            template="rule.html",
            data=partial(rule_data, rule),
            about=rule.title,
        )


def rules_data(rules: list[Rule]) -> Mapping[str, Any]:
    """The rules by what they look at."""
    return {
        "scopes": [
            {
                "scope": _scope(scope),
                "rules": [{"rule": rule, "url": f"handbook/rules/{rule.name}/"} for rule in rules if rule.scope == scope],
            }
            for scope in Scope
        ]
    }


def rule_data(rule: Rule) -> Mapping[str, Any]:
    """One rule's page in pieces."""
    return {
        "rule": rule,
        "severity": say("rule_page.severity", severity=rule.severity),
        "scope": _scope(rule.scope),
        "checks": paragraphs(rule.checks),
        "why": paragraphs(rule.why),
        "fails": example(rule.fails),
        "mended": example(rule.mended),
    }


def _scope(scope: Scope) -> Words:
    return say("rule_page.scope", scope=scope)


def paragraphs(text: str) -> list[tuple[str, list[tuple[bool, str]]]]:
    """Docstring text as paragraphs: ``("code", ...)`` where it is indented, else ``("text", ...)``; each is a list of pieces,
    ``(True, ...)`` those between backticks."""
    found = []
    for block in textwrap.dedent(text).split("\n\n"):
        if not block.strip():
            continue
        if block.startswith("    "):
            found.append(("code", [(True, textwrap.dedent(block))]))
        else:
            pieces = block.replace("``", "`").split("`")
            found.append(("text", [(at % 2 == 1, piece) for at, piece in enumerate(pieces) if piece]))
    return found


def example(text: str) -> list[tuple[bool, str]]:
    """An example as pieces in order: ``(True, ...)`` blocks of an entry, ``(False, ...)`` words between them."""
    found: list[tuple[bool, list[str]]] = []
    for line in text.split("\n"):
        if not line.strip():
            if found:
                found[-1][1].append("")
            continue
        code = line.startswith("    ")
        if not found or found[-1][0] != code:
            found.append((code, []))
        found[-1][1].append(line)
    return [(code, textwrap.dedent("\n".join(lines)).strip("\n")) for code, lines in found]
