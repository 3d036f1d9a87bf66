"""cut-text: a hash behind words."""

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

RULE = "cut-text"


@operator("a hash in a title without quotes", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.sources:
        node = source.at("title")
        yield source.seed((node.start, node.end, "Switch for box #2 of the van"))


@pytest.mark.parametrize(
    "line",
    [
        "    kind: kit\n    title: »Plug #2 renewal\n",
        "    kind: kit\n    cautions:\n      - »Chock the wheels # and set the brake\n      - fine\n",
        "    kind: kit\n    note: »one two   #  three\n",
    ],
)
def test_words_behind_a_hash_are_lost(line: str) -> None:
    (found,) = found_at_marks(RULE, line)
    assert "the words end before `#" in found.message and "--fix" in found.fix


@pytest.mark.parametrize(
    "line",
    [
        "    kind: kit\n    # a remark of its own\n    title: Plug renewal\n",
        "    kind: kit\n    blanks: 2 # counted twice\n",
        "    kind: kit\n    from: oval-9 # the old one\n",
        "    kind: kit\n    seals: [6] # in a bag\n",
        '    kind: kit\n    title: "Plug # renewal" # quoted\n',
        "    kind: kit\n    title: Plug#2 renewal\n",
        "    kind: kit\n    title: Plug      # of the old list\n",
    ],
)
def test_a_remark_behind_what_is_no_text_is_one(line: str) -> None:
    found_at_marks(RULE, line, alone=False)


def test_the_fix_keeps_every_word() -> None:
    text = '---\nkind: kit\nid: a\ncautions:\n  - Chock "the" wheels # and set the brake\n---\nWords.\n'
    page, notes = fix_text(Page("entries/kits/a.md", text, load_schemas(), Known()), {RULE})
    assert page.entry.front["cautions"] == ['Chock "the" wheels # and set the brake'] and len(notes) == 1
