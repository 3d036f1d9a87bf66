"""What an earlier run found in the very same book, so that an unchanged book need not be checked again.

It is remembered under a digest of everything that a finding depends on: each entry's name and bytes, each picture's name,
size and time, the schema, the day, and the program itself. Anything else than an exact match is forgotten; a memory that
cannot be read or written is as good as none.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
import tempfile
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path

from rangebook import __version__
from rangebook.lint.finding import Finding, Severity
from rangebook.reading.links import refuse_links
from rangebook.words.catalogue import FOLDER

PLACE = Path(".rangebook") / "lint.json"
"""Where it is remembered, below the root."""

_PACKAGE = Path(__file__).resolve().parents[1]


def digest(
    root: Path,
    sources: Iterable[tuple[str, bytes | OSError]],
    schema_files: Iterable[Path],
    today: date,
    pictures: Iterable[tuple[str, int, int]] = (),
) -> str:
    """A digest of all that the findings in a book depend on. ``pictures`` are their paths, sizes and times."""
    told = hashlib.blake2b(digest_size=20)

    def tell(*words: object) -> None:
        for word in words:
            data = word if isinstance(word, bytes) else str(word).encode()
            told.update(len(data).to_bytes(8, "little"))
            told.update(data)

    tell(__version__, sys.version, today, root)
    for path in sorted([*_PACKAGE.rglob("*.py"), *FOLDER.rglob("*.json")]):
        seen = path.stat()
        tell(path, seen.st_size, seen.st_mtime_ns)
    for path in schema_files:
        tell(path, path.read_bytes() if path.is_file() else b"")
    for picture in pictures:
        tell(*picture)
    for name, data in sources:
        tell(name, data)
    return told.hexdigest()


def recall(root: Path, key: str) -> list[Finding] | None:
    """What was found under this digest, or ``None``."""
    try:
        refuse_links(root, root / PLACE)
        # A branch may hold anything of that name.
        kept = json.loads((root / PLACE).read_text("utf-8")) if (root / PLACE).is_file() else {}
        if kept["digest"] != key:
            return None
        return [Finding(**{**one, "severity": Severity(one["severity"])}) for one in kept["findings"]]
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None


def remember(root: Path, key: str, findings: Sequence[Finding]) -> None:
    """Remember what was found; the newest run alone is kept. Raises :class:`~rangebook.reading.links.LinkError` where the folder for it, or
    a file in it, is a link: a branch that somebody sends may hold one to a file of whoever looks at it."""
    place, unseen = root / PLACE, root / PLACE.parent / ".gitignore"
    for path in (place, unseen):
        refuse_links(root, path)
    try:
        place.parent.mkdir(exist_ok=True)
        if not unseen.exists():
            unseen.write_text("*\n", "utf-8")
        handle, name = tempfile.mkstemp(prefix=f".{place.name}.", dir=place.parent)
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            json.dump({"digest": key, "findings": [one.as_data() for one in findings]}, file)
        try:
            Path(name).replace(place)
        finally:
            Path(name).unlink(missing_ok=True)
    except OSError:
        return
