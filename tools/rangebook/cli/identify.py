"""Find out which switch is in the hand, when no number can be read.

Asks one question after the other about what can be seen, the one first that leaves least; `?` is "can't tell" and `<` takes the last
answer back. With --answer, as often as you like, it asks nothing: it prints what is left and the question that helps most. Names and
answers are those in the address of the site's page for it.

    rangebook identify --answer outline=oval --answer cavities=9 --answer "stamped:green dot=yes"
"""

from __future__ import annotations

import argparse
from collections.abc import Iterable

from rangebook.book.load import load
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, paint, print_json
from rangebook.desk.identify.answers import AnswerError, read_flags, typed_answer
from rangebook.desk.identify.narrow import State
from rangebook.desk.identify.standing import (
    Line,
    Standing,
    as_data,
    as_lines,
    end_lines,
    how_words,
    left_line,
    left_lines,
    mirrored_lines,
    nothing_lines,
    question_lines,
    standing,
)
from rangebook.desk.identify.table import Table, make_table
from rangebook.desk.identify.words import standing_words
from rangebook.desk.layers import with_layers
from rangebook.fitting.fitter import Fitter

EXIT_NOTHING = 1
EXIT_CANNOT = 2

BACK = "<"
TURN, LEAVE = "1", "2"


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook identify``."""
    parser.add_argument(
        "--answer", metavar="NAME=ANSWER", action="append", default=[], help="what is known, as in `cavities=9`; then nothing is asked"
    )
    parser.add_argument("--json", action="store_true", help="write what is left as JSON; nothing is asked")
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: something is left; 1: nothing in the book has all of that; 2: an answer could not be understood."""
    loaded = load(find_root(args.root))
    for entry in loaded.book.lost:
        complain(f"{entry.file} is left out, it has errors: see `rangebook lint`")
    table = make_table(Fitter(loaded.book))
    try:
        now = standing(table, read_flags(table, args.answer))
    except AnswerError as error:
        complain(str(error))
        return EXIT_CANNOT
    if args.json:
        print_json(with_layers(loaded.book, as_data(now)))
    elif args.answer:
        _print(as_lines(loaded.book, now))
    else:
        now = _asked(table)
        print()
        _print(left_lines(loaded.book, now))
        _print(end_lines(now))
    return 0 if now.numbers else EXIT_NOTHING


def _asked(table: Table) -> Standing:
    """Ask until nothing more helps or nobody answers; gives where that led."""
    states: list[State] = [{}]
    left_as_they_are: set[str] = set()
    while True:
        now = standing(table, states[-1])
        over = next((one for one in now.mirrored if one.id not in left_as_they_are), None)
        if over:
            _print(mirrored_lines(now, over))
            reply = _reply(standing_words("how_turn"))
            if reply == TURN:
                states[-1] = over.state
            elif reply == LEAVE:
                left_as_they_are.add(over.id)
        elif not now.numbers:
            _print(nothing_lines(now, numbered=True))
            reply = _reply(standing_words("how_doubt" if now.doubts else "how_back"))
            if reply and reply in [str(at) for at, _ in enumerate(now.doubts, 1)]:
                wrong, _ = now.doubts[int(reply) - 1]
                states.append({name: value for name, value in now.state.items() if name != wrong})
            elif reply != BACK:
                return now
        elif now.question is None:
            return now
        else:
            print()
            sure = [("plain", standing_words("confirm"))] if now.confirms else []
            _print([left_line(now), *sure, *question_lines(table, now.question)])
            reply = _reply(how_words(table, now.question))
            if reply not in (None, BACK):
                try:
                    states.append({**now.state, now.question.id: typed_answer(table, now.question, reply or "")})
                except AnswerError as error:
                    complain(str(error))
        if reply is None:
            return now
        if reply == BACK and len(states) > 1:
            states.pop()
            left_as_they_are.clear()


def _reply(how: str) -> str | None:
    """What is typed; ``None`` where the input has ended."""
    _print([("why", how)])
    try:
        return input("> ").strip()
    except EOFError:
        return None


def _print(lines: Iterable[Line]) -> None:
    for style, text in lines:
        print(paint(text, style))
