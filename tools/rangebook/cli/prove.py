"""How to prove a part with a meter, tell it from a look-alike, or find the fault from readings.

With one number: the fewest probe pairs that prove every contact, on the bench and at the vehicle's plug, what to read, the
range code and what a broken wire would make the module believe. With two: the one probe pair that tells them apart. With
--read, as often as you like: which fault explains the readings, or which two, and what to read next.

    rangebook prove NB-1042 --read "1-2 P 0.3" --read "3-4 N open" --read "5-6 R 2.0k"
"""

from __future__ import annotations

import argparse

from rangebook.book.index import load_around
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, paint, print_json
from rangebook.desk.fit import NotInBook, find_part
from rangebook.desk.layers import layer_data, layer_lines, of_part
from rangebook.desk.look import with_status
from rangebook.desk.prove import (
    ReadingError,
    apart,
    as_data,
    explain,
    explained_data,
    explanation_words,
    proof_lines,
    prove,
    relation_words,
    unproved_lines,
)
from rangebook.fitting.fitter import Fitter
from rangebook.words.book import caution_words
from rangebook.words.catalogue import say
from rangebook.words.shown import shown

EXIT_NOT_IN_BOOK = 1
EXIT_CANNOT = 2


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook prove``."""
    parser.add_argument("number", metavar="NUMBER", help="the part's number")
    parser.add_argument("other", metavar="OTHER", nargs="?", help="a look-alike to tell it from")
    parser.add_argument("--read", metavar="READING", action="append", default=[], help="a reading, as in `1-2 P 0.3` or `3-4 N open`")
    parser.add_argument("--json", action="store_true", help="write the sheets, or with --read what explains the readings, as JSON")
    parser.add_argument(
        "--seat",
        metavar="SEAT",
        default="",
        help="at the plug of this seat of a vehicle, through a kit too; with --read the readings were taken there, not on the bench. "
        "Its plug's name, or FAMILY/PLUG, or FAMILY/PLUG/NUMBER with what it came with",
    )
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: answered; 1: a number is not in the book; 2: a reading could not be understood."""
    numbers = [args.number, *([args.other] if args.other else [])]
    fitter = Fitter(load_around(find_root(args.root), numbers).book)
    try:
        where = of_part(fitter.book, find_part(fitter.book, args.number))
        if args.json and not args.other:
            found = (
                explained_data(explain(fitter, args.number, args.read, args.seat)) if args.read else as_data(fitter, args.number, args.seat)
            )
            print_json({**found, **layer_data(fitter.book, *where)})
            return 0
        for words in layer_lines(fitter.book, *where):
            print(paint(words, "why"))
        if args.read:
            _explain(fitter, args.number, args.read, args.seat)
        elif args.other:
            _apart(fitter, args.number, args.other)
        else:
            for style, text in proof_lines(prove(fitter, args.number, args.seat)):
                print(paint(text, style))
    except NotInBook as error:
        complain(say("look.not_in_book", number=error.number))
        complain(say("look.nearest", numbers=with_status(fitter.book, error.nearest)))
        return EXIT_NOT_IN_BOOK
    except ReadingError as error:
        complain(str(error))
        return EXIT_CANNOT
    print()
    print(paint(caution_words(), "caution"))
    return 0


def _apart(fitter: Fitter, number: str, other: str) -> None:
    one, two, telling = apart(fitter, number, other)
    for part, against in ((one, two), (two, one)):
        more = [pin for pin in part.pins or () if against.pins is not None and pin not in against.pins]
        if more:
            print(shown(say("prove.more_pins", number=part.number, pins=more, other=against.number)))
    if telling is None:
        print(shown(say("prove.not_told_apart", number=one.number, other=two.number)))
        return
    print(paint(say("prove.probe_pair", a=telling.a, b=telling.b), "head"))
    for position, (left, right) in telling.readings.items():
        reads, other_reads = relation_words(left), relation_words(right)
        both = say("prove.both_read", number=one.number, reads=reads, other=two.number, other_reads=other_reads)
        print(shown(f"  {position:3} {both}"))


def _explain(fitter: Fitter, number: str, readings: list[str], seat: str) -> None:
    explained = explain(fitter, number, readings, seat)
    part, found = explained.part, explained.found
    follow = found.next or explained.beyond
    good = any(one.kind == "good" for one in found.told)
    print(paint(say("prove.explains", number=part.number), "head"))
    for one in found.told:
        print(shown(f"  {explanation_words(one)}"))
    if not found.told:
        print(shown(f"  {say('prove.explained_by_none')}"))
    elif follow:
        print(shown(f"  {say('prove.next', a=follow.a, b=follow.b, position=follow.position)}"))
    elif len(found.told) > 1:
        print(shown(f"  {say('prove.explained_by_several')}"))
    for note in explained.notes:
        print(shown(f"  {say('prove.note', head=note.head, text=note.text)}"))
    for style, text in unproved_lines(prove(fitter, number).bench) if good else ():
        print(paint(text, style))
