"""Keys and values that the entry format does not have."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.fixing.typed import typed
from tests.lint.seeding.operators.entering import operator, sow, swapped
from tests.lint.seeding.sowing import Ground, Scalar, Seed, Source


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
        for _, node in source.nodes("parts", "*"):
            (number, _), (following, _) = node.pairs[:2]
            assert number.value == "number"
            yield source.seed((node.start, following.start, ""), told=node.start)


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
        for scalar, _, is_key, ways in typed(source.layout, ground.schemas, source.kind):
            if not is_key and any(way.get("minimum", way.get("exclusiveMinimum", -1)) >= 0 for way in ways):
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
            for _, node in source.nodes(*pattern.split(".")):
                first = node.items[0] if node.items else None
                yield source.seed((node.start, node.end, first.value if isinstance(first, Scalar) else "N"))


@operator("nothing behind a key", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        for pattern in ("title", "id", "outline", "number", "from", "to", "parts.*.connector", "parts.*.status", "parts.*.mount"):
            for path, node in source.scalars(*pattern.split(".")):
                yield source.seed((node.start, node.end, ""), told=source.key(*path).start)


sow("a day that there is not", "schema", "switch", "parts.*.sources.*.on", lambda value: value[:8] + "32")
sow("a day written the other way about", "schema", "switch", "parts.*.sources.*.on", lambda value: "-".join(reversed(value.split("-"))))
sow(
    "a month that there is not",
    "schema",
    "switch",
    "parts.*.superseded_by.*.since",
    lambda value: value[:5] + "13" if "-" in value else None,
)
sow("years with a stroke", "schema", "switch", "applications.*.years", lambda value: value.replace("-", "/") if "-" in value else None)
sow("years with two figures", "schema", "switch", "applications.*.years", lambda value: "-".join(year[2:] for year in value.split("-")))
sow("the letter O in a trouble code", "schema", "switch", "trouble_codes.*", lambda value: value.replace("0", "O", 1))
sow("a capital in an id", ("schema",), "switch", "id", lambda value: value.capitalize())
sow("a small letter for a position", ("schema",), "switch", "parts.*.contacts.*.closed.*", lambda value: value.lower())
sow("a cavity in words", ("schema",), "switch", "parts.*.contacts.*.pins.*", lambda value: f"pin {value}")


@operator("`closed` and `ohms` of one contact", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for path, node in source.nodes("parts", "*", "contacts", "*"):
            if source.at(*path, "ohms"):
                yield source.seed((node.end - 1, node.end - 1, ", closed: [N]"), told=node.start)


@operator("a contact with three ends", "schema")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        for _, node in source.nodes("parts", "*", "contacts", "*", "pins"):
            yield source.seed((node.end - 1, node.end - 1, ", case"))
