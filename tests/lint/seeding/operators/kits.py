"""Kits, and entries that nothing uses."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from rangebook.lint.fixing.layout import Sequence
from tests.lint.seeding.operators.entering import operator, relabel, sow
from tests.lint.seeding.sowing import Ground, Seed


@operator("two wires of a kit to one cavity", "kit-moves")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("kit"):
        # A wire that fans out has a list here.
        whole = [place for _, place in source.at("moves").pairs if not isinstance(place, Sequence)]
        for one, other in itertools.pairwise(whole):
            yield source.put(other, one.value)


sow("a wire of a kit to a cavity that there is not", "kit-moves", "kit", "moves.*", lambda value: "99")


@operator("a wire of a kit from a cavity that there is not", "kit-moves")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("kit"):
        for path, _ in source.key_nodes("moves"):
            yield relabel(source, path, "99")


sow("a seal with too many holes", "kit-seals", "kit", "seals.*", lambda value: "99")


@operator("a seal listed twice", "kit-seals")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("kit"):
        for _, node in source.nodes("seals"):
            yield source.seed((node.end - 1, node.end - 1, f", {node.items[-1].value}"))


@operator("the largest seal not counted", "kit-seal-for-all-wires", "supersession-contradicted")
def _(ground: Ground) -> Iterator[Seed]:
    book = ground.loaded.book
    for source in ground.of("kit"):
        kit = book.kits[source.at("id").value]
        allowed = any(one.value == "kit-seal-for-all-wires" for _, one in source.scalars("allow", "*", "rule"))
        plugs = [plug for old in kit.olds for plug in book.plugs_by_connector.get(old, ())]
        most = max((len(plug.wires) for plug in plugs if set(plug.wires) <= set(kit.moves)), default=0)
        seals = sorted(kit.seals or ())
        if len(seals) > 1 and seals[-2] < most <= seals[-1] and not allowed:
            node = source.at("seals")
            yield source.seed((node.start, node.end, f"[{', '.join(map(str, seals[:-1]))}]"))


@operator("a kit for a plug that no vehicle has", "unused-entry")
def _(ground: Ground) -> Iterator[Seed]:
    """A new kit like one of the book, for a new connector like the one it is for."""
    for source in ground.of("kit"):
        if isinstance(source.at("from"), Sequence):
            continue
        old = source.at("from").value
        connector = next(one for one in ground.of("connector") if one.at("id").value == old)
        text = source.text.replace(f"id: {source.at('id').value}\n", "id: new-kit\n", 1).replace(f"from: {old}\n", "from: new-plug\n", 1)
        text = text.replace(f"number: {source.at('number').value}\n", "number: QQ-0000777\n", 1)
        files = {
            "entries/kits/new-kit.md": text.encode(),
            "entries/connectors/new-plug.md": connector.text.replace(f"id: {old}\n", "id: new-plug\n", 1).encode(),
        }
        yield Seed(f"new-kit like {source.file}", files, frozenset({("entries/kits/new-kit.md", source.line(source.at("from").start))}))


@operator("a connector that nothing has", "unused-entry")
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("connector"):
        name = source.at("id").value + "-new"
        file = f"entries/connectors/{name}.md"
        text = source.text.replace(f"id: {source.at('id').value}\n", f"id: {name}\n", 1)
        yield Seed(file, {file: text.encode()}, frozenset({(file, source.line(source.at("id").start))}))
