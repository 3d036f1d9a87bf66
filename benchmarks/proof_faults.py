"""How many explanations are told of a planted fault, over random parts: of each single fault, and of two at once.

.venv/bin/python benchmarks/proof_faults.py [parts]
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from tests.electrics.test_diagnosis import built, every_fault, is_among, random_model  # noqa: E402
from tests.electrics.test_proof import called, pins_of  # noqa: E402
from tests.electrics.test_two_faults import amount_of, is_told, planted  # noqa: E402
from tests.fitting.reckoning import POSITIONS  # noqa: E402

from rangebook.electrics.diagnosis import Reading, diagnose  # noqa: E402
from rangebook.electrics.proof import proof_sheet  # noqa: E402


def main(parts: int) -> None:
    """Print the median, how often one alone is told, and how often the planted one is not told."""
    told: dict[str, list[int]] = {"single": [], "pair": []}
    missed: Counter[str] = Counter()
    fewer = 0
    start = time.process_time()
    for seed in range(parts):
        rng, node, part = random_model(5_000 + seed)
        what = (part, pins_of(part), POSITIONS)
        lines = proof_sheet(*what, called(part)).lines
        tries = [([(one, None)], way) for one in every_fault(node) for way in built(node, *one, **amount_of(one[0], rng))]
        tries += [found for _ in range(6) if (found := planted(rng, node))]
        for faults, way in tries:
            readings = [Reading(one.a, one.b, at, way(one.a, one.b, at)) for one in lines for at in POSITIONS]
            found = diagnose(*what, readings, called(part)).told
            if found and found[0].kind in ("good", "not_proved"):
                continue
            kind = "single" if len(faults) == 1 else "pair"
            told[kind].append(len(found))
            if kind == "single":
                missed[kind] += not is_among(*faults[0][0], found, node)
            elif not found or found[0].kind == "pair":
                missed[kind] += not is_told(node, faults, found)
            else:
                fewer += 1
    for kind, counts in told.items():
        alone = counts.count(1) / len(counts)
        print(f"{kind}: {len(counts)} planted, median {median(counts):g} told, {alone:.0%} one alone, {missed[kind]} not told")
    print(f"of the pairs {fewer} read as one fault would")
    print(f"{time.process_time() - start:.0f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
