"""What fits in place of a part that came off.

For every vehicle that the part was built into, or that it fits, what can stand in for it and why; with a second number,
only how that one would do. Numbers may be written with or without hyphens, spaces, dots and slashes.

With --at it is the answer that the book gave at a commit, a tag or a branch: what somebody was told then, or an edition printed. What is
computed from it is computed by this version of the program. JSON then has "at": {"commit", "words"}.
"""

from __future__ import annotations

import argparse

from rangebook.book.index import load_around
from rangebook.book.numbers import normalise
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, paint, print_json
from rangebook.desk.fit import NotInBook, as_data, fit, judged_in
from rangebook.desk.fit_lines import as_lines
from rangebook.desk.look import with_status
from rangebook.fitting.fitter import Fitter
from rangebook.schema.settings import read_settings
from rangebook.words.catalogue import say
from rangebook.words.measures import put_first

EXIT_NOT_IN_BOOK = 1
EXIT_CANNOT = 2


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook fit``."""
    parser.add_argument("removed", metavar="REMOVED", help="the number of the part that came off")
    parser.add_argument("candidate", metavar="CANDIDATE", nargs="?", help="the number of a part that might go on")
    parser.add_argument("--json", action="store_true", help="write the answer as JSON")
    parser.add_argument("--at", metavar="REF", help="the book as it was at this commit, tag or branch")
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: answered; 1: a number is not in the book; 2: git has no such state of it."""
    base = None
    if args.at is None:
        loaded = load_around(find_root(args.root), [args.removed, *([args.candidate] if args.candidate else [])])
    else:
        from rangebook.cli.at import GitError, load_at

        try:
            loaded, base = load_at(args.root, args.at)
        except GitError as error:
            complain(str(error))
            return EXIT_CANNOT
    fitter = Fitter(loaded.book)
    for entry in loaded.book.lost:
        complain(f"{entry.file} is left out, it has errors: see `rangebook lint`")
    try:
        answer = fit(fitter, args.removed, args.candidate)
    except NotInBook as error:
        complain(say("look.not_in_book", number=error.number))
        if error.nearest:
            complain(say("look.nearest", numbers=with_status(loaded.book, error.nearest)))
        return EXIT_NOT_IN_BOOK
    for typed, found in ((args.removed, answer.removed), (args.candidate, answer.candidate)):
        if found and (key := normalise(typed)) != found.key:
            other = next((one for one in found.also_numbered if one.key == key), None)
            complain(
                say("look.other", other=other.number, number=found.number, by=other.by)
                if other
                else say("look.alike", typed=typed, number=found.number)
            )
    # What it takes to check entries is only imported once there is an answer.
    from rangebook.lint.around import errors_around

    errors = errors_around(loaded, fitter, answer.removed, judged_in(answer))
    if args.json:
        at = {} if base is None else {"at": {"commit": base.commit, "words": base.words}}
        print_json({**as_data(answer), **at, "errors": [{"file": file, "count": count} for file, count in errors.items()]})
    else:
        put_first(read_settings(loaded.root)[0].units)
        if base is not None:
            print(paint(say("fit.at", base=base.words), "head"))
        if errors:
            print(paint(say("fit.errors", count=sum(errors.values()), files=tuple(errors)), "caution"))
        for style, text in as_lines(answer):
            print(paint(text, style))
    return 0
