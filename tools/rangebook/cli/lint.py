"""Check the book: every entry, and what follows from them together.

Exit status 0: nothing at error level; 1: errors; 2: could not run.
"""

from __future__ import annotations

import argparse
import sys

from rangebook.book.load import load
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import progress
from rangebook.lint.reports import FORMATS
from rangebook.lint.run import has_errors, lint


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook lint``."""
    parser.add_argument("--format", choices=sorted(FORMATS), default="text", help="how findings are written (text)")
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: nothing at error level; 1: errors."""
    root = find_root(args.root)
    progress(f"reading {root / 'entries'} ...")
    loaded = load(root)
    progress(f"checking {len(loaded.entries)} entries ...")
    findings = lint(loaded)
    sys.stdout.write(FORMATS[args.format](findings, loaded))
    return 1 if has_errors(findings) else 0
