"""How large the indexes of a book are, whole and cut into shards. Writes a table in Markdown; builds no site.

    .venv/bin/python benchmarks/indexes.py
    .venv/bin/python benchmarks/indexes.py --families 1000 2000

*Whole* are the files as the site has them. *Shards* are what a book too large for one file of numbers would have instead: a file for each
two characters, with every number in it in which these two begin four or more in a row. The find box asks for four characters of a number,
anywhere in it, so the first two of what is typed name the one file that has every number that can be meant. A number stands in several
shards; each has what the whole index has for it: number, status, family and its title. Bytes are as gzip (level 9) sends them.
"""

from __future__ import annotations

import argparse
import gzip
import statistics
from collections.abc import Iterator

from generate import generate
from rangebook.book.load import load_texts
from rangebook.book.numbers import normalise
from rangebook.site.data import identify, index
from rangebook.site.facts.computed import Computed
from rangebook.site.shared.compact import compact


def packed(text: str) -> int:
    """Bytes as gzip sends them."""
    return len(gzip.compress(text.encode(), 9))


def shards(computed: Computed) -> Iterator[tuple[str, str]]:
    """Two characters -> the text of their shard: families as in the whole index, with those of their numbers that belong here."""
    found: dict[str, dict[str, list]] = {}
    for family, title, numbers, letters in index.numbers(computed)["families"]:
        for number, letter in zip(numbers, letters, strict=True):
            key = normalise(number)
            for two in {key[at : at + 2] for at in range(max(1, len(key) - 3))}:
                kept = found.setdefault(two, {}).setdefault(family, [family, title, [], ""])
                kept[2].append(number)
                kept[3] += letter
    for two, families in found.items():
        yield two, compact(list(families.values()))


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("--families", type=int, nargs="+", default=[500, 1000, 2000])
    args = parser.parse_args()
    print("| families | parts | numbers.json | names.json | identify.json | shards | mean shard | largest shard | all shards |")
    print("| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
    for families in args.families:
        computed = Computed(load_texts({name: text.encode() for name, text in generate(families).items()}))
        whole = {address: packed(text) for address, text in identify.files(computed)}
        sizes = [packed(text) for _, text in shards(computed)]
        cells = [
            packed(compact(index.numbers(computed))),
            packed(compact(index.names(computed))),
            whole[identify.IDENTIFY_URL],
        ]
        print(
            f"| {families:,} | {len(computed.book.parts):,} | {' | '.join(f'{size / 1000:.0f} kB' for size in cells)} | {len(sizes):,} "
            f"| {statistics.mean(sizes) / 1000:.1f} kB | {max(sizes) / 1000:.1f} kB | {sum(sizes) / 1000:.0f} kB |",
            flush=True,
        )


if __name__ == "__main__":
    main()
