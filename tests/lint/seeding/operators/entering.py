"""Entering operators, and what several of them have in common."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator

from rangebook.book.model import Part
from rangebook.fitting.fitter import Fitter
from tests.lint.seeding.sowing import Ground, Operator, Scalar, Seed, Source

OPERATORS: list[Operator] = []

Seeds = Callable[[Ground], Iterator[Seed]]


def operator(name: str, *rules: str) -> Callable[[Seeds], Seeds]:
    """Enter a generator of seeds as an operator; ``rules`` are those that are there for it."""

    def enter(seeds: Seeds) -> Seeds:
        package, _, module = seeds.__module__.rpartition(".")
        OPERATORS.append(Operator(name, frozenset(rules), seeds, "rules" if package.endswith(".rules") else module))
        return seeds

    return enter


def each(kind: str, *pattern: str) -> Callable[[Ground], Iterator[tuple[Source, tuple, Scalar]]]:
    """Every text at a place in the entries of a kind."""

    def found(ground: Ground) -> Iterator[tuple[Source, tuple, Scalar]]:
        for source in ground.of(kind):
            for path, node in source.scalars(*pattern):
                yield source, path, node

    return found


def swapped(word: str) -> str:
    """Two signs near the middle that have changed places; the last one doubled where none can."""
    for at in sorted(range(1, len(word)), key=lambda place: abs(place - len(word) // 2)):
        a, b = word[at - 1 : at + 1]
        if a != b and a.isalnum() and b.isalnum():
            return word[: at - 1] + b + a + word[at + 1 :]
    return word + word[-1]


def sow(name: str, rule: str | tuple[str, ...], kind: str, pattern: str, make: Callable[[str], str | None]) -> None:
    """Enter an operator that writes another text for each text at a place, where ``make`` gives one."""

    def seeds(ground: Ground) -> Iterator[Seed]:
        for source, _, node in each(kind, *pattern.split("."))(ground):
            text = make(node.value)
            if text is not None and text != node.value:
                yield source.put(node, text)

    seeds.__module__ = sys._getframe(1).f_globals["__name__"]  # the group that it belongs to is the caller's
    operator(name, *([rule] if isinstance(rule, str) else rule))(seeds)


def quoted(source: Source) -> Iterator[Scalar]:
    for end in ("note", "method", "detail", "reason"):
        for depth in range(7):
            for _, node in source.scalars(*["*"] * depth, end):
                if node.quote == '"':
                    yield node


def relabel(source: Source, path: tuple, label: str) -> Seed:
    key = source.key(*path)
    return source.seed((key.start, key.end, label))


def goes_on(ground: Ground, connector: str, part: Part) -> bool:
    return part.connector in ground.loaded.book.switches_for_plug.get(connector, ())


def fitter_of(ground: Ground):
    made = vars(ground).get("fitter")
    if made is None:
        made = vars(ground)["fitter"] = Fitter(ground.loaded.book)
    return made
