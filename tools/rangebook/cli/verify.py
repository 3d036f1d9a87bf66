"""Tell whether a bundle is what it was when it was made, without a network: the zip, or the folder that it was unpacked into.

    rangebook verify book.zip
    rangebook verify book.zip --signers allowed_signers --by bench@example.org

Each file is compared with the list of hashes, which has to name all of them. Whoever changes a file can change the list too: by whom it
was made only the signature tells, and only where --signers names a list of keys that you have from elsewhere (`allowed_signers`, as the
manual of ssh-keygen has it).

Exit status 0: it is; 1: it is not, with what differs; 2: could not run.
"""

from __future__ import annotations

import argparse
import tempfile
from itertools import islice
from pathlib import Path

from rangebook.cli.terminal import complain
from rangebook.words.shown import shown

EXIT_DIFFERS = 1
EXIT_CANNOT = 2

MOST = 20
"""So many differences are told."""


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook verify``."""
    parser.add_argument("bundle", type=Path, metavar="FILE", help="a zip that `rangebook bundle` made, or the folder it was unpacked into")
    parser.add_argument("--signers", type=Path, metavar="FILE", help="who may have signed it, with their keys")
    parser.add_argument("--by", metavar="NAME", help="who has to have signed it, by the name in that list")


def run(args: argparse.Namespace) -> int:
    """0: as it was made; 1: not; 2: could not run."""
    from rangebook.site.bundle.archive import NoBundleError, opened
    from rangebook.site.bundle.signing import NotSignedError, signed_by
    from rangebook.site.bundle.sums import SIGNATURE, SUMS, differences

    if (args.signers is None) != (args.by is None):
        complain("--signers and --by go together: the list of keys, and who of them it has to be")
        return EXIT_CANNOT
    try:
        with opened(args.bundle) as files, tempfile.TemporaryDirectory() as folder:
            found = list(islice(differences(files), MOST + 1))
            if args.signers is not None and not found:
                if SIGNATURE not in files:
                    raise NotSignedError("it is not signed")
                signature = Path(folder) / SIGNATURE
                signature.write_bytes(files[SIGNATURE]())
                signed_by(files[SUMS](), signature, args.signers, args.by)
            count = len(files)
    except (NotSignedError, NoBundleError) as error:
        complain(str(error))
        return EXIT_DIFFERS
    except OSError as error:
        complain(f"{error.filename or args.bundle}: {error.strerror or error}")
        return EXIT_CANNOT
    for one in found[:MOST]:
        complain(one)
    if found:
        complain("it is not what it was when it was made" + ("; there is more" if len(found) > MOST else ""))
        return EXIT_DIFFERS
    by = f", signed by {args.by}" if args.by else "; nobody's signature was asked for"
    print(shown(f"{args.bundle}: all {count} files are as they were when it was made{by}."))
    return 0
