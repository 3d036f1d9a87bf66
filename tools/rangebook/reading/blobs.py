"""What git calls a file's bytes."""

from __future__ import annotations

import hashlib


def blob_id(data: bytes, hash_name: str = "sha1") -> str:
    """The name that git gives to these bytes, in a repository that goes by this hash."""
    made = hashlib.new(hash_name, b"blob %d\0" % len(data), usedforsecurity=False)
    made.update(data)
    return made.hexdigest()
