"""How the search for moved wires grows with the number of wires. Writes a table in Markdown.

    .venv/bin/python benchmarks/rewiring.py

Three kinds of switch, each with its pins in other cavities than the original's, the worst of several orders:
*distinct*, every contact closes in other positions, so signatures alone find each pin; *pairs*, contacts that are alike
two and two; *alike*, all contacts the same, the most symmetric there is, where equal answers are counted only up to a bound.
"""

from __future__ import annotations

import json
import random
import time
from itertools import combinations

from rangebook.book.build import family
from rangebook.book.model import CASE
from rangebook.electrics.behaviour import behaviour, compare
from rangebook.fitting.rewiring import MAX_EQUAL, MAX_STEPS, Rewiring, Task, search
from rangebook.reading.entry import read_entry

POSITIONS = ("P", "R", "N", "D", "3", "2", "1")
CAVITIES = [str(number) for number in range(1, 21)]


def subsets() -> list[list[str]]:
    """Ways of being closed, each another one."""
    return [list(one) for size in (1, 2, 3) for one in combinations(POSITIONS, size)]


def contacts(kind: str, wires: int) -> list[dict]:
    """Contacts between neighbouring cavities, a wire to each."""
    ways = subsets()
    return [
        {
            "pins": [CAVITIES[2 * index], CAVITIES[2 * index + 1]],
            "closed": ways[{"distinct": index, "pairs": index // 2, "alike": 0}[kind]],
        }
        for index in range(wires // 2)
    ]


def task(kind: str, wires: int, seed: int) -> Task:
    """A seat with ``wires`` wires, and a part with the same contacts on other pins."""
    listed = contacts(kind, wires)
    order = CAVITIES[:]
    random.Random(seed).shuffle(order)
    new = dict(zip(CAVITIES, order, strict=True))
    moved = [{**one, "pins": [new[end] for end in one["pins"]]} for one in listed]
    parts = [
        {"number": number, "pins": {end: "display" for one in all_ for end in one["pins"]}, "contacts": all_}
        for number, all_ in (("A", listed), ("B", moved))
    ]
    front = {"kind": "switch", "id": "f", "title": "f", "positions": list(POSITIONS), "parts": parts}
    made = family(read_entry("entries/switches/f.md", f"---\n{json.dumps(front)}\n---\n".encode()))
    original, part = made.parts
    natural = {cavity: cavity for cavity in CAVITIES[:wires]}
    own = behaviour(original, tuple((one, one) for one in (*natural, CASE)), POSITIONS)

    def accept(place) -> bool:
        pairs = (*((wire, place[wire]) for wire in natural), (CASE, CASE))
        return not compare(own, behaviour(part, pairs, POSITIONS))

    return Task(original, part, natural, CAVITIES, POSITIONS, {}, frozenset(), accept)


def measured(kind: str, wires: int) -> tuple[Rewiring, float]:
    """The search with most steps of several, and the seconds that it took."""
    worst: tuple[Rewiring, float] | None = None
    for seed in range(5):
        one = task(kind, wires, seed)
        start = time.process_time()
        found = search(one)
        took = time.process_time() - start
        if worst is None or found.steps > worst[0].steps:
            worst = found, took
    assert worst is not None
    return worst


def main() -> None:
    """Print the table."""
    print(f"Given up after {MAX_STEPS:,} placements; equal answers are counted up to {MAX_EQUAL:,}.\n")
    print("| wires | contacts | moved | equal answers | placements tried | ms | settled |\n|---|---|---|---|---|---|---|")
    for kind in ("distinct", "pairs", "alike"):
        for wires in (4, 6, 8, 10, 12, 14, 16):
            found, took = measured(kind, wires)
            settled = "yes" if found.complete else "given up: unknown"
            print(f"| {wires} | {kind} | {found.moved} | {found.equal} | {found.steps:,} | {took * 1000:.1f} | {settled} |")


if __name__ == "__main__":
    main()
