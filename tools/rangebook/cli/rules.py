"""List the linter's rules, or show the page of one of them.

--new NAME makes the two files of a new rule in a checkout, the rule and its test. Both run; the tests fail until they are filled in.

Exit status 0: shown or made; 1: there is no such rule; 2: could not run.
"""

from __future__ import annotations

import argparse
from pathlib import Path

import rangebook
from rangebook.cli.terminal import complain, paint
from rangebook.cli.writing import NotWrittenError, create
from rangebook.lint.registry import all_rules
from rangebook.lint.rule import Rule
from rangebook.lint.scaffold import SCOPES, BadNameError, files
from rangebook.reading.nearest import nearest_of

EXIT_NO_SUCH_RULE = 1
EXIT_CANNOT = 2


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook rules``."""
    parser.add_argument("name", metavar="NAME", nargs="?", help="the rule whose page to show")
    parser.add_argument("--new", metavar="NAME", help="make the files of a new rule")
    parser.add_argument("--scope", choices=sorted(SCOPES), default="family", help="with --new: what the rule looks at (family)")


def run(args: argparse.Namespace) -> int:
    """0: shown or made; 1: there is no such rule; 2: could not run."""
    rules = all_rules()
    if args.new is not None:
        return _make(args.new, args.scope)
    if args.name is None:
        width = max(map(len, rules))
        for rule in rules.values():
            print(f"{paint(rule.name.ljust(width), 'head')}  {paint(str(rule.severity).ljust(7), str(rule.severity))}  {rule.title}")
        return 0
    if args.name not in rules:
        near = nearest_of(args.name, rules)
        complain(f"there is no rule {args.name}" + (f"; did you mean {', '.join(near)}?" if near else "; `rangebook rules` lists them"))
        return EXIT_NO_SUCH_RULE
    _show(rules[args.name])
    return 0


def _make(name: str, scope: str) -> int:
    top = Path(rangebook.__file__).resolve().parents[2]
    if not (top / "tests" / "lint" / "rules").is_dir():
        complain("a new rule is made in a checkout of the project, and this command is not run from one")
        return EXIT_CANNOT
    try:
        made = files(name, scope, all_rules())
        for file in made:
            if (top / file).exists():
                raise BadNameError(f"{file} is there already; it was left as it is")
        for file, text in made.items():
            create(top / file, text.encode("utf-8"))
            print(file)
    except (BadNameError, NotWrittenError) as error:
        complain(str(error))
        return EXIT_CANNOT
    print(f"Fill in what says FILL IN, then: python3 tools/start.py test tests/lint -k {name.replace('-', '_')}; and `rangebook lint`")
    return 0


def _show(rule: Rule) -> None:
    print(f"{paint(rule.name, 'head')} ({rule.severity}, looks at: {rule.scope})\n{rule.title}\n\n{rule.checks}")
    for heading, text in (("Why it matters", rule.why), ("Fails", rule.fails), ("Mended", rule.mended)):
        print(f"\n{paint(heading, 'head')}\n{text}")
