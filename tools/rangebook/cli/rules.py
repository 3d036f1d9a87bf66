"""List the linter's rules, or show the page of one of them."""

from __future__ import annotations

import argparse
import difflib

from rangebook.cli.terminal import complain, paint
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Rule

EXIT_NO_SUCH_RULE = 1


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook rules``."""
    parser.add_argument("name", metavar="NAME", nargs="?", help="the rule whose page to show")


def run(args: argparse.Namespace) -> int:
    """0: shown; 1: there is no such rule."""
    rules = all_rules()
    if args.name is None:
        width = max(map(len, rules))
        for rule in rules.values():
            print(f"{paint(rule.name.ljust(width), 'head')}  {paint(str(rule.severity).ljust(7), str(rule.severity))}  {rule.title}")
        return 0
    if args.name not in rules:
        near = difflib.get_close_matches(args.name, rules, n=3)
        complain(f"there is no rule {args.name}" + (f"; did you mean {', '.join(near)}?" if near else "; `rangebook rules` lists them"))
        return EXIT_NO_SUCH_RULE
    _show(rules[args.name])
    return 0


def _show(rule: Rule) -> None:
    print(f"{paint(rule.name, 'head')} ({rule.severity}, looks at: {rule.scope})\n{rule.title}\n\n{rule.checks}")
    for heading, text in (("Why it matters", rule.why), ("Fails", rule.fails), ("Mended", rule.mended)):
        print(f"\n{paint(heading, 'head')}\n{text}")
