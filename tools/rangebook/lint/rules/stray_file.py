"""A file that nothing reads.

Below ``entries/`` there are three folders, ``switches/``, ``connectors/`` and ``kits/``. Entries stand in them, with the ending ``.md``,
and pictures in ``photos/`` beside them, in a folder with the id of their entry. Licences, files called README and hidden ones are let be.

Why it matters: what stands anywhere else, or ends otherwise, is not a part of the book, and nothing says so: somebody wrote down what they
measured and nobody is told.

Fails: the folder is called ``switches``.

    # entries/switch/tamblin-two.md
    kind: switch

Mended:

    kind: switch
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rangebook.lint.context import Strays
from rangebook.lint.rule import BookCheck, Problem, Severity, Told, problem_in, rule
from rangebook.reading.files import FOLDERS
from rangebook.reading.nearest import nearest


def check_files(context: Strays) -> Iterator[Problem]:
    """Yield a finding at the first line of each."""
    for file in context.files:
        code, values = _why(file)
        yield problem_in(file, 1, code, **values)


def _why(file: str) -> tuple[str, dict[str, Any]]:
    """The message's code, and where it is likely meant to stand."""
    _, *folders, name = file.split("/")
    known = sorted(FOLDERS.values())
    if not folders or folders[0] not in known:
        return "folder", {"near": nearest(folders[0], known) if folders else None, "known": tuple(known)}
    if "photos" in folders:
        return "picture", {"folder": folders[0]}
    if len(folders) > 1:
        return "deep", {"folder": folders[0]}
    stem = name.partition(".")[0]
    return "ending", {"meant": f"{stem}.md"}


MESSAGES = {
    "folder": Told(
        "this file is in no folder of entries, so nothing reads it",
        [
            "move it to ",
            {"given": "near", "yes": "`entries/{near}/`", "no": "one of {known|code|comma} in `entries/`"},
            ", or take it out of `entries/`",
        ],
    ),
    "ending": Told(
        "this file does not end in `.md`, so nothing reads it",
        "if it is an entry, call it `{meant}`; if not, take it out of `entries/`",
    ),
    "deep": Told("this file is in a folder too deep, so nothing reads it", "move it to `entries/{folder}/`, or take it out of `entries/`"),
    "picture": Told(
        "this picture is in no folder of an entry, so no page shows it",
        "put it into `entries/{folder}/photos/` in the folder with the entry's id",
    ),
}

RULE = rule(__name__, __doc__, Severity.WARNING, BookCheck(Strays, check_files), messages=MESSAGES)
