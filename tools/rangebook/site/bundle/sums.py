"""The list of hashes of a bundle, in the form that `sha256sum --check` reads, and whether files are what it says."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterator, Mapping

SUMS = "SHA256SUMS"
SIGNATURE = f"{SUMS}.sig"

Files = Mapping[str, Callable[[], bytes]]
"""The files of a bundle by their names, each read when it is asked for."""

_LINE = re.compile(r"(?P<hash>[0-9a-f]{64})  (?P<name>[^\n]+)")


def sums(files: Files) -> bytes:
    """The list for some files."""
    return "".join(f"{_hash(read)}  {name}\n" for name, read in sorted(files.items())).encode("utf-8")


def differences(files: Files) -> Iterator[str]:
    """What of a bundle's files is not as its list has it, a line each; nothing where all is. The list and its signature are not in it."""
    if SUMS not in files:
        yield f"there is no {SUMS}: this is no bundle of a book"
        return
    stated: dict[str, str] = {}
    for number, line in enumerate(files[SUMS]().decode("utf-8", "replace").splitlines(), 1):
        found = _LINE.fullmatch(line)
        if found is None or found["name"] in stated:
            yield f"{SUMS}:{number}: is no line of a list of hashes"
            return
        stated[found["name"]] = found["hash"]
    there = files.keys() - {SUMS, SIGNATURE}
    yield from (f"{name}: is in the list and not there" for name in sorted(stated.keys() - there))
    yield from (f"{name}: is not in the list" for name in sorted(there - stated.keys()))
    yield from (
        f"{name}: is not what it was when the bundle was made"
        for name in sorted(stated.keys() & there)
        if _hash(files[name]) != stated[name]
    )


def _hash(read: Callable[[], bytes]) -> str:
    return hashlib.sha256(read()).hexdigest()
