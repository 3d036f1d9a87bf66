"""The indexes of a large book in pieces: a phone loads those in which what is typed can stand, and no others.

The whole files stay beside them. They answer what has to look at everything (the nearest numbers, slips of the keyboard, a word that half
of the book has), and a device that keeps the book keeps them, not the pieces. ``client/shared/pieces.js`` cuts into grams and reckons
buckets in the same way; ``tests/site/test_index_pieces.py`` holds both together.

- A number stands in a piece for each three characters that begin four or more of it, by what they look like: the first three that are typed
  name the one piece that has every number that can be meant, look-alikes among them. A number of less than four stands under itself.
- A name (vehicle, gearbox, family, connector, trouble code, mark) is a *card*; cards are cut into blocks in the order of the whole index.
  For each three and each five characters in a row of a word, and for its first one and its first two, a piece of the words' index lists
  the cards that have them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from typing import Any, NamedTuple

from rangebook.book.numbers import look, normalise
from rangebook.site.facts.computed import Computed
from rangebook.site.shared.compact import compact

HEAD_URL = "data/find/head.json"
SHELF_URL = "data/find/shelf.json"
FOLDER = "data/find/"
"""All that is here for pieces alone; a device that keeps the book has no use for it."""

LARGE = 2_000
"""With more parts than this the indexes are cut: below it the whole ones are no more than the pieces of an answer."""

NUMBER_BYTES = 8_000
WORD_BYTES = 8_000
BLOCK_BYTES = 12_000
"""How large a piece is on the average, before it is packed."""

MOST_CARDS = 2_000
"""What more cards than this have in them is not listed: it tells nothing apart."""

INNER = 4
GRAM = 3
LONG_GRAM = 5
_SPACES = re.compile("[\t\n\v\f\r \u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000\ufeff]+")
"""What JavaScript takes for space."""


def is_large(computed: Computed) -> bool:
    """Whether a book's indexes are cut into pieces."""
    beyond = computed.book.beyond
    return sum(1 for _ in (beyond.numbers() if beyond else computed.book.parts)) > LARGE


def bucket(gram: str, count: int) -> int:
    """Which of ``count`` pieces something stands in: FNV-1a of 32 bits over UTF-16 (offset and prime from memory)."""
    found = 2_166_136_261
    data = gram.encode("utf-16-le", "surrogatepass")
    for at in range(0, len(data), 2):
        found = (found ^ (data[at] | data[at + 1] << 8)) * 16_777_619 & 0xFFFFFFFF
    return found % count


def number_grams(number: str) -> set[str]:
    """Under what a number is looked for."""
    key = look(normalise(number))
    return {key[at : at + GRAM] for at in range(len(key) - INNER + 1)} or {key}


def words_of(text: str) -> list[str]:
    """The words of a text as they are compared."""
    return [word for word in _SPACES.split(text.lower()) if word]


def word_grams(word: str) -> set[str]:
    """Under what a word is looked for: with a space before it how it begins, else three or five characters of it anywhere."""
    inside = (word[at : at + size] for size in (GRAM, LONG_GRAM) for at in range(len(word) - size + 1))
    return {f" {word[:1]}", f" {word[:2]}", *inside}


def files(computed: Computed, numbers: Mapping[str, Any], names: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Address and text of every piece of the two whole indexes, and of the head that says how many there are."""
    in_pieces = list(number_pieces(numbers))
    cards = list(_cards(numbers, names))
    blocks = list(_blocks(cards, numbers["families"]))
    words = list(_word_pieces(cards))
    head = {
        **{key: numbers[key] for key in ("edition", "former", "words")},
        "stocked": bool(numbers["shelf"]),
        "codes": [code for code, _, _ in names["codes"]],
        "numbers": len(in_pieces),
        "names": {"words": len(words), "blocks": [first for first, _ in blocks]},
    }
    yield HEAD_URL, compact(head)
    if numbers["shelf"]:
        yield SHELF_URL, compact(_shelf(computed, numbers["shelf"]))
    for at, piece in enumerate(in_pieces):
        yield f"{FOLDER}numbers/{at}.json", compact(piece)
    for at, (_, block) in enumerate(blocks):
        yield f"{FOLDER}names/{at}.json", compact(block)
    for at, piece in enumerate(words):
        yield f"{FOLDER}words/{at}.json", compact(piece)


def _shelf(computed: Computed, shelf: Iterable[list[Any]]) -> list[list[Any]]:
    """The book's own stock, each line with the number that the book has for it, ``None`` where it has none."""
    book = computed.book
    kits = {kit.key: kit.number for kit in reversed(list(book.kits.values()))}
    found = []
    for line in shelf:
        key = normalise(line[0])
        part = book.by_number.get(key) or book.by_other_number.get(key)
        found.append([*line, part.number if part else kits.get(key)])
    return found


class _Numbers:
    """One piece of the numbers while it is made, its families and parts in the order of the whole index."""

    def __init__(self) -> None:
        self.families: dict[int, list[Any]] = {}
        self.parts: dict[int, dict[int, int]] = {}
        self.others: list[list[Any]] = []
        self.kits: list[Any] = []
        self.ids: list[str] = []

    def part(self, family: int, row: list[Any], at: int) -> tuple[int, int]:
        """Have a part in it, and say by which places it is known here."""
        if family not in self.families:
            self.families[family], self.parts[family] = [row[0], row[1], [], ""], {}
        places = self.parts[family]
        if at not in places:
            own = self.families[family]
            places[at] = len(places)
            own[2].append(row[2][at])
            own[3] += row[3][at]
        return family, places[at]

    def data(self) -> dict[str, Any]:
        """The piece; a family's places are those of this piece."""
        order = {family: at for at, family in enumerate(sorted(self.families))}
        return {
            "families": [self.families[family] for family in order],
            "others": [[number, whose, order[family], part] for number, whose, family, part in self.others],
            "kits": self.kits,
            "ids": self.ids,
        }


def number_pieces(numbers: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """The pieces of :func:`~rangebook.site.data.index.numbers`, each like the whole with what belongs into it; ``ids`` are the families
    that are looked for in it by their ids."""
    families = numbers["families"]
    entries = [(gram, at, place) for at, row in enumerate(families) for place, number in enumerate(row[2]) for gram in number_grams(number)]
    size = sum(len(families[at][2][place]) + 8 for _, at, place in entries) + len(families) * 40
    count = max(1, size // NUMBER_BYTES)
    made = [_Numbers() for _ in range(count)]
    for gram, at, place in entries:
        made[bucket(gram, count)].part(at, families[at], place)
    for number, whose, at, place in numbers["others"]:
        for piece in {bucket(gram, count) for gram in number_grams(number)}:
            made[piece].others.append([number, whose, *made[piece].part(at, families[at], place)])
    for kit in numbers["kits"]:
        for piece in {bucket(gram, count) for gram in number_grams(kit[0])}:
            made[piece].kits.append(kit)
    for family in families:
        made[bucket(family[0], count)].ids.append(family[0])
    for one in made:
        yield one.data()


class _Card(NamedTuple):
    """Something that has a name: the list of the names that it stands in, its row there, and the words by which it is found."""

    kind: str
    row: Any
    words: set[str]


def _cards(numbers: Mapping[str, Any], names: Mapping[str, Any]) -> Iterator[_Card]:
    """Every card, in the order of the whole indexes."""
    called: dict[int, list[str]] = {}
    for name, of in names["called"]:
        for at in of:
            called.setdefault(at, []).append(name)
    gearboxes = [name for name, _ in names["gearboxes"]]
    for at, (family, title, _, _) in enumerate(numbers["families"]):
        own = called.get(at, [])
        yield _Card("families", [at, own], {word for text in (title, family, *own) for word in words_of(text)})
    for row in names["gearboxes"]:
        yield _Card("gearboxes", row, set(words_of(row[0])))
    for name, lines in names["vehicles"]:
        named = [[*line[:3], gearboxes[line[3]] if line[3] >= 0 else "", *line[4:]] for line in lines]
        yield _Card("vehicles", [name, named], {word for line in named for text in (name, line[0], line[3]) for word in words_of(text)})
    for row in names["codes"]:
        yield _Card("codes", row, set(words_of(row[0])))
    for row in names["marks"]:
        yield _Card("marks", row, {*words_of(row[0]), normalise(row[0]).lower()})
    for row in names["connectors"]:
        yield _Card("connectors", row, set(words_of(row[0])))


class _Block:
    """Some cards while they are put together, with the families that they name."""

    def __init__(self, families: list[list[Any]]) -> None:
        self._all, self._at, self._places = families, dict[int, int](), dict[int, dict[int, int]]()
        self.families: list[list[Any]] = []
        self.lists: dict[str, list[Any]] = {kind: [] for kind in ("gearboxes", "vehicles", "called", "codes", "marks", "connectors")}
        self.size = 0

    def add(self, card: _Card) -> None:
        """Put a card in."""
        row = card.row
        match card.kind:
            case "families":
                own = self._family(row[0])
                self.lists["called"] += [[name, [own]] for name in row[1]]
                self.size += 60
                return
            case "vehicles":
                row = [row[0], [[*line[:4], self._family(line[4]), line[5]] for line in row[1]]]
            case "gearboxes" | "codes":
                row = [row[0], [self._family(at) for at in row[1]], *row[2:]]
            case "marks":
                row = [row[0], [self._part(*one) for one in row[1]]]
        self.lists[card.kind].append(row)
        self.size += len(compact(row))

    def _family(self, at: int) -> int:
        if at not in self._at:
            self._at[at] = len(self.families)
            self._places[at] = {}
            self.families.append([*self._all[at][:2], [], "", at])
            self.size += 40
        return self._at[at]

    def _part(self, at: int, place: int) -> list[int]:
        own = self._family(at)
        places = self._places[at]
        if place not in places:
            places[place] = len(places)
            self.families[own][2].append(self._all[at][2][place])
            self.families[own][3] += self._all[at][3][place]
        return [own, places[place]]


def _blocks(cards: Iterable[_Card], families: list[list[Any]]) -> Iterator[tuple[int, dict[str, Any]]]:
    """The blocks of the cards, each with the place of its first one. What a row names by its place in the whole index it names by its
    place in the block, a vehicle's gearbox by its name; behind each family stands its place in the whole index."""
    block, first = _Block(families), 0
    for at, card in enumerate(cards):
        if block.size > BLOCK_BYTES:
            yield first, {"families": block.families, **block.lists}
            block, first = _Block(families), at
        block.add(card)
    yield first, {"families": block.families, **block.lists}


def _word_pieces(cards: Iterable[_Card]) -> list[dict[str, list[int]]]:
    """Gram -> its cards, each as how far it is from the one before; empty where there are too many."""
    found: dict[str, list[int]] = {}
    for at, card in enumerate(cards):
        for gram in {gram for word in card.words for gram in word_grams(word)}:
            found.setdefault(gram, []).append(at)
    listed = {gram: at if len(at) <= MOST_CARDS else [] for gram, at in sorted(found.items())}
    count = max(1, sum(8 + 3 * len(at) for at in listed.values()) // WORD_BYTES)
    pieces: list[dict[str, list[int]]] = [{} for _ in range(count)]
    for gram, places in listed.items():
        pieces[bucket(gram, count)][gram] = [here - before for before, here in pairwise([0, *places])]
    return pieces
