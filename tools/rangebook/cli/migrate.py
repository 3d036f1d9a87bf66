"""Bring the entries of the first version of the format over to the second.

Only what follows from a file itself is changed, and it says the same afterwards: every answer stays. Nothing is written without --write;
what would be done is printed as a patch. With --check nothing is printed but the files that are left to do.

Exit status 0: done, or nothing to do; 1: with --check, something is left to do; 2: something could not be done.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, write_patch
from rangebook.cli.writing import NotWrittenError, write
from rangebook.lint.migrating import migrate
from rangebook.lint.patch import patch
from rangebook.lint.plan import FixedFile
from rangebook.reading.files import read_all
from rangebook.words.shown import shown

EXIT_CANNOT = 2


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook migrate``."""
    how = parser.add_mutually_exclusive_group()
    how.add_argument("--write", action="store_true", help="write the files (left out: only show what would be done)")
    how.add_argument("--dry-run", action="store_true", help="write nothing, print the changes as a patch: as without it")
    how.add_argument("--check", action="store_true", help="write nothing; exit 1 if any file is left to do")
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: done, or nothing to do; 1: something is left to do; 2: something could not be done."""
    root = find_root(args.root)
    found = [migrate(file, data) for file, data in read_all(root) if isinstance(data, bytes)]
    files = [one for one in found if isinstance(one, FixedFile)]
    left = [one for one in found if isinstance(one, str)]
    for words in left:
        complain(words)
    if args.check:
        for one in files:
            print(shown(one.file))
        return EXIT_CANNOT if left else 1 if files else 0
    if not args.write:
        write_patch(map(patch, files))
    done = _written(root, files) if args.write else files
    for one in done:
        for note in one.notes:
            print(shown(f"{one.file}:{note.mark.line}:{note.mark.column}: {note.what}"), file=sys.stderr)
    what = "brought over" if args.write else "would be brought over; --write does it"
    print(shown(f"{len(done)} file{'s' if len(done) != 1 else ''} {what}" if done else "nothing to bring over"), file=sys.stderr)
    return EXIT_CANNOT if left or len(done) < len(files) else 0


def _written(root: Path, files: Sequence[FixedFile]) -> list[FixedFile]:
    """Those of the files that could be written."""
    done = []
    for one in files:
        try:
            write(root, one.file, one.before, one.after)
            done.append(one)
        except NotWrittenError as error:
            complain(str(error))
    return done
