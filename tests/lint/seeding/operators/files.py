"""Slips with the file as a whole: its bytes, its two `---` lines, its line ends."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from tests.lint.seeding.operators.entering import Seeds, operator
from tests.lint.seeding.sowing import Ground, Seed


def _in_title(data: bytes) -> Seeds:
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.sources:
            seed = source.put(source.at("title"), "\0")
            yield replace(seed, files={file: text.replace(b"\0", data) for file, text in seed.files.items()})

    return seeds


operator("a byte that is not UTF-8", "unreadable-file")(_in_title(b"caf\xe9"))
operator("a control character", "unreadable-file")(_in_title(b"a\x07b"))
operator("an unseen line end", "unreadable-file")(_in_title("a\u2028b".encode()))


@operator("a byte order mark", "line-ends")
def _(ground: Ground) -> Iterator[Seed]:
    for file, data in ground.bytes.items():
        yield Seed(file, {file: b"\xef\xbb\xbf" + data}, frozenset({(file, 1)}))


@operator("one line end of another kind", "line-ends")
def _(ground: Ground) -> Iterator[Seed]:
    for file, data in ground.bytes.items():
        yield Seed(file, {file: data.replace(b"\n", b"\r\n", 1)}, frozenset({(file, 1)}))


@operator("a space at the end of a line", "trailing-space")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for match in list(re.finditer(r"(?<=\S)$", source.text[: source.front_end], re.MULTILINE))[1:-1:7]:
            yield source.seed((match.start(), match.start(), " "))


@operator("the line end of the last line lost", "trailing-space")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((len(source.text) - 1, len(source.text), ""))


@operator("the first `---` lost", "front-matter")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((0, 4, ""))


@operator("the second `---` lost", "front-matter")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((source.front_end, source.front_end + 4, ""), told=0)


@operator("a second entry pasted below", "front-matter")
def _(ground: Ground) -> Iterator[Seed]:
    for source, other in zip(ground.sources, ground.sources[1:], strict=False):
        yield source.seed((source.prose_start, len(source.text), other.text), told=source.front_end)
