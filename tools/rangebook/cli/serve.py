"""Build the site and show it to this machine only, building anew when an entry changes."""

from __future__ import annotations

import argparse

from rangebook.cli.root import add_root


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook serve``."""
    parser.add_argument("--port", type=int, default=8642, help="the port on 127.0.0.1 (8642); 0 takes a free one")
    add_root(parser)
