"""Sow defects in the demo book, one at a time, and count how many the linter finds. On demand; a sample of it is a test.

    .venv/bin/python benchmarks/seeding.py                    # everywhere, on all cores; some ten minutes
    .venv/bin/python benchmarks/seeding.py --most 20          # at most so many places for each kind of slip
    .venv/bin/python benchmarks/seeding.py --only "a kit"     # kinds with these words in their name

Each kind of slip is made wherever it fits. *Found*: the linter has something against the file with the slip in it, or the one that
it contradicts. *Right rule*: one of the rules that are there for it. *Right line*: that finding stands on the line to mend; where
two lines contradict each other and either may be the wrong one, on one of the two.
"""

from __future__ import annotations

import argparse
import os
import random
import sys
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from datetime import date
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from tests.lint.seeding.beyond import BEYOND  # noqa: E402
from tests.lint.seeding.operators import OPERATORS  # noqa: E402
from tests.lint.seeding.sowing import Ground, Operator  # noqa: E402

WORDS = {
    "files": "The file",
    "yaml_slips": "YAML and style",
    "format_slips": "The entry format",
    "names": "Ids and numbers",
    "references": "What leads nowhere",
    "pins": "Pins, wires, cavities",
    "positions": "Positions and readings",
    "kits": "Kits and unused entries",
    "supersessions": "Supersessions",
    "vehicles": "Vehicles, dates, sources",
    "texts": "Text and allowances",
    "rules": "What the tests of single rules sow",
}

Row = tuple[str, int, int, int, int, list[str]]
"""Operator, places, found, right rule, right line, and what was not told in the right place."""


def main() -> int:
    """Print the table as Markdown; 0 where at least 99 in a hundred were found in the right place."""
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--most", type=int, default=10**9, help="places for each operator (all)")
    arguments.add_argument("--only", default="", help="operators with this in their name")
    arguments.add_argument("--groups", nargs="+", choices=WORDS, help="groups of the table alone")
    arguments.add_argument("--processes", type=int, default=os.cpu_count())
    args = arguments.parse_args()
    clean = _ground().lint()
    chosen = [one for one in OPERATORS if args.only in one.name and one.group in (args.groups or WORDS)]
    chosen.sort(key=lambda one: list(WORDS).index(one.group))
    with ProcessPoolExecutor(args.processes) as pool:
        rows = list(pool.map(_sown, [one.name for one in chosen], [args.most] * len(chosen)))
        beyond = list(pool.map(_sown, [one.name for one in BEYOND], [args.most] * len(BEYOND)))
    _print(chosen, rows, len(clean))
    print("\nWhat is not caught: slips after which the book still agrees with itself. Only looking again finds them.\n")
    print("| kind of slip | places | something found in the file all the same |\n| --- | ---: | ---: |")
    for name, places, found, *_ in beyond:
        print(f"| {name} | {places:,} | {found:,} |")
    places, _, _, right = (sum(row[at] for row in rows) for at in range(1, 5))
    return 0 if right >= 0.99 * places and not clean else 1


@cache
def _ground() -> Ground:
    return Ground(ROOT, date.today())


def _sown(name: str, most: int) -> Row:
    operator = next(one for one in (*OPERATORS, *BEYOND) if one.name == name)
    seeds = list(operator.seeds(_ground()))
    random.Random(name).shuffle(seeds)
    found = rule = line = 0
    missed = []
    for seed in seeds[:most]:
        outcome = _ground().try_out(operator, seed)
        found += outcome.found
        rule += outcome.right_rule
        line += outcome.right_line
        if not outcome.right_line:
            said = Counter(f"{one.rule} at {one.file}:{one.line}" for one in outcome.findings)
            missed.append(f"{seed.what} -> {', '.join(list(said)[:3]) or 'nothing'}")
    return name, min(len(seeds), most), found, rule, line, missed


def _print(chosen: Sequence[Operator], rows: Sequence[Row], clean: int) -> None:
    print(f"Findings on the clean book: {clean}. Kinds of slips: {len(rows)}.\n")
    print("| kind of slip | rule | places | found | right rule | right line |\n| --- | --- | ---: | ---: | ---: | ---: |")
    group = None
    for operator, (name, *counts, _) in zip(chosen, rows, strict=True):
        if operator.group != group:
            group = operator.group
            print(f"| **{WORDS[group]}** | | | | | |")
        print(f"| {name} | {', '.join(sorted(operator.rules))} | " + " | ".join(f"{count:,}" for count in counts) + " |")
    totals = [sum(row[at] for row in rows) for at in range(1, 5)]
    print("| **all** | | " + " | ".join(f"**{total:,}**" for total in totals) + " |")
    shares = ", ".join(
        f"{word} {total / max(1, totals[0]):.2%}" for word, total in zip(("found", "right rule", "right line"), totals[1:], strict=True)
    )
    print(f"\n{shares}.")
    missed = [line for row in rows for line in row[5]]
    if missed:
        print("\nNot told in the right place:\n")
        print("\n".join(f"- `{line}`" for line in missed[:60]))


if __name__ == "__main__":
    sys.exit(main())
