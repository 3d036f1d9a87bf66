"""Make one file of an edition: its site, its data as CSV and SQLite, and the hash of every file.

    rangebook bundle --out book.zip
    rangebook bundle --out book.zip --sign ~/.ssh/id_ed25519
    rangebook verify book.zip

Unpacked anywhere, `python3 open.py` shows the site to that machine, without a network. The same book gives the same bytes on any machine.

Exit status 0: made; 1: not made, there are errors; 2: could not run.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from pathlib import Path

from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, progress
from rangebook.words.shown import shown

EXIT_NOT_MADE = 1
EXIT_CANNOT = 2


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook bundle``."""
    parser.add_argument("--out", type=Path, metavar="FILE", required=True, help="the zip, which must not be there yet")
    parser.add_argument("--sign", type=Path, metavar="KEY", help="a private key of OpenSSH to sign the list of hashes with")
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: made; 1: not made; 2: could not run."""
    from rangebook.schema.settings import read_settings
    from rangebook.site.bundle.archive import below, pack
    from rangebook.site.bundle.make import make
    from rangebook.site.bundle.signing import NotSignedError, sign
    from rangebook.site.bundle.sums import SUMS
    from rangebook.site.generator.build import NotBuiltError
    from rangebook.site.generator.gate import NotCleanError, checked

    root, out = find_root(args.root), args.out.absolute()
    if out.exists() or out.is_symlink():
        complain(f"{args.out}: there is something of that name already; it was left as it is")
        return EXIT_CANNOT
    try:
        progress(f"reading and checking {root / 'entries'} ...")
        book = checked(root)
        with tempfile.TemporaryDirectory(prefix=".rangebook-", dir=out.parent) as made:
            folder = Path(made) / "book"
            folder.mkdir()
            make(book, folder, read_settings(root)[0].texts.get("name", "Rangebook"))
            if args.sign is not None:
                sign(folder / SUMS, args.sign)
            files = below(folder)
            pack(files, Path(made) / "zip")
            os.link(Path(made) / "zip", out)  # unlike a rename this fails where there is a file by now
    except NotCleanError as error:
        sys.stdout.write(shown(str(error), lines=True))
        complain("nothing was made, because of the errors above")
        return EXIT_NOT_MADE
    except (NotBuiltError, NotSignedError) as error:
        complain(str(error))
        return EXIT_NOT_MADE
    except OSError as error:
        complain(f"{error.filename or out}: {error.strerror or error}")
        return EXIT_CANNOT
    print(shown(f"{args.out}: {len(files)} files."))
    return 0
