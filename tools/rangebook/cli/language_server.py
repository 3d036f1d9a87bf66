"""Help an editor while somebody types: findings, what can stand here, what a key means, where a number leads.

It speaks the Language Server Protocol on its input and output, so it is started by an editor and not by hand. What the editor has open
counts, saved or not; for the rest the files on the disk. The book is the one that a file stands in, whatever folder this is started in.
The handbook's page "In your editor" says what to set in Visual Studio Code, Neovim, Helix, Emacs and Kate.
"""

from __future__ import annotations

import argparse


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook language-server``: what editors are used to giving, and nothing else."""
    parser.add_argument("--stdio", action="store_true", help="what it does in any case; many editors say so")


def run(_: argparse.Namespace) -> int:
    """0: the editor has ended it."""
    from rangebook.editor.server import make

    make().start_io()
    return 0
