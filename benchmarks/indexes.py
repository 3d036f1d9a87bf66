"""How large the indexes of a book are, whole and in pieces, and what of them a phone loads. Writes a table in Markdown; builds no site.

    .venv/bin/python benchmarks/indexes.py
    .venv/bin/python benchmarks/indexes.py --families 1000 2000

*Whole* are the files that a small book has, and a device that keeps the book. *Typed* is what a phone loads of a book in pieces while a
number is typed sign by sign: the head, and the pieces of numbers and words that each beginning of three signs or more asks for, the most of
300 numbers. *Begun* is an identification with its first question: what can be seen of every part, and the eight blocks with most in them,
for of eight families the numbers are shown. Bytes are as gzip (level 6) sends them, and as they are.
"""

from __future__ import annotations

import argparse
import gzip
import random
from collections.abc import Iterable, Mapping

from generate import generate
from rangebook.book.load import load_texts
from rangebook.book.numbers import look, normalise
from rangebook.site.data import identify, index, looks, pieces
from rangebook.site.facts.computed import Computed
from rangebook.site.shared.compact import compact

SHOWN = 8
SAMPLE = 300
FEW = 3


def packed(text: str) -> int:
    """Bytes as gzip sends them."""
    return len(gzip.compress(text.encode(), 6))


def asked_for(number: str, numbers: int, words: int) -> set[str]:
    """The pieces that the beginnings of a number ask for, as ``client/shared/pieces.js`` has it."""
    found = {pieces.HEAD_URL}
    for end in range(1, len(number) + 1):
        text = number[:end].strip()
        key = look(normalise(text))
        if len(key) < FEW:
            continue
        gram = key if len(key) < pieces.INNER else key[: pieces.GRAM]
        found.add(f"{pieces.FOLDER}numbers/{pieces.bucket(gram, numbers)}.json")
        if end < len(number):
            for word in (*text.lower().split(), normalise(text).lower()):
                size = pieces.LONG_GRAM if len(word) >= pieces.LONG_GRAM else pieces.GRAM
                gram = word[:size] if len(word) >= pieces.GRAM else f" {word}"
                found.add(f"{pieces.FOLDER}words/{pieces.bucket(gram, words)}.json")
    return found


def told(files: Iterable[str]) -> str:
    """The bytes of some files, packed and not."""
    listed = list(files)
    return f"{sum(map(packed, listed)) / 1000:.0f} kB ({sum(len(one.encode()) for one in listed) / 1000:.0f} kB)"


def typed(made: Mapping[str, str], numbers: Iterable[str]) -> str:
    """What the number takes for which most is loaded."""
    counts = [sum(f"/{kind}/" in address for address in made) for kind in ("numbers", "words")]
    sample = random.Random(1).sample(sorted(numbers), SAMPLE)
    most = max((asked_for(number, *counts) for number in sample), key=lambda found: sum(packed(made[one]) for one in found))
    return told(made[one] for one in most)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--families", type=int, nargs="+", default=[500, 1000, 2000])
    args = parser.parse_args()
    print("| families | parts | numbers.json | names.json | identify.json | a number typed | an identification begun | files |")
    print("| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
    pieces.LARGE = 0
    for families in args.families:
        computed = Computed(load_texts({name: text.encode() for name, text in generate(families).items()}))
        numbers, names = index.numbers(computed), index.names(computed)
        made = dict(pieces.files(computed, numbers, names))
        table = {address: text for address, text in identify.files(computed) if address.startswith("data/identify")}
        whole = table.pop(identify.IDENTIFY_URL)
        blocks = sorted((text for address, text in table.items() if address != looks.LOOKS_URL), key=packed)
        cells = [
            *(f"{packed(text) / 1000:.0f} kB" for text in (compact(numbers), compact(names), whole)),
            typed(made, (part.number for part in computed.book.parts)),
            told([table[looks.LOOKS_URL], *blocks[-SHOWN:]]),
        ]
        print(f"| {families:,} | {len(computed.book.parts):,} | {' | '.join(cells)} | {len(made) + len(table):,} |", flush=True)


if __name__ == "__main__":
    main()
