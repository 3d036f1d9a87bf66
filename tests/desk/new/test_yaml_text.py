"""What is written reads back as what was given."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rangebook.desk.writing import yaml_text
from rangebook.reading.strict_yaml import parse
from rangebook.reading.unseen import UNSEEN

# What the reader refuses in a value, because it cannot be seen, is not to be written either.
SIGNS = st.characters(blacklist_categories=("Cs", "Cc", "Cf", "Zl", "Zp"), blacklist_characters="\ufeff\ufffe\uffff")
TEXT = st.text(SIGNS.filter(lambda sign: not UNSEEN.search(sign)), max_size=30)
KEYS = st.text("abcdefghijklmnopqrstuvwxyz_0123456789", min_size=1, max_size=8)
VALUES = st.recursive(
    TEXT | st.integers(-(10**12), 10**12) | st.booleans() | st.floats(-1e6, 1e6).map(lambda one: round(one, 3)),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS | TEXT, inner, max_size=4),
    max_leaves=12,
)


def as_text(value: object) -> object:
    """A value as the reader gives it: everything is text."""
    if isinstance(value, dict):
        return {str(key): as_text(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [as_text(inner) for inner in value]
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return value
    return str(value)


def same(read: object, given: object) -> bool:
    if isinstance(given, dict):
        return isinstance(read, dict) and list(read) == list(given) and all(same(read[key], given[key]) for key in given)
    if isinstance(given, list):
        return isinstance(read, list) and len(read) == len(given) and all(map(same, read, given))
    if isinstance(given, float):
        return isinstance(read, str) and math.isclose(float(read), given)
    return read == given


@given(st.dictionaries(KEYS, VALUES, min_size=1, max_size=4))
def test_lines_read_back(front: dict) -> None:
    written = "\n".join(line for key, value in front.items() for line in yaml_text.lines(key, value)) + "\n"
    read, problems = parse("x", written, 1)
    assert problems == [] and same(read, as_text(front)), written


@given(VALUES)
def test_one_line_reads_back(value: object) -> None:
    read, problems = parse("x", f"value: {yaml_text.flow(value)}\n", 1)
    assert problems == [] and same(read, as_text({"value": value}))


@pytest.mark.parametrize(
    ("value", "written"),
    [
        ("Tamblin four-speed lever switch", "Tamblin four-speed lever switch"),
        ("0123", "0123"),
        ("TB.60/290 a", "TB.60/290 a"),
        ("NO", '"NO"'),
        ("N", "N"),
        ("-", '"-"'),
        ("", '""'),
        ("a: b", '"a: b"'),
        ("a #1", '"a #1"'),
        ("1,5 mm²", "1,5 mm²"),
        ('9" pin', '"9\\" pin"'),
        (True, "yes"),
        (9.5, "9.5"),
        (38.0, "38"),
    ],
)
def test_only_what_has_to_be_is_quoted(value: object, written: str) -> None:
    assert yaml_text.scalar(value) == written


def test_it_looks_as_people_write_it() -> None:
    part = {
        "number": "TB-1",
        "pins": {"1": "start_feed", "2": "start_out"},
        "contacts": [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["1", "case"], "ohms": {"P": 4300, "R": "open"}}],
        "sources": [{"kind": "seen", "detail": "bench, twice", "on": "2026-02-11"}],
    }
    plugs = {"six": {"connector": "oval-13", "wires": {"1": {"circuit": "start_feed"}, "2": {}}}}
    text = [*yaml_text.lines("parts", [part]), *yaml_text.lines("plugs", plugs), *yaml_text.lines("rows", [["1", "2"], ["3", "-"]])]
    assert "\n".join(text) == (
        "parts:\n"
        "  - number: TB-1\n"
        "    pins: {1: start_feed, 2: start_out}\n"
        "    contacts:\n"
        "      - {pins: [1, 2], closed: [P, N]}\n"
        "      - {pins: [1, case], ohms: {P: 4300, R: open}}\n"
        "    sources:\n"
        '      - {kind: seen, detail: "bench, twice", on: 2026-02-11}\n'
        "plugs:\n"
        "  six:\n"
        "    connector: oval-13\n"
        "    wires:\n"
        "      1: {circuit: start_feed}\n"
        "      2: {}\n"
        "rows:\n"
        "  - [1, 2]\n"
        '  - [3, "-"]'
    )
