"""What tells a site that was built from any other folder, so that nothing else is ever replaced."""

from __future__ import annotations

import json
import os
from pathlib import Path

from rangebook import __version__

NAME = "site.json"
_BY = "rangebook"


def write(site: Path) -> None:
    """Say in a finished site's folder that it is one, and of how many files."""
    place = site / NAME
    place.touch()  # it is one of them
    place.write_text(json.dumps({"by": _BY, "version": __version__, "files": _count(site)}) + "\n", "utf-8")


def against(folder: Path) -> str:
    """Why a folder is not to be replaced: it is no site, or somebody has put files into it; empty where it may be."""
    try:
        stated = json.loads((folder / NAME).read_text("utf-8"))
        is_site, files = stated["by"] == _BY, int(stated["files"])
    except (OSError, ValueError, KeyError, TypeError):
        return f"holds something that is not a site of this book (there is no {NAME} that says so)"
    if not is_site:
        return f"holds something that is not a site of this book (its {NAME} is another's)"
    return "holds files that are not of the site that was built there" if _count(folder) > files else ""


def _count(folder: Path) -> int:
    return sum(len(files) for _, _, files in os.walk(folder))
