"""The command ``rangebook``: one module a subcommand, each with ``add`` (its arguments) and ``run`` (its exit status)."""

from __future__ import annotations

import argparse
import importlib
import sys
from collections.abc import Collection, Sequence
from pathlib import Path

from rangebook import __version__
from rangebook.cli.root import NoRootError
from rangebook.cli.terminal import complain
from rangebook.lint.brought import RuleError
from rangebook.reading.errors import LayersError
from rangebook.schema.errors import SchemaError

COMMANDS = {
    "fit": "fit",
    "identify": "identify",
    "look": "look",
    "prove": "prove",
    "lint": "lint",
    "rules": "rules",
    "language-server": "language_server",
    "build": "build",
    "merge": "merge",
    "serve": "serve",
    "bundle": "bundle",
    "verify": "verify",
    "impact": "impact",
    "init": "init",
    "new": "new",
    "import": "import_",
    "migrate": "migrate",
}
"""Command -> its module in this package, which is imported only when it is asked for."""

EXIT_CANNOT = 2
"""Exit status where a command could not run at all."""


def parser(names: Collection[str] = tuple(COMMANDS)) -> argparse.ArgumentParser:
    """The command line, with the arguments of the given commands; the others are listed, and not imported."""
    top = argparse.ArgumentParser(
        prog="rangebook",
        description="What to fit in place of a gearbox range switch, and why. Run it in a folder that holds entries/, "
        "or name one with --root.",
    )
    top.add_argument("--version", action="version", version=f"rangebook {__version__}")
    commands = top.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for name, file in COMMANDS.items():
        if name not in names:
            commands.add_parser(name, help=_title(file))
            continue
        module = importlib.import_module(f"{__name__}.{file}")
        text = (module.__doc__ or "").strip()
        sub = commands.add_parser(
            name, help=text.split("\n")[0].rstrip("."), description=text, formatter_class=argparse.RawDescriptionHelpFormatter
        )
        module.add(sub)
        sub.set_defaults(run=module.run)
    return top


def _title(file: str) -> str:
    """The first line of what a module says of itself."""
    with (Path(__file__).parent / f"{file}.py").open(encoding="utf-8") as source:
        return source.readline().strip().strip('"').rstrip(".")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit status."""
    argv = sys.argv[1:] if argv is None else list(argv)
    args = parser(argv[:1]).parse_args(argv)
    try:
        return int(args.run(args))
    except (SchemaError, NoRootError, RuleError, LayersError) as error:
        complain(str(error))
        return EXIT_CANNOT
    except BrokenPipeError:  # the reader of our output has gone, as in `rangebook rules | head`
        sys.stderr.close()
        return 0
    except KeyboardInterrupt:
        return 130
