"""Build the site, if the linter finds no error; with one the old site stays as it was and the exit status is 1."""

from __future__ import annotations

import argparse
from pathlib import Path

from rangebook.cli.root import add_root


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook build``."""
    parser.add_argument("--site-dir", type=Path, metavar="DIR", help="where the site goes (site/ beside entries/)")
    add_root(parser)
