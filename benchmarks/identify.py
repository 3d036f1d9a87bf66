"""How many questions lead from a switch in the hand to its family. Writes a table in Markdown.

    .venv/bin/python benchmarks/identify.py                        # the demo book
    .venv/bin/python benchmarks/identify.py --families 100 1000    # and invented ones of that size

Every part of the book (in a large one some of them, see ``MOST``) is taken in hand once for each plug that it may have been
taken off, on the first of its vehicles, and each question is answered truly from the entry, by "can't tell" where the entry says
nothing; those count as answers too. It ends when one family is left, or when no question splits what is left. *Hand* asks
nothing about the vehicle. Seconds are those of this machine for one question.
"""

from __future__ import annotations

import argparse
import statistics
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generate import generate
from rangebook.book.load import load, load_texts
from rangebook.desk.identify.narrow import STAMPED, narrow
from rangebook.desk.identify.questions import Question, next_question
from rangebook.desk.identify.table import Place, Ride, Row, Table, make_table
from rangebook.fitting.fitter import Fitter

MOST = 400
"""How many parts of a book are tried at the most, evenly spread."""


@dataclass(frozen=True)
class Truth:
    """A part as it is taken off: the part, what it came off, and the vehicle."""

    row: Row
    place: Place
    ride: Ride


@dataclass
class Asked:
    """How it went: ``questions`` asked, in order; ``told`` how many of them could be answered; ``families`` that are left."""

    questions: list[str]
    told: int
    families: int


def truths(table: Table) -> Iterator[Truth]:
    """Each part with each plug that it may have come off; once without where none is known."""
    for row in table.rows:
        places = [table.places[at] for at in row.places]
        known = [place for place in places if place.seat is not None] or places
        for place in known:
            yield Truth(row, place, place.rides[0])


def true_answer(table: Table, truth: Truth, question: Question) -> Any:
    """What someone with this part in the hand answers."""
    row, place, ride = truth.row, truth.place, truth.ride
    name = question.id
    if name.startswith(STAMPED):
        return any(table.marks[mark] == name.removeprefix(STAMPED) for mark in row.marks) if row.marks else None
    if name in ("pins", "wired"):
        face_at, pattern = (row.face, row.pins) if name == "pins" else (place.face, place.may)
        if face_at is None or pattern is None:
            return None
        face = table.faces[face_at]
        pairs = list(zip(face.cavities, pattern, strict=True))
        return {"face": face.id, "yes": [one for one, has in pairs if has == "1"], "no": [one for one, has in pairs if has == "0"]}
    if name in ("bolts", "shaft", "across_mm"):
        return None if row.mounting is None else getattr(table.mountings[row.mounting], name)
    if name == "wires":
        return place.most
    if name == "gearbox":
        return table.gearboxes[ride.gearboxes[0]] if ride.gearboxes else None
    if name == "vehicle":
        return None if ride.vehicle is None else table.vehicles[ride.vehicle]
    if name == "year":
        return ride.first
    if row.face is None:
        return None
    face = table.faces[row.face]
    return {"outline": face.outline, "cavities": len(face.cavities), "face": face.id}[name]


class Asking:
    """Asks of one table; a state that was come to before is not reckoned again."""

    def __init__(self, table: Table, vehicle: bool) -> None:
        self.table, self.vehicle = table, vehicle
        self.seconds = 0.0
        self.reckoned = 0
        self._known: dict[str, tuple[int, Question | None]] = {}

    def _next(self, state: dict[str, Any]) -> tuple[int, Question | None]:
        key = repr(state)
        if key not in self._known:
            start = time.perf_counter()
            left = narrow(self.table, state)
            families = len({self.table.rows[at].family for at in left.rows})
            question = next_question(self.table, state, self.vehicle) if families > 1 else None
            self.seconds += time.perf_counter() - start
            self.reckoned += 1
            self._known[key] = families, question
        return self._known[key]

    def ask(self, truth: Truth) -> Asked:
        """Ask until one family is left, or nothing more can be asked."""
        state: dict[str, Any] = {}
        while True:
            families, question = self._next(state)
            if question is None:
                break
            state[question.id] = true_answer(self.table, truth, question)
        return Asked(list(state), sum(value is not None for value in state.values()), families)


def measure(name: str, table: Table) -> Iterator[str]:
    """Lines of the table for one book."""
    every = list(truths(table))
    tried = every[:: -(-len(every) // MOST)]
    for label, vehicle in (("hand", False), ("hand, then vehicle", True)):
        asking = Asking(table, vehicle)
        asked = [asking.ask(truth) for truth in tried]
        counts = [len(one.questions) for one in asked]
        one_family = sum(one.families == 1 for one in asked)
        worst = max(one.families for one in asked)
        ninety = statistics.quantiles(counts, n=10)[-1]
        yield (
            f"| {name} | {len(table.families)} | {len(table.rows)} | {label} | {statistics.median(counts):g} | "
            f"{statistics.mean(counts):.1f} | {ninety:g} | {max(counts)} | {100 * one_family / len(asked):.0f} % | {worst} | "
            f"{asking.seconds / asking.reckoned:.3f} |"
        )


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--families", type=int, nargs="*", default=[])
    parser.add_argument("--root", type=Path, default=Path(__file__).parents[1])
    args = parser.parse_args()
    print("| book | families | parts | asks | median | mean | 9 in 10 | most | one family | left at worst | s a question |")
    print("|---|---|---|---|---|---|---|---|---|---|---|")
    books = [("demo", load(args.root).book)]
    for line in (line for name, book in books for line in measure(name, make_table(Fitter(book)))):
        print(line)
    for count in args.families:
        texts = {name: text.encode() for name, text in generate(count).items()}
        for line in measure("invented", make_table(Fitter(load_texts(texts).book))):
            print(line, flush=True)


if __name__ == "__main__":
    main()
