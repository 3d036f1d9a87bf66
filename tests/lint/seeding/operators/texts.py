"""Text that runs, places to fill in, and allowances."""

from __future__ import annotations

from collections.abc import Iterator

from tests.lint.seeding.operators.entering import operator, quoted
from tests.lint.seeding.sowing import Ground, Seed


@operator("HTML in a note", "unsafe-prose")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for node in quoted(source):
            yield source.seed((node.start + 1, node.start + 1, "<b>look</b> "))


@operator("HTML in the prose", "unsafe-prose")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((source.prose_start, source.prose_start, "<img src=x onerror=alert(1)>\n\n"))


@operator("a link that runs code", "unsafe-prose")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((source.prose_start, source.prose_start, "[look](JavaScript:alert) here.\n\n"))


@operator("a merge not finished, in the prose", "merge-marker")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((source.prose_start, source.prose_start, "<<<<<<< HEAD\nLook.\n"))


@operator("ten thousand brackets", "prose-bounds")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((source.prose_start, source.prose_start, "[" * 10_000 + "\n\n"))


@operator("a picture in no words", "photo")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for pattern in (("photos", "*", "shows"), ("parts", "*", "photos", "*", "shows")):
            for _, node in source.scalars(*pattern):
                yield source.put(node, "photo of it")


def _allowing(name: str, line: str) -> None:
    @operator(name, "allowance")
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.sources:
            if source.at("allow") is None:
                yield source.seed((source.front_end, source.front_end, f"allow: [{line}]\n"))


_allowing("a rule allowed that there is not", '{rule: missing-sources, reason: "none to be had"}')
_allowing("something allowed that is not found", '{rule: missing-source, reason: "none to be had"}')
_allowing("something allowed that cannot be", '{rule: schema, reason: "it is so"}')


@operator("a place left to be filled in", "left-to-do")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        start, _ = source.whole("title")
        yield source.seed((start, start, "# TODO title: what is printed on it\n"))


@operator("something allowed without a reason", "allowance")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for _, node in source.scalars("allow", "*", "reason"):
            yield source.put(node, "-")
