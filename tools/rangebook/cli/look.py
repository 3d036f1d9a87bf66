"""Look up a part number, gearbox, vehicle, family, connector or kit.

Numbers are found in any spelling, and by any four characters or more of them.
"""

from __future__ import annotations

import argparse

from rangebook.book.index import load_naming
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, paint
from rangebook.desk.look import look, nearest_numbers, with_status
from rangebook.words.catalogue import say
from rangebook.words.shown import shown

EXIT_NOTHING = 1


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook look``."""
    parser.add_argument("text", metavar="TEXT", nargs="+", help="what to look for")
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: found something; 1: nothing."""
    text = " ".join(args.text)
    book = load_naming(find_root(args.root), text, lambda book: bool(look(book, text))).book
    found = look(book, text)
    for one in found:
        where = say("layers.where", where=one.where, layer=one.layer) if one.layer else one.where
        print(f"{say('look.kind', kind=one.kind):10}{paint(one.name, 'head')}  {shown(one.about)}  ({shown(where)})")
    if found:
        return 0
    complain(say("look.nothing", text=text))
    near = nearest_numbers(book, text)
    if near:
        complain(say("look.nearest", numbers=with_status(book, near)))
    return EXIT_NOTHING
