"""Lines are moved, nothing is lost, and nothing is said otherwise."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rangebook.reading.entry import read_entry

KIT = """---
kind: kit
# the slip in the bag
seals: [4, 6]   # counted
number: TW-7706
id: oval-9-renewal

moves:
  1: 1
  # crossed
  2: 3
  3: 2

title: Plug renewal
to: oval-13
from: oval-9
# nothing comes after this
---
Crimp.
"""

KIT_IN_ORDER = """---
kind: kit
id: oval-9-renewal

number: TW-7706
title: Plug renewal
from: oval-9
to: oval-13
moves:
  1: 1
  # crossed
  2: 3
  3: 2

# the slip in the bag
seals: [4, 6]   # counted
# nothing comes after this
---
Crimp.
"""


def test_each_key_takes_its_comments_along(mend) -> None:
    assert mend(KIT, kind="kit") == (KIT_IN_ORDER, ["key-order"])


PART = """---
kind: switch
id: tamblin-gate
title: Tamblin
positions: [P, R, N, D]
parts:
  # the first
  - connector: oval-9   # nine-way
    # what the maker prints
    pins: {1: start_feed}
    # as printed
    number: TB-1
    contacts:
      - {pins: [1, case], closed: [P]}
  # the second
  - number: TB-2
    connector: oval-9
---
"""

PART_IN_ORDER = """---
kind: switch
id: tamblin-gate
title: Tamblin
positions: [P, R, N, D]
parts:
  # the first
    # as printed
  - number: TB-1
    connector: oval-9   # nine-way
    # what the maker prints
    pins: {1: start_feed}
    contacts:
      - {pins: [1, case], closed: [P]}
  # the second
  - number: TB-2
    connector: oval-9
---
"""


def test_the_dash_of_a_part_stays_in_front(mend) -> None:
    assert mend(PART) == (PART_IN_ORDER, ["key-order"])


@pytest.mark.parametrize(
    "text",
    [
        "---\nkind: kit\nseals: [6]\nnumber: A1\nunknown: 1\n---\n",  # where a key that there is not belongs nobody knows
        "---\nkind: kit\nseals: [6]\nnumber: A1\nnumber: A2\n---\n",
        "---\nkind: kit\nseals: [6\nnumber: A1\n---\n",
        '---\n{"seals": [6], "kind": "kit"}\n---\n',
    ],
)
def test_what_is_not_sure_is_left_alone(mend, text: str) -> None:
    assert mend(text, "key-order", kind="kit") == (text, [])


def test_a_part_in_one_line_is_free(mend) -> None:
    text = PART.replace(PART[PART.index("  # the first") : PART.index("  # the second")], "  - {connector: oval-9, number: TB-1}\n")
    assert mend(text, "key-order") == (text, [])


def test_text_over_several_lines_moves_as_a_whole(mend) -> None:
    note = "note: |\n  one\n\n    two\n\n"
    text = f"---\nkind: kit\n{note}number: A1\nid: oval-9-renewal\ntitle: a\n  b\n---\n"
    wanted = f"---\nkind: kit\nid: oval-9-renewal\nnumber: A1\ntitle: a\n  b\n{note.rstrip()}\n\n---\n"
    mended, by = mend(text, "key-order", kind="kit")
    assert (mended.replace("\n\n---", "\n---"), by) == (wanted.replace("\n\n---", "\n---"), ["key-order"])
    assert read_entry("k", mended.encode()).front == read_entry("k", text.encode()).front


@given(seed=st.integers(0, 10**9))
def test_any_order_comes_back_to_the_same(mend, seed: int) -> None:
    """The example entries with their keys shuffled, comments among them: the same values, the same lines, in order, and done once."""
    chance = random.Random(seed)
    names = ["kind: kit", "id: oval-9-renewal", "number: A1", "title: b", "from: oval-9", "to: oval-13"]
    head, *keys = [*names, "moves:\n  1: 1\n  # x\n  2: 2", "blanks: 1"]
    chance.shuffle(keys)
    lines = [f"# {number} above\n{key}   # beside {number}" if chance.random() < 0.5 else key for number, key in enumerate([head, *keys])]
    text = "---\n" + "\n".join(lines) + "\n---\nWords.\n"
    mended, _ = mend(text, "key-order", kind="kit")
    before, after = (read_entry("entries/kits/a.md", one.encode()) for one in (text, mended))
    assert after.front == before.front and after.prose == before.prose
    assert list(after.front) == ["kind", "id", "number", "title", "from", "to", "moves", "blanks"]
    assert sorted(mended.split("\n")) == sorted(text.split("\n"))
    for number in range(len(lines)):  # a comment stays with its key
        if f"# {number} above" in text:
            rows = text.split("\n")
            moved = mended.split("\n")
            key = rows[rows.index(f"# {number} above") + 1]
            assert moved[moved.index(f"# {number} above") + 1] == key
    assert mend(mended, kind="kit") == (mended, [])
