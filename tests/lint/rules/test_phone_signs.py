"""phone-signs: quotes and spaces of a phone."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.typed import Known
from rangebook.lint.plan import fix_text
from rangebook.schema.store import load_schemas
from tests.lint.marking import found_at_marks
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "phone-signs"


@operator("a title in the quotes of a phone", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        node = source.at("title")
        yield source.seed((node.start, node.end, "“Switch of the van”"))


@operator("a no-break space in a title", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        node = source.at("title")
        yield source.seed((node.start, node.end, "Switch\u00a0of the van"))


@pytest.mark.parametrize(
    "line",
    [
        "    kind: kit\n    title: »“Plug renewal”\n",
        "    kind: kit\n    cautions: [»“one”, two]\n",
        "    kind: kit\n    cautions:\n      - »„one“\n",
        "    kind: kit\n    title: Plug»\u00a0renewal\n",
        '    kind: kit\n    note: "one»\u202fmm"\n',
    ],
)
def test_each_is_found(line: str) -> None:
    (found,) = found_at_marks(RULE, line, alone=False)
    assert "--fix" in found.fix


@pytest.mark.parametrize("line", ['    kind: kit\n    note: "say “plug” to it"\n', "    kind: kit\n    note: the “plug” that is\n"])
def test_quotes_inside_words_are_words(line: str) -> None:
    found_at_marks(RULE, line)


@pytest.mark.parametrize(
    ("line", "key", "value"),
    [
        ("title: “Plug: renewal”", "title", "Plug: renewal"),  # could not be read before
        ("title: “Plug renewal”", "title", "Plug renewal"),
        ("title:\u00a0Plug", "title", "Plug"),
        ("title: Plug\u00a0renewal\u00a0two", "title", "Plug renewal two"),
    ],
)
def test_what_the_fix_makes_of_it(line: str, key: str, value: str) -> None:
    page, _ = fix_text(Page("entries/kits/a.md", f"---\nkind: kit\n{line}\nid: a\n---\n", load_schemas(), Known()), {RULE})
    assert page.entry.front is not None and page.entry.front[key] == value
