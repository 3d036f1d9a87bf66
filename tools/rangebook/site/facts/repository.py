"""Where the book's files lie, and the addresses at which a browser can edit them or add one."""

from __future__ import annotations

import re
from dataclasses import dataclass
from urllib.parse import urljoin

ENTRIES = "entries/"

_EDITS = re.compile(r"(?<![^/])(_?)edit/")


@dataclass(frozen=True)
class Repository:
    """``home`` is its own address; ``edit`` and ``add`` lead to the folder ``entries/`` in its editor, for a file that is there and for a
    new one, and end in a slash. Each is empty where it is not known."""

    home: str = ""
    edit: str = ""
    add: str = ""


def repository(repo_url: str | None, edit_uri: str | None) -> Repository:
    """From ``repo_url`` and ``edit_uri`` of ``mkdocs.yml``. An ``edit_uri`` that leads elsewhere than into ``entries/`` (MkDocs makes one
    up where none is stated) is not used.

    The step from editing to adding, ``edit`` -> ``new`` or ``_edit`` -> ``_new``, is what forges of git do: from memory, no source.
    """
    if not repo_url or not repo_url.startswith(("https://", "http://")):
        return Repository()
    uri = edit_uri or ""
    if not uri.endswith(ENTRIES):
        return Repository(repo_url)
    home = repo_url if repo_url.endswith("/") else f"{repo_url}/"
    new, steps = _EDITS.subn(r"\1new/", uri, count=1)
    return Repository(repo_url, urljoin(home, uri), urljoin(home, new) if steps else "")
