"""Check the book: every entry, and what follows from them together.

--fix mends what has one right answer, in place, and then reports what is left: the order of keys, quotes, spaces at line
ends, the spelling of dates, colours and codes. Comments and all else stay as they are, and no file is written that would
have more against it than before. With --dry-run it only shows what it would do, as a patch.

--changed-since REF leaves out what was there already where this branch left REF: it reports on the files that were
touched since, saved but not committed changes with them, and on what that breaks elsewhere.

Exit status 0: nothing at error level in what is reported; 1: errors; 2: could not run.
"""

from __future__ import annotations

import argparse
import sys

from rangebook.book.load import load
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, progress
from rangebook.lint.reports import FORMATS
from rangebook.lint.run import has_errors, lint

EXIT_CANNOT = 2


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook lint``."""
    parser.add_argument("--format", choices=sorted(FORMATS), default="text", help="how findings are written (text)")
    parser.add_argument("--fix", action="store_true", help="mend in place what has one right answer, then report what is left")
    parser.add_argument("--dry-run", action="store_true", help="with --fix: write nothing, print the changes as a patch")
    parser.add_argument("--changed-since", metavar="REF", help="report on what this branch touched since it left REF, and what that breaks")
    add_root(parser)


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
    else:
        loaded = load(root)
        progress(f"checking {len(loaded.entries)} entries ...")
        findings = lint(loaded)
    sys.stdout.write(FORMATS[args.format](findings, loaded))
    if findings and args.format == "text":
        from rangebook.cli.lint_change import offer

        offer(loaded, findings)
    return 1 if has_errors(findings) else 0
