"""The kinds of slips that are sown: of the pen, of the keyboard, of the eye on the bench, of the maker's list."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from rangebook.book.model import CASE, Part
from rangebook.book.numbers import normalise
from rangebook.lint.fixing.typed import typed
from tests.lint.seeding.sowing import Block, Ground, Operator, Scalar, Seed, Sequence, Source

OPERATORS: list[Operator] = []

Seeds = Callable[[Ground], Iterator[Seed]]


def operator(name: str, *rules: str) -> Callable[[Seeds], Seeds]:
    """Enter a generator of seeds as an operator; ``rules`` are those that are there for it."""

    def enter(seeds: Seeds) -> Seeds:
        OPERATORS.append(Operator(name, frozenset(rules), seeds))
        return seeds

    return enter


def each(kind: str, *pattern: str) -> Callable[[Ground], Iterator[tuple[Source, tuple, Scalar]]]:
    """Every text at a place in the entries of a kind."""

    def found(ground: Ground) -> Iterator[tuple[Source, tuple, Scalar]]:
        for source in ground.of(kind):
            for path, node in source.scalars(*pattern):
                yield source, path, node

    return found


def swapped(word: str) -> str:
    """Two letters in the middle that have changed places; a letter doubled where that would change nothing."""
    middle = len(word) // 2
    made = word[: middle - 1] + word[middle] + word[middle - 1] + word[middle + 1 :] if len(word) > 1 else word
    return made if made != word else word[:middle] + word[middle - 1] + word[middle:]


def sow(name: str, rule: str | tuple[str, ...], kind: str, pattern: str, make: Callable[[str], str | None]) -> None:
    """Enter an operator that writes another text for each text at a place, where ``make`` gives one."""

    @operator(name, *([rule] if isinstance(rule, str) else rule))
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source, _, node in each(kind, *pattern.split("."))(ground):
            text = make(node.value)
            if text is not None and text != node.value:
                yield source.put(node, text)


# --- the file ---------------------------------------------------------------------------------------------------------


def _in_title(data: bytes) -> Seeds:
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.sources:
            seed = source.put(source.at("title"), "\0")
            yield replace(seed, files={file: text.replace(b"\0", data) for file, text in seed.files.items()})

    return seeds


operator("a byte that is not UTF-8", "unreadable-file")(_in_title(b"caf\xe9"))
operator("a control character", "unreadable-file")(_in_title(b"a\x07b"))
operator("an unseen line end", "unreadable-file")(_in_title("a\u2028b".encode()))


@operator("a byte order mark", "line-ends")
def _(ground: Ground) -> Iterator[Seed]:
    for file, data in ground.bytes.items():
        yield Seed(file, {file: b"\xef\xbb\xbf" + data}, frozenset({(file, 1)}))


@operator("one line end of another kind", "line-ends")
def _(ground: Ground) -> Iterator[Seed]:
    for file, data in ground.bytes.items():
        yield Seed(file, {file: data.replace(b"\n", b"\r\n", 1)}, frozenset({(file, 1)}))


@operator("a space at the end of a line", "trailing-space")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for match in list(re.finditer(r"(?<=\S)$", source.text[: source.front_end], re.MULTILINE))[1:-1:7]:
            yield source.seed((match.start(), match.start(), " "))


@operator("the line end of the last line lost", "trailing-space")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((len(source.text) - 1, len(source.text), ""))


@operator("the first `---` lost", "front-matter")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((0, 4, ""))


@operator("the second `---` lost", "front-matter")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((source.front_end, source.front_end + 4, ""), told=0)


@operator("a second entry pasted below", "front-matter")
def _(ground: Ground) -> Iterator[Seed]:
    for source, other in zip(ground.sources, ground.sources[1:], strict=False):
        yield source.seed((source.prose_start, len(source.text), other.text), told=source.front_end)


# --- YAML -------------------------------------------------------------------------------------------------------------


def _before_title(text: str) -> Seeds:
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.sources:
            start = source.at("title").start
            yield source.seed((start, start, text))

    return seeds


operator("a tab", "yaml-feature")(_before_title("\t"))
operator("an anchor", "yaml-feature")(_before_title("&a "))
operator("an alias", "yaml-feature")(_before_title("*a #"))
operator("a tag", "yaml-feature")(_before_title("!!str "))


def _lists(source: Source) -> Iterator[Sequence | Block]:
    for _, node in source.values("*"):
        if isinstance(node, Sequence) and node.flow:
            yield node
    for path in ("parts.*.pins", "parts.*.stamped", "parts.*.contacts.*.pins", "plugs.*.wires.*", "applications.*", "sources.*", "rows.*"):
        for _, node in source.values(*path.split(".")):
            if isinstance(node, Block | Sequence) and node.flow:
                yield node


@operator("a bracket not closed", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for node in _lists(source):
            yield source.seed((node.end - 1, node.end, ""), told=node.start)


@operator("a bracket too many", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for node in _lists(source):
            if source.text[node.end] == "\n":
                yield source.seed((node.end, node.end, "]" if isinstance(node, Sequence) else "}"))


def _quoted(source: Source) -> Iterator[Scalar]:
    for end in ("note", "method", "detail", "reason"):
        for depth in range(7):
            for _, node in source.scalars(*["*"] * depth, end):
                if node.quote == '"':
                    yield node


@operator("a closing quote lost", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for node in _quoted(source):
            yield source.seed((node.end - 1, node.end, ""))


@operator("an opening quote lost", "yaml-syntax", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for node in _quoted(source):
            if ": " in node.value:
                yield source.seed((node.start, node.start + 1, ""))


@operator("a colon in words without quotes", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        node = source.at("title")
        space = source.text.find(" ", node.start, node.end)
        if space > 0 and not node.quote:
            yield source.seed((space, space, ":"))


@operator("a key one space too far in", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for pattern in ((), ("parts", "*")):
            for _, node in source.values(*pattern):
                for key, _ in node.pairs[1:] if isinstance(node, Block) and not node.flow else ():
                    yield source.seed((key.start, key.start, " "))


@operator("the space behind a colon left out", "yaml-syntax", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for _, key in source.keys():
            if source.text[key.end : key.end + 2] == ": ":
                yield source.seed((key.end + 1, key.end + 2, ""), told=key.start)


@operator("a key of the entry twice", "duplicate-key")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for (name,), _ in source.keys():
            start, end = source.whole(name)
            yield source.seed((end, end, source.text[start:end]))


@operator("a key of a part twice", "duplicate-key")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.keys("parts", "*"):
            if path[-1] != "number":
                start, end = source.whole(*path)
                yield source.seed((end, end, source.text[start:end]))


@operator("a pin twice", "duplicate-key")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.values("parts", "*", "pins"):
            first, last = node.pairs[0], node.pairs[-1]
            if len(node.pairs) > 1:
                yield source.seed((last[0].start, last[0].end, first[0].value))


@operator("keys out of order", "key-order")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        names = [name for (name,), _ in source.keys()]
        for first, second in zip(names[1:], names[2:], strict=False):
            (start, middle), (_, end) = source.whole(first), source.whole(second)
            if middle == source.whole(second)[0]:
                lines = source.text[start:middle], source.text[middle:end]
                told = start + len(lines[1])
                made = source.seed((start, end, lines[1] + lines[0]))
                line = source.line(start) + lines[1].count("\n") if False else None  # the key that stands too far down
                del told, line
                yield replace(made, places=frozenset({(source.file, source.line(start) + lines[1].count("\n"))}))


@operator("quotes about a word that needs none", "needless-quotes")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for pattern in ("kind", "id", "outline", "from", "to", "parts.*.connector", "parts.*.status", "parts.*.pins.*", "sources.*.kind"):
            for _, node in source.scalars(*pattern.split(".")):
                yield source.seed((node.start, node.end, f'"{node.value}"'))


@operator("a hyphen in the rows without its quotes", "needed-quotes", "yaml-syntax")
def _(ground: Ground) -> Iterator[Seed]:
    for source, _, node in each("connector", "rows", "*", "*")(ground):
        if node.value == "-":
            yield source.seed((node.start, node.end, "-"))


# --- the schema -------------------------------------------------------------------------------------------------------


@operator("a slip in a key", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for scalar, _, is_key, ways in typed(source.layout, ground.schemas, source.kind):
            if is_key and all("enum" in way for way in ways) and scalar.value != "kind":
                listed = {word for way in ways for word in way["enum"]}
                if swapped(scalar.value) not in listed:
                    yield source.seed((scalar.start, scalar.end, swapped(scalar.value)))


@operator("a key that has to be there left out", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for name in ground.schemas.of(source.kind)["required"]:
            start, end = source.whole(name)
            yield source.seed((start, end, ""), told=4)  # where the entry begins


@operator("a part without a number", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.values("parts", "*"):
            number = source.at(*path, "number")
            following = node.pairs[1][0].start
            yield source.seed((node.start, following, ""), told=node.start)
            assert number is not None


def _enums(source: Source, ground: Ground) -> Iterator[tuple[Scalar, list[str]]]:
    for scalar, path, is_key, ways in typed(source.layout, ground.schemas, source.kind):
        listed = [word for way in ways for word in way.get("enum", ())]
        if listed and not is_key and path != ("kind",):
            yield scalar, listed


@operator("a slip in a word from a list", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for scalar, listed in _enums(source, ground):
            if swapped(scalar.value) not in listed:
                yield source.put(scalar, swapped(scalar.value))


@operator("a slip in `kind`", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.put(source.at("kind"), swapped(source.kind))


def _numbers(source: Source, ground: Ground) -> Iterator[Scalar]:
    for scalar, _, is_key, ways in typed(source.layout, ground.schemas, source.kind):
        if not is_key and any(way.get("type") in ("number", "integer") for way in ways) and scalar.value != "open":
            yield scalar


@operator("words where a number is wanted", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for scalar in _numbers(source, ground):
            yield source.put(scalar, f"about {scalar.value}")


@operator("the letter O in a number", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for scalar in _numbers(source, ground):
            if "0" in scalar.value:
                yield source.put(scalar, scalar.value.replace("0", "O", 1))


@operator("a size below nothing", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for scalar, path, is_key, ways in typed(source.layout, ground.schemas, source.kind):
            if not is_key and any("minimum" in way or "exclusiveMinimum" in way for way in ways) and path[-1] != "at_deg":
                yield source.put(scalar, "-1")


@operator("a list where one text is wanted", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for pattern in ("title", "id", "parts.*.number", "parts.*.connector", "plugs.*.connector", "from", "fitting.set_in"):
            for _, node in source.scalars(*pattern.split(".")):
                yield source.seed((node.start, node.end, f"[{source.text[node.start : node.end]}]"))


@operator("one text where a list is wanted", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for pattern in ("positions", "rows.*", "parts.*.contacts.*.closed", "mates", "seals", "trouble_codes", "gearboxes"):
            for _, node in source.values(*pattern.split(".")):
                yield source.seed((node.start, node.end, node.items[0].value)) if node.items else source.seed((node.start, node.end, "N"))


@operator("nothing behind a key", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for pattern in ("title", "id", "outline", "number", "from", "to", "parts.*.connector", "parts.*.status", "parts.*.mount"):
            for path, node in source.scalars(*pattern.split(".")):
                yield source.seed((node.start, node.end, ""), told=source.key(*path).start)


sow("a day that there is not", "schema", "switch", "parts.*.sources.*.on", lambda value: value[:8] + "32")
sow("a day written the other way about", "schema", "switch", "parts.*.sources.*.on", lambda value: "-".join(reversed(value.split("-"))))
sow("a month that there is not", "schema", "switch", "parts.*.superseded_by.*.since", lambda value: value[:5] + "13" if "-" in value else None)
sow("years with a stroke", "schema", "switch", "applications.*.years", lambda value: value.replace("-", "/") if "-" in value else None)
sow("years with two figures", "schema", "switch", "applications.*.years", lambda value: "-".join(year[2:] for year in value.split("-")))
sow("the letter O in a trouble code", "schema", "switch", "trouble_codes.*", lambda value: value.replace("0", "O", 1))
sow("a capital in an id", ("schema",), "switch", "id", lambda value: value.capitalize())
sow("a small letter for a position", ("schema",), "switch", "parts.*.contacts.*.closed.*", lambda value: value.lower())
sow("a cavity in words", ("schema",), "switch", "parts.*.contacts.*.pins.*", lambda value: f"pin {value}")


@operator("`closed` and `ohms` of one contact", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.values("parts", "*", "contacts", "*"):
            if source.at(*path, "ohms"):
                yield source.seed((node.end - 1, node.end - 1, ", closed: [N]"), told=node.start)


@operator("a contact with three ends", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.values("parts", "*", "contacts", "*", "pins"):
            yield source.seed((node.end - 1, node.end - 1, ", case"))


# --- what is called what ----------------------------------------------------------------------------------------------


@operator("a slip in the id", "id-and-file")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.put(source.at("id"), swapped(source.at("id").value))


@operator("the file in another folder", "id-and-file")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        folder, name = source.file.split("/")[1:]
        other = {"switches": "kits", "kits": "connectors", "connectors": "switches"}[folder]
        file = f"entries/{other}/{name}"
        yield Seed(file, {source.file: None, file: source.text.encode()}, frozenset({(file, source.line(source.at("kind").start))}))


@operator("a copy of an entry under another name", "id-and-file")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        file = source.file.replace(".md", "-2.md")
        yield Seed(file, {file: source.text.encode()}, frozenset({(file, source.line(source.at("id").start))}))


@operator("the number of another part, in another spelling", "duplicate-number")
def _(ground: Ground) -> Iterator[Seed]:
    numbers = [(source, node) for source, _, node in each("switch", "parts", "*", "number")(ground)]
    for (source, node), (other, taken) in zip(numbers, numbers[3:] + numbers[:3], strict=True):
        if normalise(node.value) != normalise(taken.value):
            number = taken.value.replace("-", " ").replace(".", " ").lower()
            yield source.put(node, number, also=frozenset({(other.file, other.line(taken.start))}))


@operator("the number of a part on a kit", "duplicate-number")
def _(ground: Ground) -> Iterator[Seed]:
    part = ground.loaded.book.parts[0].number
    for source, _, node in each("kit", "number")(ground):
        yield source.put(node, part)


# --- what leads nowhere -----------------------------------------------------------------------------------------------

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
sow("a slip in a kit named alone", "unknown-kit", "switch", "parts.*.superseded_by.*.needs.*", swapped)
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


# --- pins and wires ---------------------------------------------------------------------------------------------------


def _relabel(source: Source, path: tuple, label: str) -> Seed:
    key = source.key(*path)
    return source.seed((key.start, key.end, label))


@operator("a pin in a cavity that there is not", "pin-outside-housing")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.keys("parts", "*", "pins"):
            if source.at(*path[:2], "connector"):
                yield _relabel(source, path, "99")


@operator("a wire in a cavity that there is not", "wire-outside-plug")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.keys("plugs", "*", "wires"):
            yield _relabel(source, path, "99")


sow("the module reads where there is no wire", "wire-outside-plug", "switch", "plugs.*.reads.pins.*", lambda value: "99")
sow("a wire that is not there may be missing", "wire-outside-plug", "switch", "applications.*.optional_cavities.*", lambda value: "99")
sow("a contact on a pin that there is not", "contact-without-pin", "switch", "parts.*.contacts.*.pins.*", lambda value: "99")
sow("a signal on a pin that there is not", "signal-without-pin", "switch", "parts.*.signals.*.pin", lambda value: "99")
sow("a signal fed by a pin that there is not", "signal-without-pin", "switch", "parts.*.signals.*.supply", lambda value: "99")
sow("a signal against a pin that there is not", "signal-without-pin", "switch", "parts.*.signals.*.ground", lambda value: "99")


@operator("a pin forgotten that a contact ends on", "contact-without-pin")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.values("parts", "*", "pins"):
            contacts = list(source.scalars("parts", str(path[1]), "contacts", "*", "pins", "*"))
            ends = [(other, end) for other, end in source.scalars("parts", "*", "contacts", "*", "pins", "*") if other[1] == path[1]]
            del contacts
            for index, (key, value) in enumerate(node.pairs):
                places = frozenset((source.file, source.line(end.start)) for _, end in ends if end.value == key.value)
                if places and index + 1 < len(node.pairs):
                    seed = source.seed((key.start, node.pairs[index + 1][0].start, ""))
                    yield replace(seed, places=places)
                    del value


@operator("a contact from a pin to itself", "contact-to-itself")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.values("parts", "*", "contacts", "*", "pins"):
            a, b = node.items
            if a.value != CASE:
                yield source.put(b, a.value)


@operator("two cavities with one label", "cavity-twice")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("connector"):
        for _, node in source.values("rows", "*"):
            labels = [one for one in node.items if one.value != "-"]
            for one, other in zip(labels, labels[1:], strict=False):
                yield source.put(other, one.value)


@operator("the circuits of two wires changed about", "wire-circuit-disagrees")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    for source in ground.of("switch"):
        family = book.families[source.at("id").value]
        came = {one.plug: book.part(one.came_with) for one in family.applications if one.plug and one.came_with}
        for path, node in source.values("plugs", "*", "wires"):
            part = came.get(path[1])
            if part is None or part.pins is None or not _goes_on(ground, family.plugs[path[1]].connector, part):
                continue
            wires = [(key.value, source.at(*path, key.value, "circuit")) for key, _ in node.pairs]
            for (a, one), (b, other) in zip(wires, wires[1:], strict=False):
                if one is None or other is None or one.value == other.value or {part.pins.get(a), part.pins.get(b)} & {None, "not_connected"}:
                    continue
                lines = frozenset((source.file, source.line(each.start)) for each in (one, other))
                yield replace(source.seed((one.start, one.end, other.value), (other.start, other.end, one.value)), places=lines)


def _goes_on(ground: Ground, connector: str, part: Part) -> bool:
    return part.connector in ground.loaded.book.switches_for_plug.get(connector, ())


def _plug_that_does_not_go_on(ground: Ground, part: Part) -> str | None:
    connectors = ground.loaded.book.connectors
    return next((name for name in connectors if not _goes_on(ground, name, part)), None)


@operator("a vehicle with the plug of another one", "original-misfit")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    for source, path, node in each("switch", "applications", "*", "plug")(ground):
        family = book.families[source.at("id").value]
        came = source.at(*path[:2], "came_with")
        part = book.part(came.value) if came else None
        for plug in family.plugs.values():
            if part and part.connector and not _goes_on(ground, plug.connector, part):
                yield source.put(node, plug.name)
                break


sow("a colour in words", "wire-colour", "switch", "plugs.*.wires.*.colour", lambda value: {"RD": "red", "BK": "black"}.get(value, "green-ish"))
sow("a colour in small letters", "wire-colour", "switch", "plugs.*.wires.*.colour", str.lower)
sow("a colour with a letter wrong", "wire-colour", "switch", "plugs.*.wires.*.colour", lambda value: value[0] + "X" + value[2:])
sow("a colour twice", "wire-colour", "switch", "plugs.*.wires.*.colour", lambda value: value[:2] * 2)


# --- positions and readings -------------------------------------------------------------------------------------------


def _twice(name: str, *pattern: str) -> None:
    @operator(name, "position-twice")
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of("switch"):
            for _, node in source.values(*pattern):
                if len(node.items) > 1:
                    yield source.put(node.items[-1], node.items[0].value)


_twice("a position of the lever twice", "positions")
_twice("a position of a contact twice", "parts", "*", "contacts", "*", "closed")
_twice("a position of a vehicle's lever twice", "applications", "*", "lever")


def _left_out(name: str, *pattern: str) -> None:
    @operator(name, "incomplete-table")
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of("switch"):
            for _, node in source.values(*pattern):
                for (key, _), (following, _) in zip(node.pairs, node.pairs[1:], strict=False):
                    yield source.seed((key.start, following.start, ""))


_left_out("a position left out of a ladder", "parts", "*", "contacts", "*", "ohms")
_left_out("a position left out of a signal", "parts", "*", "signals", "*", "values")


def _strange(name: str, *pattern: str) -> None:
    @operator(name, "unknown-position")
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of("switch"):
            for path, _ in source.keys(*pattern):
                yield _relabel(source, path, "X")


_strange("a position of a ladder that the lever does not have", "parts", "*", "contacts", "*", "ohms")
_strange("a position of a signal that the lever does not have", "parts", "*", "signals", "*", "values")


@operator("reverse and neutral changed about", "lever-order")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        node = source.at("positions")
        by = {one.value: one for one in node.items}
        if {"R", "N"} <= set(by):
            yield source.seed((by["R"].start, by["R"].end, "N"), (by["N"].start, by["N"].end, "R"))


@operator("park not at the end", "lever-order")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        first, second = source.at("positions").items[:2]
        if first.value == "P":
            yield source.seed((first.start, first.end, second.value), (second.start, second.end, "P"))


@operator("a vehicle's lever in another order", "lever-order")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.values("applications", "*", "lever"):
            a, b = node.items[-2:]
            yield source.seed((a.start, a.end, b.value), (b.start, b.end, a.value))


def _between(source: Source, part: tuple, circuits: tuple[set[str], set[str]]) -> Iterator[tuple[tuple, Sequence]]:
    """Contacts of a part straight from a pin of the first circuits to one of the second, with their list of positions."""
    for path, node in source.values(*part, "contacts", "*", "pins"):
        pins = [getattr(source.at(*part, "pins", end.value), "value", None) for end in node.items]
        closed = source.at(*path[:-1], "closed")
        if isinstance(closed, Sequence) and any(pins[i] in circuits[0] and pins[1 - i] in circuits[1] for i in (0, 1)):
            yield path, closed


START = ({"start_feed", "common_feed"}, {"start_out"})
BACKUP = ({"backup_feed", "common_feed"}, {"backup_out"})


def _parts(source: Source) -> Iterator[tuple]:
    for index, _ in enumerate(source.at("parts").items):
        yield "parts", index


def _guarded(name: str, rule: str, circuits: tuple[set[str], set[str]], change: Callable[[Source, Sequence], Iterator[Seed]]) -> None:
    @operator(name, rule)
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of("switch"):
            for _, closed in (found for part in _parts(source) for found in _between(source, part, circuits)):
                yield from change(source, closed)


def _also_in(position: str) -> Callable[[Source, Sequence], Iterator[Seed]]:
    def change(source: Source, closed: Sequence) -> Iterator[Seed]:
        if position in {one.value for one in source.at("positions").items} - {one.value for one in closed.items}:
            yield source.seed((closed.end - 1, closed.end - 1, f", {position}"))

    return change


def _not_in(position: str) -> Callable[[Source, Sequence], Iterator[Seed]]:
    def change(source: Source, closed: Sequence) -> Iterator[Seed]:
        rest = [one.value for one in closed.items if one.value != position]
        if len(rest) < len(closed.items):
            yield source.seed((closed.start, closed.end, f"[{', '.join(rest)}]"))

    return change


_guarded("the start contact closed in D too", "start-path", START, _also_in("D"))
_guarded("the start contact closed in R too", "start-path", START, _also_in("R"))
_guarded("the start contact open in P", "start-path", START, _not_in("P"))
_guarded("the start contact open in N", "start-path", START, _not_in("N"))
_guarded("the backup contact closed in D too", "backup-lamp", BACKUP, _also_in("D"))
_guarded("the backup contact closed in N too", "backup-lamp", BACKUP, _also_in("N"))
_guarded("the backup contact open in R", "backup-lamp", BACKUP, _not_in("R"))


@operator("a figure of a ladder copied one position too far", "positions-alike")
def _(ground: Ground) -> Iterator[Seed]:
    yield from _copied(ground, "contacts", "ohms")


@operator("a figure of a signal copied one position too far", "positions-alike")
def _(ground: Ground) -> Iterator[Seed]:
    yield from _copied(ground, "signals", "values")


def _copied(ground: Ground, *table: str) -> Iterator[Seed]:
    """Where nothing else of the part tells the two positions apart."""
    for source in ground.of("switch"):
        for path, node in source.values("parts", "*", table[0], "*", table[1]):
            if _other_outputs(source, path[:2], path[:4]):
                continue
            for (_, one), (_, other) in zip(node.pairs, node.pairs[1:], strict=False):
                if one.value != other.value:
                    yield source.put(other, one.value)


def _other_outputs(source: Source, part: tuple, own: tuple) -> bool:
    """Whether a part has another range output than the one at ``own``: code lines, another ladder or signal."""
    pins = source.at(*part, "pins")
    codes = any(value.value.startswith("code_") or value.value == "range_signal_2" for _, value in getattr(pins, "pairs", ()))
    tables = [path for kind, key in (("contacts", "ohms"), ("signals", "values")) for path, _ in source.values("parts", "*", kind, "*", key)]
    return codes or any(path[:2] == part and path[:4] != own for path in tables)


@operator("a tolerance ten times as large", "windows-overlap")
def _(ground: Ground) -> Iterator[Seed]:
    for source, path, node in each("switch", "parts", "*", "contacts", "*", "tolerance_percent")(ground):
        if not _other_outputs(source, path[:2], path[:4]):
            yield source.put(node, str(min(100, int(float(node.value) * 10))))


@operator("a hole smaller than its bolt", "hole-too-small")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.values("mounts", "*", "bolts", "*"):
            bolt, hole = source.at(*path, "bolt_mm"), source.at(*path, "hole_mm")
            if bolt and hole and bolt.value != hole.value:
                yield source.seed((bolt.start, bolt.end, hole.value), (hole.start, hole.end, bolt.value), told=hole.start)
        del node


# --- kits -------------------------------------------------------------------------------------------------------------


@operator("two wires of a kit to one cavity", "kit-moves")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("kit"):
        pairs = source.at("moves").pairs
        for (_, one), (_, other) in zip(pairs, pairs[1:], strict=False):
            yield source.put(other, one.value)


sow("a wire of a kit to a cavity that there is not", "kit-moves", "kit", "moves.*", lambda value: "99")


@operator("a wire of a kit from a cavity that there is not", "kit-moves")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("kit"):
        for path, _ in source.keys("moves"):
            yield _relabel(source, path, "99")


sow("a seal with too many holes", "kit-seals", "kit", "seals.*", lambda value: "99")


@operator("a seal listed twice", "kit-seals")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("kit"):
        for _, node in source.values("seals"):
            yield source.seed((node.end - 1, node.end - 1, f", {node.items[-1].value}"))


@operator("the largest seal not counted", "kit-seal-for-all-wires", "supersession-contradicted")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    for source in ground.of("kit"):
        kit = book.kits[source.at("id").value]
        allowed = any(one.value == "kit-seal-for-all-wires" for _, one in source.scalars("allow", "*", "rule"))
        most = max(
            (len(plug.wires) for plug in book.plugs_by_connector.get(kit.old, ()) if set(plug.wires) <= set(kit.moves)), default=0
        )
        seals = sorted(kit.seals or ())
        if len(seals) > 1 and seals[-2] < most <= seals[-1] and not allowed:
            node = source.at("seals")
            yield source.seed((node.start, node.end, f"[{', '.join(map(str, seals[:-1]))}]"))


@operator("a kit for a plug that no vehicle has", "unused-entry")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    renewed = {kit.new for kit in book.kits.values()}
    needed = {need.kit for part in book.parts for link in part.superseded_by for need in link.needs or ()}
    unplugged = [name for name in book.connectors if name not in book.plugs_by_connector and name not in renewed]
    for source, _, node in each("kit", "from")(ground):
        if unplugged and source.at("id").value not in needed and len(source.at("moves").pairs):
            yield source.put(node, unplugged[0])


@operator("a connector that nothing has", "unused-entry")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("connector"):
        name = source.at("id").value + "-new"
        file = f"entries/connectors/{name}.md"
        text = source.text.replace(f"id: {source.at('id').value}\n", f"id: {name}\n", 1)
        yield Seed(file, {file: text.encode()}, frozenset({(file, source.line(source.at("id").start))}))


# --- supersessions ----------------------------------------------------------------------------------------------------


def _ends_of_chains(ground: Ground) -> Iterator[tuple[Source, tuple, Part, list[Part]]]:
    """Each part at the end of a chain, with its place and those that lead to it, nearest first."""
    book = ground.loaded.book
    for source in ground.of("switch"):
        family = book.families[source.at("id").value]
        for part in family.parts:
            before = list(book.predecessors.get(part.key, ()))
            if before and not part.superseded_by:
                yield source, part.path, part, before


@operator("the end of a chain leads back to its beginning", "supersession-cycle")
def _(ground: Ground) -> Iterator[Seed]:
    for source, path, part, before in _ends_of_chains(ground):
        status, sources = source.at(*path, "status"), source.whole(*path, "sources")[0]
        if status is None:
            continue
        line = f"    superseded_by: [{{number: {before[0].number}, needs: []}}]\n"
        yield source.seed((status.start, status.end, "superseded"), (sources, sources, line), told=sources)
        del part


@operator("a part superseded by itself", "supersession-cycle")
def _(ground: Ground) -> Iterator[Seed]:
    for source, path, node in each("switch", "parts", "*", "superseded_by", "*", "number")(ground):
        yield source.put(node, source.at(*path[:2], "number").value)


@operator("the end of a chain withdrawn", "supersession-dead-end")
def _(ground: Ground) -> Iterator[Seed]:
    for source, path, part, _ in _ends_of_chains(ground):
        status = source.at(*path, "status")
        if status is None or part.status in ("withdrawn", "discontinued"):
            continue
        links = frozenset(
            (other.file, other.line(node.start))
            for other, _, node in each("switch", "parts", "*", "superseded_by", "*", "number")(ground)
            if normalise(node.value) == part.key
        )
        yield replace(source.put(status, "withdrawn"), places=links)


@operator("a chain that goes back in time", "supersession-back-in-time")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    for source, path, node in each("switch", "parts", "*", "superseded_by", "*", "since")(ground):
        part = book.part(source.at(*path[:2], "number").value)
        if part and any(link.since for older in book.predecessors.get(part.key, ()) for link in older.superseded_by):
            yield source.put(node, "1961-01")


sow("a part that is current and superseded", "status-and-links", "switch", "parts.*.status", lambda value: "current" if value == "superseded" else None)


@operator("a part superseded and nothing said by what", "status-and-links")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.values("parts", "*", "superseded_by"):
            if source.at(*path[:2], "status") is not None:
                start, end = source.whole(*path)
                yield source.seed((start, end, ""), told=source.at(*path[:2], "status").start)


def _on_a_seat(ground: Ground, old: Part, new: Part) -> list[str]:
    """The verdicts of one part on the seats that another came with."""
    fitter = _fitter(ground)
    return [str(fitter.verdict(seat, new).word) for seat in fitter.seats if seat.original.key == old.key]


def _fitter(ground: Ground):
    from rangebook.fitting.fitter import Fitter

    made = vars(ground).get("fitter")
    if made is None:
        made = vars(ground)["fitter"] = Fitter(ground.loaded.book)
    return made


@operator("a kit forgotten that a successor needs", "supersession-contradicted")
def _(ground: Ground) -> Iterator[Seed]:
    """Where the vehicles came with the older part and the newer one has another housing."""
    book = ground.loaded.book
    for source in ground.of("switch"):
        for path, node in source.values("parts", "*", "superseded_by", "*", "needs"):
            old = book.part(source.at(*path[:2], "number").value)
            new = book.part(source.at(*path[:-1], "number").value)
            if old and new and node.items and "with_parts" in _on_a_seat(ground, old, new) and old.connector != new.connector:
                start = node.start if node.flow else source.whole(*path)[0]
                edit = (node.start, node.end, "[]") if node.flow else (*source.whole(*path), "        needs: []\n")
                yield source.seed(edit, told=start)


@operator("a kit named that a successor does not need", "supersession-contradicted")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    kit = next(iter(book.kits))
    for source in ground.of("switch"):
        for path, node in source.values("parts", "*", "superseded_by", "*", "needs"):
            old = book.part(source.at(*path[:2], "number").value)
            new = book.part(source.at(*path[:-1], "number").value)
            words = _on_a_seat(ground, old, new) if old and new else []
            if words and set(words) == {"straight"} and not node.items:
                yield source.seed((node.start, node.end, f"[{kit}]"))


@operator("two wires of a successor's pins changed about", "supersession-contradicted")
def _(ground: Ground) -> Iterator[Seed]:
    """The two range lines in the contacts and pins of a successor that went straight on: the claim is what tells it."""
    book = ground.loaded.book
    for source, path, node in each("switch", "parts", "*", "superseded_by", "*", "number")(ground):
        old, new = book.part(source.at(*path[:2], "number").value), book.part(node.value)
        if not old or not new or set(_on_a_seat(ground, old, new)) != {"straight"} or new.family != source.at("id").value:
            continue
        pins = {circuit: pin for pin, circuit in (new.pins or {}).items()}
        a, b = pins.get("range_signal"), pins.get("backup_out")
        if a and b and new.contacts:
            start, end = source.whole(*new.path, "pins")[0], source.whole(*new.path, "contacts")[1]
            text = source.text[start:end]
            text = re.sub(rf"\b(?:{a}|{b})(?=[:,\]])", lambda match, a=a, b=b: b if match.group() == a else a, _with_marks(text))
            yield replace(source.seed((start, end, text.replace("\0", ""))), places=_claims(ground, new))


def _with_marks(text: str) -> str:
    """Positions and ohms, which may look like pins, out of reach: a mark is put behind each of them."""
    return re.sub(r"(closed: \[[^\]]*\]|ohms: \{[^}]*\})", lambda match: re.sub(r"(\w+)(?=[:,\]}])", "\\1\0", match.group()), text)


def _claims(ground: Ground, new: Part) -> frozenset:
    return frozenset(
        (source.file, source.line(node.start))
        for source, _, node in each("switch", "parts", "*", "superseded_by", "*", "number")(ground)
        if normalise(node.value) == new.key
    )


@operator("a successor's ladder ten times as high", "supersession-contradicted")
def _(ground: Ground) -> Iterator[Seed]:
    """Where a vehicle whose plug has both range wires came with the older part and the newer one goes on."""
    book = ground.loaded.book
    for source in ground.of("switch"):
        for path, node in source.values("parts", "*", "contacts", "*", "ohms"):
            new = book.part(source.at(*path[:2], "number").value)
            ends = [one.value for one in source.at(*path[:-1], "pins").items]
            if new is None or not _is_claimed(ground, new, ends):
                continue
            edits = [(value.start, value.end, value.value + "0") for _, value in node.pairs if value.value not in ("open", "0")]
            if edits:
                yield replace(source.seed(*edits), places=_claims(ground, new))


def _is_claimed(ground: Ground, new: Part, ends: list[str]) -> bool:
    """Whether some older part's seat, on which the newer one goes straight, has wires at both ends."""
    fitter = _fitter(ground)
    older = {part.key for part in ground.loaded.book.predecessors.get(new.key, ())}
    return any(
        seat.original.key in older and set(ends) <= {*seat.plug.wires, CASE} and str(fitter.verdict(seat, new).word) == "straight"
        for seat in fitter.seats
        if seat.original.key != new.key
    )


# --- vehicles, dates, sources -----------------------------------------------------------------------------------------

sow("years the wrong way round", "years-backwards", "switch", "applications.*.years", lambda value: "-".join(reversed(value.split("-"))) if len(value) == 9 and value[:4] != value[5:] else None)


@operator("a month outside the years", "years-backwards")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.scalars("applications", "*", "years"):
            if source.at(*path[:2], "from") is None and source.at(*path[:2], "to") is None:
                yield source.seed((node.end, node.end, ", from: 1951-03"))


@operator("built up to before it was built from", "years-backwards")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.scalars("applications", "*", "from"):
            if source.at(*path[:2], "to") is None:
                yield source.seed((node.end, node.end, f", to: {int(node.value[:4]) - 1}-12"))


sow("looked at in a year to come", "future-date", "switch", "parts.*.sources.*.on", lambda value: "2062" + value[4:])
sow("a connector looked at in a year to come", "future-date", "connector", "sources.*.on", lambda value: "2062" + value[4:])
sow("superseded in a year to come", "future-date", "switch", "parts.*.superseded_by.*.since", lambda value: "2062" + value[4:])


@operator("last looked at a long time ago", "stale-check")
def _(ground: Ground) -> Iterator[Seed]:
    """All dates of one list of sources put back by twenty years; it is told at the newest."""
    for source in ground.sources:
        for pattern in (("sources",), ("parts", "*", "sources")):
            for path, node in source.values(*pattern):
                dates = [one for index in range(len(node.items)) if (one := source.at(*path, index, "on"))]
                if dates:
                    edits = [(one.start, one.end, f"{int(one.value[:4]) - 20}{one.value[4:]}") for one in dates]
                    newest = max(dates, key=lambda one: one.value)
                    lines = frozenset((source.file, source.line(one.start)) for one in dates if one.value == newest.value)
                    yield replace(source.seed(*edits), places=lines)


def _without_sources(name: str, kind: str, *pattern: str) -> None:
    @operator(name, "missing-source")
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.of(kind):
            for path, node in source.values(*pattern, "sources"):
                start, end = source.whole(*path)
                key = source.key(*path)
                yield source.seed((start, end, f"{' ' * (key.start - start)}sources: []\n"))
                del node


_without_sources("a part without a source", "switch", "parts", "*")
_without_sources("a connector without a source", "connector")
_without_sources("a kit without a source", "kit")


@operator("the sources of a part left out", "missing-source")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, _ in source.values("parts", "*", "sources"):
            start, end = source.whole(*path)
            yield source.seed((start, end, ""), told=source.at(*path[:2]).start)


@operator("a vehicle in two spellings", "name-spelling")
def _(ground: Ground) -> Iterator[Seed]:
    found = [(source, node) for source, _, node in each("switch", "applications", "*", "vehicle")(ground)]
    for source, node in found:
        others = frozenset((other.file, other.line(one.start)) for other, one in found if one.value == node.value and one is not node)
        if others:
            yield source.put(node, node.value.replace(" ", "-", 1), also=others if len(others) == 1 else frozenset())


@operator("a vehicle in small letters", "name-spelling")
def _(ground: Ground) -> Iterator[Seed]:
    found = [(source, node) for source, _, node in each("switch", "applications", "*", "vehicle")(ground)]
    for source, node in found:
        others = frozenset((other.file, other.line(one.start)) for other, one in found if one.value == node.value and one is not node)
        if others:
            yield source.put(node, node.value.lower(), also=others if len(others) == 1 else frozenset())


@operator("a vehicle of which nothing can be said", "no-seat")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.values("applications", "*"):
            for name in ("plug", "came_with"):
                value = source.at(*path, name)
                key = source.key(*path, name) if value else None
                if key and value and source.text[key.start - 2 : key.start] == ", ":
                    yield source.seed((key.start - 2, value.end, ""), told=node.start)


@operator("a vehicle with two answers", "ambiguous-vehicle")
def _(ground: Ground) -> Iterator[Seed]:
    """The line of a vehicle once more, with another plug that the same part goes on and that has other wires."""
    book = ground.loaded.book
    for source in ground.of("switch"):
        family = book.families[source.at("id").value]
        for path, node in source.values("applications", "*"):
            plug, came = source.at(*path, "plug"), source.at(*path, "came_with")
            part = book.part(came.value) if came else None
            if plug is None or part is None:
                continue
            for other in family.plugs.values():
                mine = family.plugs[plug.value]
                wires = [{(cavity, wire.circuit) for cavity, wire in one.wires.items()} for one in (mine, other)]
                if wires[0] != wires[1] and _goes_on(ground, other.connector, part):
                    start, end = source.line_span(node.start)
                    line = source.text[start:end].replace(f"plug: {plug.value}", f"plug: {other.name}")
                    yield replace(source.seed((end, end, line)), places=frozenset({(source.file, source.line(end))}))
                    break


@operator("a family written down twice under other numbers", "twin-families")
def _(ground: Ground) -> Iterator[Seed]:
    """Where every part of it goes straight onto each of its seats."""
    fitter = _fitter(ground)
    for source in ground.of("switch"):
        family = ground.loaded.book.families[source.at("id").value]
        seats = [seat for seat in fitter.seats if seat.family is family]
        if not seats or not family.gearboxes:
            continue
        if any(str(fitter.verdict(seat, part).word) != "straight" for seat in seats for part in family.parts):
            continue
        text = source.text.replace(f"id: {family.id}\n", f"id: {family.id}-2\n", 1)
        for part in family.parts:
            text = text.replace(part.number, f"{part.number}9")
        file = f"entries/switches/{family.id}-2.md"
        yield Seed(file, {file: text.encode()}, frozenset({(file, source.line(source.at("title").start))}))


# --- text that runs, and allowances -----------------------------------------------------------------------------------


@operator("HTML in a note", "unsafe-prose")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for node in _quoted(source):
            yield source.seed((node.start + 1, node.start + 1, "<b>look</b> "))


@operator("HTML in the prose", "unsafe-prose")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((source.prose_start, source.prose_start, "<img src=x onerror=alert(1)>\n\n"))


@operator("a link that runs code", "unsafe-prose")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        yield source.seed((source.prose_start, source.prose_start, "[look](JavaScript:alert) here.\n\n"))


def _allowing(name: str, line: str) -> None:
    @operator(name, "allowance")
    def seeds(ground: Ground) -> Iterator[Seed]:
        for source in ground.sources:
            if source.at("allow") is None:
                yield source.seed((source.front_end, source.front_end, f"allow: [{line}]\n"))


_allowing("a rule allowed that there is not", '{rule: missing-sources, reason: "none to be had"}')
_allowing("something allowed that is not found", '{rule: missing-source, reason: "none to be had"}')
_allowing("something allowed that cannot be", '{rule: schema, reason: "it is so"}')


@operator("something allowed without a reason", "allowance")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for _, node in source.scalars("allow", "*", "reason"):
            yield source.put(node, "-")
