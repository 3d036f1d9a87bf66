"""Build the site and show it to this machine only, building anew when an entry changes."""

from __future__ import annotations

import argparse

from rangebook.cli.build import add_whole, tell_left_out
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, progress
from rangebook.words.shown import shown

DEFAULT_PORT = 8642
EXIT_CANNOT = 2


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook serve``."""
    parser.add_argument(
        "--port",
        type=int,
        metavar="PORT",
        help=f"the port on 127.0.0.1; left out: {DEFAULT_PORT}, or the next that is free; 0: any free one",
    )
    add_whole(parser)
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: ended by the person; 2: could not run."""
    from rangebook.site.live.serve import PortTakenError, serve

    root = find_root(args.root)
    if args.port is not None and not 0 <= args.port <= 65535:
        complain(f"there is no port {args.port}: name one from 1 to 65535, or leave --port out")
        return EXIT_CANNOT
    try:
        progress(f"building the book in {root} ...")
        tell_left_out(root, args.whole_mkdocs_yml)
        serve(root, args.whole_mkdocs_yml, args.port, DEFAULT_PORT, lambda text: print(shown(text, lines=True), flush=True), complain)
    except PortTakenError as error:
        complain(str(error))
        return EXIT_CANNOT
    return 0
