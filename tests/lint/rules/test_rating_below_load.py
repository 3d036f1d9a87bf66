"""rating-below-load."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from tests.lint.marking import CONTACTS, found_at_marks, part, parts
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "rating-below-load"


def _book(contacts: str, *wires: str) -> str:
    lines = "".join(
        f"          {cavity}: {{circuit: {name}{more}}}\n"
        for cavity, name, more in zip("12", ("start_feed", "start_out"), wires, strict=True)
    )
    return parts(part(contacts=contacts)) + f"    plugs:\n      six-wire:\n        connector: oval-9\n        wires:\n{lines}"


def _rated(amps: str) -> str:
    return CONTACTS.replace("closed: [P, N]", f"closed: [P, N], rated_a: {amps}")


def test_it_is_told_at_the_wire() -> None:
    (found,) = found_at_marks(RULE, _book(_rated("5"), "", ", carries_a: »6"))
    assert "carry 6 A" in found.message and "are made for 5 A" in found.message


def test_what_is_enough_or_not_stated_is_fine() -> None:
    found_at_marks(RULE, _book(_rated("6"), ", carries_a: 6", ", carries_a: 6"))
    found_at_marks(RULE, _book(_rated("5"), "", ""))
    found_at_marks(RULE, _book(CONTACTS, ", carries_a: 60", ", carries_a: 60"))


def test_of_a_feed_and_what_it_feeds_the_smaller_counts() -> None:
    found_at_marks(RULE, _book(_rated("5"), ", carries_a: 20", ", carries_a: 4"))


@operator("what the wires of a plug carry with the point one place too far", RULE)
def _tenfold(ground: Ground) -> Iterator[Seed]:
    """All of a plug: one wire alone proves nothing, since of a feed and what it feeds the smaller counts."""
    for source in ground.of("switch"):
        plugs: dict[tuple, list] = {}
        for path, node in source.scalars("plugs", "*", "wires", "*", "carries_a"):
            plugs.setdefault(path[:2], []).append(node)
        for nodes in plugs.values():
            if len(nodes) > 1 and all(Decimal(node.value) < 10 for node in nodes):  # the schema takes 100 A at the most
                lines = frozenset((source.file, source.line(node.start)) for node in nodes)
                yield source.seed(*((node.start, node.end, f"{Decimal(node.value) * 10:f}") for node in nodes), also=lines)
