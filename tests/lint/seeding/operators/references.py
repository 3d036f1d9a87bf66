"""Names and numbers that lead nowhere."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.book.numbers import normalise
from tests.lint.seeding.operators.entering import each, operator, sow, swapped
from tests.lint.seeding.sowing import Ground, Seed

sow("a slip in a part's connector", "unknown-connector", "switch", "parts.*.connector", swapped)
sow("a slip in a plug's connector", "unknown-connector", "switch", "plugs.*.connector", swapped)
sow("a slip in the plug that a kit is for", "unknown-connector", "kit", "from", swapped)
sow("a slip in the plug that a kit supplies", "unknown-connector", "kit", "to", swapped)
sow("a slip in a connector that mates", "unknown-connector", "connector", "mates.*", swapped)
sow("a slip in a part's mount", "unknown-mount", "switch", "parts.*.mount", swapped)
sow("a slip in a vehicle's plug", "unknown-plug", "switch", "applications.*.plug", swapped)
sow("a slip in a vehicle's gearbox", "unknown-gearbox", "switch", "applications.*.gearbox", swapped)
sow("a slip in a pin's circuit", "unknown-circuit", "switch", "parts.*.pins.*", swapped)
sow("a slip in a wire's circuit", "unknown-circuit", "switch", "plugs.*.wires.*.circuit", swapped)
sow("a slip in the kit that is needed", "unknown-kit", "switch", "parts.*.superseded_by.*.needs.*.kit", swapped)
sow("a position that a contact cannot have", "unknown-position", "switch", "parts.*.contacts.*.closed.*", lambda value: "X")
sow("a position that a lever cannot have", "unknown-position", "switch", "applications.*.lever.*", lambda value: "X")
sow("a position that it cannot be set in", "unknown-position", "switch", "fitting.set_in", lambda value: "X")


def _known_numbers(ground: Ground) -> set[str]:
    return set(ground.loaded.book.by_number)


def _unknown(number: str, known: set[str]) -> str:
    """The number with two of its figures changed about, or with a figure more."""
    for place in range(len(number) - 1, 0, -1):
        a, b = number[place - 1 : place + 1]
        made = number[: place - 1] + b + a + number[place + 1 :]
        if a != b and a.isdigit() and b.isdigit() and normalise(made) not in known:
            return made
    return number + "7"


def _confused(number: str) -> Iterator[str]:
    pairs = {"0": "O", "1": "I", "8": "B", "5": "S", "2": "Z", "O": "0", "I": "1", "B": "8", "S": "5", "Z": "2"}
    for place, sign in enumerate(number):
        if sign in pairs:
            yield number[:place] + pairs[sign] + number[place + 1 :]


for _name, _pattern in (("a vehicle came with", "applications.*.came_with"), ("takes its place", "parts.*.superseded_by.*.number")):

    @operator(f"a slip in the number that {_name}", "unknown-part")
    def _(ground: Ground, pattern: str = _pattern) -> Iterator[Seed]:
        for source, _, node in each("switch", *pattern.split("."))(ground):
            yield source.put(node, _unknown(node.value, _known_numbers(ground)))

    @operator(f"a look-alike character in the number that {_name}", "confusable-number")
    def _(ground: Ground, pattern: str = _pattern) -> Iterator[Seed]:
        for source, _, node in each("switch", *pattern.split("."))(ground):
            for number in _confused(node.value):
                if normalise(number) not in _known_numbers(ground):
                    yield source.put(node, number)


@operator("a look-alike character in a number in the prose", "confusable-number")
def _(ground: Ground) -> Iterator[Seed]:
    numbers = [*(part.number for part in ground.loaded.book.parts), *(kit.number for kit in ground.loaded.book.kits.values())]
    for source in ground.sources:
        for number in numbers:
            start = source.text.find(number, source.prose_start)
            if start > 0 and not re.match(r"[-\w]", source.text[start + len(number) :][:1]):
                for other in list(_confused(number))[:2]:
                    if normalise(other) not in {normalise(one) for one in numbers}:
                        yield source.seed((start, start + len(number), other))


@operator("a slip in a link", "dead-link")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for match in re.finditer(r"\]\(([\w./-]+)\.md\)", source.text):
            yield source.seed((match.start(1), match.end(1), match.group(1) + "s"))


@operator("a connector taken out", "unknown-connector")
def _(ground: Ground) -> Iterator[Seed]:
    yield from _gone(ground, "connector", (("parts", "*", "connector"), ("plugs", "*", "connector"), ("from",), ("to",), ("mates", "*")))


@operator("a kit taken out", "unknown-kit")
def _(ground: Ground) -> Iterator[Seed]:
    needs = ("parts", "*", "superseded_by", "*", "needs", "*")
    yield from _gone(ground, "kit", (needs, (*needs, "kit")))


def _gone(ground: Ground, kind: str, patterns: tuple[tuple[str, ...], ...]) -> Iterator[Seed]:
    for gone in ground.of(kind):
        name = gone.at("id").value
        places = frozenset(
            (source.file, source.line(node.start))
            for source in ground.sources
            for pattern in patterns
            for _, node in source.scalars(*pattern)
            if node.value == name
        )
        if places:
            yield Seed(gone.file, {gone.file: None}, places)
