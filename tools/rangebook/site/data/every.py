"""Every file that the browser loads, as addresses and texts. A new kind is a module beside this one, and a line here."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.build import Item
from rangebook.book.model import Family
from rangebook.site.data import answers, compare, entry_lines, identify, index, kits, lever, pieces, proof, write
from rangebook.site.data.said_once import said_once
from rangebook.site.facts import photos
from rangebook.site.facts.computed import Computed
from rangebook.site.shared import urls
from rangebook.site.shared.compact import compact


def indexes(computed: Computed) -> Iterator[tuple[str, str]]:
    """What finds a number or a name."""
    numbers, names = index.numbers(computed), index.names(computed)
    yield index.NUMBERS_URL, compact(numbers)
    yield index.NAMES_URL, compact(names)
    if pieces.is_large(computed):
        yield from pieces.files(computed, numbers, names)


def of_the_book(computed: Computed) -> Iterator[tuple[str, str]]:
    """What else there is once: what identifies a switch, kits, which pictures are kept. Of a site in parts the table that identifies a
    switch is made when they are joined."""
    yield kits.KITS_URL, compact(kits.kits(computed))
    yield photos.PHOTOS_URL, compact(photos.offline(computed))
    if not computed.shard.apart:
        yield from identify.files(computed)


for_writing = write.files
"""What the form for an entry asks and knows."""


def of_an_item(computed: Computed, item: Item) -> Iterator[tuple[str, str]]:
    """What there is for one entry."""
    yield from identify.faces(computed, item)
    if isinstance(item, Family):
        yield from of_a_family(computed, item)


def of_a_family(computed: Computed, family: Family) -> Iterator[tuple[str, str]]:
    """What there is for each family."""
    yield urls.answers_url(family.id), compact(said_once(answers.answers(computed, family)))
    yield urls.proof_url(family.id), compact(said_once(proof.proofs(computed, family)))
    yield urls.lever_url(family.id), compact(said_once(lever.levers(computed, family)))
    yield urls.compare_url(family.id), compact(said_once(compare.compares(computed, family)))
    yield urls.lines_url(family.id), compact(entry_lines.entry_lines(computed, family))
