"""Bytes -> text: UTF-8 only, of a bearable size, without characters that move lines about unseen."""

from __future__ import annotations

import re

from rangebook.reading.files import MAX_BYTES
from rangebook.reading.finding import Problem
from rangebook.reading.links import LinkError
from rangebook.reading.located import Mark
from rangebook.reading.unseen import has_unseen

RULE = "unreadable-file"

# YAML takes U+0085, U+2028 and U+2029 for line ends and editors do not; control characters are refused by it altogether.
_UNSEEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")


def decode(file: str, data: bytes | OSError) -> str | Problem:
    """The text of one file, with every line end as ``\\n``, or the problem that keeps it from being read."""
    if isinstance(data, OSError):
        if isinstance(data, LinkError):
            return Problem.of(RULE, file, Mark(1, 1), "file.is_a_link")
        return Problem.of(RULE, file, Mark(1, 1), "file.unreadable", why=data.strerror or str(data))
    if len(data) > MAX_BYTES:
        return Problem.of(RULE, file, Mark(1, 1), "file.too_large")
    data = data.removeprefix(b"\xef\xbb\xbf")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8")
        return Problem.of(RULE, file, _mark(before), "file.not_utf8", byte=f"{data[error.start]:02x}")
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    # Most texts are plain ASCII, where Python tells at once that there is none.
    is_plain = text.isascii() and not has_unseen(text.replace("\t", ""))
    unseen = None if is_plain else _UNSEEN.search(text)
    if unseen:
        return Problem.of(RULE, file, _mark(text[: unseen.start()]), "file.unseen", code_point=f"{ord(unseen.group()):04X}")
    return text


def _mark(before: str) -> Mark:
    before = before.replace("\r\n", "\n").replace("\r", "\n")
    return Mark(before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
