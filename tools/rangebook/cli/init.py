"""Begin a book of your own: entries to start from, its settings, and what editors, git and a forge go by.

    rangebook init ours --name "Hill Road shop" --forge gitlab
    cd ours
    rangebook serve

Each file is an example with comments, invented; put what you have on the bench in the place of the entries. Never writes over a file: a
folder that has anything in it but a repository of git is left as it is.

Exit status 0: begun; 1: not begun, because of what was given or what is there; 2: could not run.
"""

from __future__ import annotations

import argparse
from pathlib import Path

from rangebook import __version__
from rangebook.cli.terminal import complain
from rangebook.cli.writing import NotWrittenError, create
from rangebook.desk.beginning.begin import FORGES, first_files
from rangebook.schema.settings import FILE, problems_of
from rangebook.words.problems import problem_words
from rangebook.words.shown import shown

EXIT_NOT_BEGUN = 1

PROGRAM = f"git+https://git.example.org/rangebook@v{__version__}"
"""Where a workflow fetches the program from, until somebody puts the address there."""


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook init``."""
    parser.add_argument("folder", type=Path, metavar="DIR", help="a new folder, or an empty one")
    parser.add_argument("--name", metavar="NAME", help="what the book is called (the folder's name)")
    parser.add_argument("--address", metavar="URL", default="", help="where the site will be published; the codes on labels lead there")
    parser.add_argument("--contact", metavar="TEXT", default="", help="whom to ask, at the foot of each page")
    parser.add_argument("--region", metavar="CODE", default="", help="where it is read, as GB or US: its units and paper go by it")
    parser.add_argument(
        "--forge", choices=FORGES, help="with what checks each change and builds the site there; bare: hooks for a repository of your own"
    )
    parser.add_argument("--program", metavar="WHAT", default=PROGRAM, help="what that workflow installs, as pip takes it (%(default)s)")
    parser.add_argument("--no-license", action="store_true", help="without CC BY 4.0 for the entries: choose what becomes of them later")


def run(args: argparse.Namespace) -> int:
    """0: begun; 1: not begun."""
    folder: Path = args.folder.absolute()
    files = first_files(
        args.name or folder.name,
        address=args.address,
        contact=args.contact,
        region=args.region,
        forge=args.forge or "",
        program=args.program,
        licensed=not args.no_license,
    )
    against = [str(problem_words(one)) for one in problems_of(files[FILE])] or _against(folder)
    if against:
        for one in against:
            complain(one)
        return EXIT_NOT_BEGUN
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for file, text in files.items():
            create(folder, file, text.encode("utf-8"))
    except (NotWrittenError, OSError) as error:
        complain(str(error))
        return EXIT_NOT_BEGUN
    print(shown(f"The book is in {args.folder}: {len(files)} files. `rangebook serve --root {args.folder}` shows it."))
    if args.program == PROGRAM and any(PROGRAM in text for text in files.values()):
        print(shown("The workflow fetches the program from an address that is an example: put yours there, under PROGRAM."))
    return 0


def _against(folder: Path) -> list[str]:
    """Why no book can be begun in a folder."""
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        return [f"{folder}: it is no folder, but a file or a link"]
    there = sorted(path.name for path in folder.iterdir() if path.name != ".git") if folder.is_dir() else []
    return [f"{folder}: there is something in it ({there[0]}); name a new folder"] if there else []
