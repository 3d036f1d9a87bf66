"""Build the site, if the linter finds no error; with one the old site stays as it was and the exit status is 1."""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from pathlib import Path

from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, progress
from rangebook.reading import garbage
from rangebook.words.shown import shown

EXIT_NOT_BUILT = 1
EXIT_CANNOT = 2


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook build``."""
    parser.add_argument("--site-dir", type=Path, metavar="DIR", help="where the site goes (site/ beside entries/)")
    parser.add_argument(
        "--shard",
        metavar="I/N",
        help="part I of N of the site, into part-I-of-N/ beside entries/ unless --site-dir names another folder; "
        "`rangebook merge` joins the parts",
    )
    add_whole(parser)
    add_root(parser)


def add_whole(parser: argparse.ArgumentParser) -> None:
    """Add ``--whole-mkdocs-yml`` to a command."""
    parser.add_argument(
        "--whole-mkdocs-yml",
        action="store_true",
        help="use all of the book's own mkdocs.yml: plugins, hooks, theme and extensions that it names are programs and are run; left out: "
        "only its name, addresses and repository",
    )


def tell_left_out(root: Path, whole: bool) -> None:
    """Say what of the book's own ``mkdocs.yml`` is not used."""
    from rangebook.site.generator.configuration import left_out

    names = [] if whole else left_out(root)
    if names:
        complain(f"mkdocs.yml: not used: {', '.join(names)}; --whole-mkdocs-yml uses them, and runs what they name")


def run(args: argparse.Namespace) -> int:
    """0: built; 1: not built, there are errors; 2: could not run."""
    # MkDocs takes a while to come up, and the other commands have no use for it.
    from rangebook.site.generator.build import BadTargetError, NotBuiltError, build_site
    from rangebook.site.generator.configuration import ConfigurationError
    from rangebook.site.generator.gate import NotCleanError, checked
    from rangebook.site.shared.shard import WHOLE, read_shard

    garbage.none_at_exit()
    root = find_root(args.root)
    try:
        shard = read_shard(args.shard) if args.shard else WHOLE
    except ValueError as error:
        complain(f"--shard: {error}")
        return EXIT_CANNOT
    if shard != WHOLE and args.whole_mkdocs_yml:
        complain("--shard: a site is not built in parts with --whole-mkdocs-yml: what the programs that it names write is not known")
        return EXIT_CANNOT
    target = args.site_dir or root / ("site" if shard == WHOLE else f"part-{shard.index}-of-{shard.count}")
    try:
        progress(f"reading and checking {root / 'entries'} ...")
        book = checked(root)
        progress(f"building {len(book.loaded.entries)} entries into {target} ...")
        tell_left_out(root, args.whole_mkdocs_yml)
        built = build_site(book, target, args.whole_mkdocs_yml, shard)
    except NotCleanError as error:
        sys.stdout.write(shown(str(error), lines=True))
        complain("nothing was built, because of the errors above; the site is as it was before")
        return EXIT_NOT_BUILT
    except BadTargetError as error:
        complain(str(error))
        return EXIT_CANNOT
    except (NotBuiltError, ConfigurationError) as error:
        for line in str(error).splitlines():
            complain(line)
        complain("the site was not built; what was there is as it was before")
        return EXIT_NOT_BUILT
    except OSError as error:
        complain(f"{error.filename or target}: {error.strerror or error}; the site is as it was before")
        return EXIT_CANNOT
    counts = Counter(str(finding.severity) for finding in built.findings)
    if counts:
        words = ", ".join(f"{count} {name}{'s' if count != 1 else ''}" for name, count in counts.items())
        complain(f"{words}; `rangebook lint` shows them")
    what = "The site" if shard == WHOLE else f"Part {shard.index} of {shard.count} of the site"
    print(shown(f"{what} is in {built.target} ({built.pages} pages)."))
    return 0
