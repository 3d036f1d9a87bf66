"""What would be mended, as a patch that ``git apply`` and ``patch -p1`` take."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from rangebook.lint.plan import FixedFile

NO_END = "\\ No newline at end of file\n"


def patch(one: FixedFile) -> str:
    """A unified difference of one file, its line ends as they are."""
    before, after = (list(_lines(data.decode("utf-8"))) for data in (one.before, one.after))
    lines = difflib.unified_diff(before, after, f"a/{one.file}", f"b/{one.file}")
    return "".join(line if line.endswith("\n") else f"{line}\n{NO_END}" for line in lines)


def _lines(text: str) -> Iterator[str]:
    """Lines with their ends. Only ``\\n`` ends one here, as it does for whoever applies a patch."""
    start = 0
    while start < len(text):
        end = text.find("\n", start) + 1 or len(text)
        yield text[start:end]
        start = end
