"""layers-override."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.load import load_texts
from rangebook.fitting.provenance import source_of
from rangebook.lint.examples import example_book
from rangebook.reading.stacked import Stacked
from tests.lint.layering import FAMILY, SEEN, over
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "layers-override"


@operator("a layer that says another status, with a source", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        number, status = source.entry.front["parts"][0]["number"], source.entry.front["parts"][0].get("status")
        other = "discontinued" if status != "discontinued" else "current"
        text = f"---\nkind: switch\nid: {source.entry.stem}\nparts:\n  - number: {number}\n    status: {other}\n    {SEEN}\n---\n"
        if status:
            both = Stacked.of([(0, "shared", source.text.encode()), (1, "ours", text.encode())])
            yield Seed("another status", {source.file: both}, frozenset({(source.file, 6)}))


def test_both_are_told() -> None:
    upper = f"parts:\n  - number: TB-20455\n    status: withdrawn\n    {SEEN}\n"
    (found,) = [one for one in over(upper) if one.rule.startswith("layers-")]
    assert (found.rule, found.layer, found.line, str(found.severity)) == (RULE, 1, 6, "warning")
    assert all(word in found.message for word in ("withdrawn", "current", "ours", "shared", "line 29"))


def test_the_source_of_each_layer_stands_for_what_that_layer_says() -> None:
    texts = dict(example_book(""))
    contacts = "[{pins: [1, 2], closed: [P, N], rated_a: 8}]"
    above = (
        f"---\nkind: switch\nid: tamblin-gate\nparts:\n  - {{number: TB-20417, contacts: {contacts}, sources: [{{kind: bulletin}}]}}\n---\n"
    )
    texts[FAMILY] = Stacked.of([(0, "shared", texts[FAMILY]), (1, "ours", above.encode())])
    book = load_texts(texts).book
    part = book.by_number["TB20417"]
    assert part.contacts is not None and len(part.contacts) == 1
    kinds = {fact: source.kind for fact in ("contacts", "pins") if (source := source_of(book, part, fact))}
    # The book below has a wiring diagram, the stronger kind, for what it says itself.
    assert kinds == {"contacts": "bulletin", "pins": "wiring-diagram"}


def test_a_source_for_a_status_is_for_something() -> None:
    """The source of the layer above stands for what that layer says, here that the part is no longer made."""
    found = over(f"parts:\n  - number: TB-20417\n    status: discontinued\n    {SEEN}\n")
    assert "layers-override" in {one.rule for one in found} and "source-for-nothing" not in {one.rule for one in found}
