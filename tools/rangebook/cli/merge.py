"""Join the parts that `rangebook build --shard I/N` made into one site, the same to the byte as if it had been built in one."""

from __future__ import annotations

import argparse
from pathlib import Path

from rangebook.cli.terminal import complain, progress
from rangebook.words.shown import shown

EXIT_CANNOT = 2


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook merge``."""
    parser.add_argument("parts", nargs="+", type=Path, metavar="PART", help="the folder of a part; all parts, in any order")
    parser.add_argument("--site-dir", type=Path, metavar="DIR", required=True, help="where the site goes; what no build wrote there stays")


def run(args: argparse.Namespace) -> int:
    """0: joined; 2: the parts are no whole site, or could not be joined."""
    from rangebook.site.parts.join import NotJoinedError, join

    try:
        progress(f"joining {len(args.parts)} parts into {args.site_dir} ...")
        pages = join(args.parts, args.site_dir)
    except NotJoinedError as error:
        complain(str(error))
        return EXIT_CANNOT
    except OSError as error:
        complain(f"{error.filename or args.site_dir}: {error.strerror or error}; the site is as it was before")
        return EXIT_CANNOT
    print(shown(f"The site is in {args.site_dir.resolve()} ({pages} pages)."))
    return 0
