"""How to prove a part with a meter, tell it from a look-alike, or find the fault from readings.

With one number: the fewest probe pairs that prove every contact, on the bench and at the vehicle's plug, what to read, the
range code and what a broken wire would make the module believe. With two: the one probe pair that tells them apart. With
--read, as often as you like: which single fault explains the readings.

    rangebook prove NB-1042 --read "1-2 P 0.3" --read "3-4 N open" --read "5-6 R 2.0k"
"""

from __future__ import annotations

import argparse

from rangebook.book.load import load
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, paint
from rangebook.desk.fit import NotInBook
from rangebook.desk.prove import ReadingError, apart, explain, explanation_words, proof_lines, prove, relation_words
from rangebook.fitting.fitter import Fitter
from rangebook.words.book import CAUTION
from rangebook.words.lists import listed

EXIT_NOT_IN_BOOK = 1
EXIT_CANNOT = 2


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook prove``."""
    parser.add_argument("number", metavar="NUMBER", help="the part's number")
    parser.add_argument("other", metavar="OTHER", nargs="?", help="a look-alike to tell it from")
    parser.add_argument("--read", metavar="READING", action="append", default=[], help="a reading, as in `1-2 P 0.3` or `3-4 N open`")
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: answered; 1: a number is not in the book; 2: a reading could not be understood."""
    fitter = Fitter(load(find_root(args.root)).book)
    try:
        if args.read:
            _explain(fitter, args.number, args.read)
        elif args.other:
            _apart(fitter, args.number, args.other)
        else:
            for style, text in proof_lines(prove(fitter, args.number)):
                print(paint(text, style))
    except NotInBook as error:
        complain(str(error))
        complain(f"the nearest numbers in it: {', '.join(error.nearest)}")
        return EXIT_NOT_IN_BOOK
    except ReadingError as error:
        complain(str(error))
        return EXIT_CANNOT
    print()
    print(paint(CAUTION, "caution"))
    return 0


def _apart(fitter: Fitter, number: str, other: str) -> None:
    one, two, telling = apart(fitter, number, other)
    for part, against in ((one, two), (two, one)):
        more = [pin for pin in part.pins or () if against.pins is not None and pin not in against.pins]
        if more:
            print(f"Look at the pins: {part.number} has {listed(more)}, where {against.number} has none.")
    if telling is None:
        print(f"No meter reading at pins that both have surely tells {one.number} from {two.number}. Look at the housing and the bolts.")
        return
    print(paint(f"Probe {telling.a} - {telling.b}:", "head"))
    for position, (left, right) in telling.readings.items():
        print(f"  {position:3} {one.number} {relation_words(left)}, {two.number} {relation_words(right)}")


def _explain(fitter: Fitter, number: str, readings: list[str]) -> None:
    part, found = explain(fitter, number, readings)
    print(paint(f"{part.number}: what explains these readings", "head"))
    for one in found:
        print(f"  {explanation_words(one)}")
    if not found:
        print("  No single fault does. Measure again; if it stands, there is more than one fault, or it is another part.")
    elif len(found) > 1:
        print("  More than one does: take the other readings of the proof sheet.")
