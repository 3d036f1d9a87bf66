"""What a file says several times stands in it once, and a page has all of it again, to the letter and in its order."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.site.node import evaluate, needs_node
from tests.site.together import together

from rangebook.site.data.said_once import said_once
from rangebook.site.shared.compact import compact

KEYS = st.sampled_from(["a", "pins", "=", "of", "same", "__proto__", "constructor", "10", "9"])
SCALARS = st.none() | st.booleans() | st.integers(-2, 2) | st.sampled_from([0.0, 1.0, 313.5]) | st.text("aé=<\u2028", max_size=24)
VALUES = st.recursive(
    SCALARS | st.just("starter interlock, feed"),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=30,
)
FILES = st.dictionaries(st.sampled_from(["edition", "family", "parts", "seats"]), VALUES, max_size=4)


@settings(max_examples=400, derandomize=True)
@given(FILES)
def test_nothing_is_lost(data: dict[str, Any]) -> None:
    assert compact(together(json.loads(compact(said_once(data))))) == compact(data)


@needs_node
def test_a_page_has_all_of_it_again() -> None:
    """Ordinary data, and names of people's own that mean something to a script or to this form."""
    row = {"pins": ["1", "12"], "states": [1, 1.0, True, None, "open"], "names": "starter interlock, feed"}
    odd = {"=": 3, "of": {"=": -1, "of": row}, "same": [row], "__proto__": row, "constructor": {"=": "x"}}
    files: list[dict[str, Any]] = [
        {},
        {"edition": "x", "parts": {}},
        {"parts": {"A": row, "B": row, "C": [row, row]}},
        {"parts": odd, "seats": {"one": odd, "two": [odd]}},
        {"parts": {"A": [[0.0, "open", 330.0]] * 5, "B": {"deep": {"rows": [[0.0, "open", 330.0]] * 2}}}},
    ]
    packed = [said_once(one) for one in files]
    assert any("same" in one for one in packed)
    got = evaluate({"once": "shared/said_once.js"}, "given.map((one) => once.together(one))", packed)
    # A browser writes 1.0 as 1, and puts keys that are figures first.
    assert got == json.loads(json.dumps(files))


def test_what_stands_once_stays_where_it_is() -> None:
    data = {"edition": "x", "parts": {"A": {"number": "TB-1", "names": "starter interlock, feed"}}}
    assert said_once(data) == data


def test_a_large_file_gets_small() -> None:
    row = [[0.0, "open", 330.0], "starter interlock, feed"]
    data = {"parts": {str(at): {"rows": [row] * 9, "good": row} for at in range(50)}}
    assert len(compact(said_once(data))) < len(compact(data)) / 5


@pytest.mark.parametrize("kind", [dict, list])
def test_lists_and_mappings_of_other_kinds(kind: type) -> None:
    data = {"a": (("1", "12"), ("starter interlock, feed",)), "b": [["1", "12"], ["starter interlock, feed"]], "c": kind()}
    assert together(json.loads(compact(said_once(data)))) == json.loads(compact(data))
