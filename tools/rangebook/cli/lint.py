"""Check the book: every entry, and what follows from them together.

--fix mends what has one right answer, in place, and then reports what is left: the order of keys, quotes, spaces at line
ends, the spelling of dates, colours and codes. Comments and all else stay as they are, and no file is written that would
have more against it than before. With --dry-run it only shows what it would do, as a patch.

--changed-since REF leaves out what was there already where this branch left REF: it reports on the files that were
touched since, saved but not committed changes with them, and on what that breaks elsewhere. A number of a part or kit that was in
the book and is not any more is told of as `number-gone`: a number once published keeps its place.

Exit status 0: nothing at error level in what is reported; 1: errors; 2: could not run.
"""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path

from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, progress
from rangebook.lint.finding import Finding, Severity
from rangebook.lint.linted import Linted
from rangebook.lint.reports import FORMATS, writer
from rangebook.lint.whole import lint_now
from rangebook.reading.layers import layers_of
from rangebook.schema.settings import read_settings, root_of_settings

EXIT_CANNOT = 2
MOST_PROCESSES = 64


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook lint``."""
    parser.add_argument("--format", choices=sorted(FORMATS), default="text", help="how findings are written (text)")
    parser.add_argument("--fix", action="store_true", help="mend in place what has one right answer, then report what is left")
    parser.add_argument("--dry-run", action="store_true", help="with --fix: write nothing, print the changes as a patch")
    parser.add_argument("--changed-since", metavar="REF", help="report on what this branch touched since it left REF, and what that breaks")
    parser.add_argument("--afresh", action="store_true", help="check everything anew, even if nothing has changed since the last run")
    parser.add_argument(
        "--processes", type=_count, metavar="N", help="how many share the work (one for each processor, for a small book fewer)"
    )
    add_root(parser)


def _count(text: str) -> int:
    if not 1 <= int(text) <= MOST_PROCESSES:
        raise argparse.ArgumentTypeError(f"one to {MOST_PROCESSES}")
    return int(text)


def run(args: argparse.Namespace) -> int:
    """0: nothing at error level; 1: errors; 2: could not run."""
    if args.dry_run and not args.fix:
        complain("--dry-run goes with --fix: it shows what that would change")
        return EXIT_CANNOT
    root = find_root(args.root)
    progress(f"reading {root / 'entries'} ...")
    if args.fix or args.changed_since is not None:
        # Most runs are plain, and these need a good deal more to be imported.
        from rangebook.cli.lint_change import run_change

        result = run_change(root, args.fix, args.dry_run, args.changed_since)
        if isinstance(result, int):
            return result
        loaded, findings = result
        linted = Linted(root, loaded.entries)
    else:
        linted, findings = lint_now(root, args.afresh, args.processes, progress)
        findings = sorted([*findings, *_in_settings(root)])
    sys.stdout.write(writer(args.format)(findings, linted))
    if findings and args.format == "text":
        from rangebook.cli.lint_change import offer

        offer(linted, findings)
    return 1 if any(finding.severity is Severity.ERROR for finding in findings) else 0


def _in_settings(root: Path) -> list[Finding]:
    """What is wrong in the book's own settings, by the rules that find it in an entry."""
    _, problems = read_settings(root)
    if not problems:
        return []
    from rangebook.lint.registry import all_rules
    from rangebook.lint.wording import finding_of

    home = root_of_settings(root)
    layer = next(at for at, one in enumerate(layers_of(root)) if one.root == home)
    return [replace(finding_of(one, all_rules()[one.rule]), layer=layer) for one in problems]
