"""Inputs by chance, and those that once broke something. ``benchmarks/fuzz.py`` makes many more, guided by what code they reach."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.lint.fuzz.trial import PLACES, TODAY, WITNESS, BrokenError, mutant, try_entry, try_file, try_mutant

FOUND = sorted((Path(__file__).parent / "found").glob("*.md"))

few = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@pytest.mark.parametrize("path", FOUND, ids=lambda path: path.stem)
@pytest.mark.parametrize("place", PLACES)
def test_what_once_broke_something_breaks_nothing_any_more(path: Path, place: str) -> None:
    try_file(path.read_bytes(), place)


@few
@given(st.binary(max_size=200))
def test_any_bytes(data: bytes) -> None:
    try_entry(data)


@few
@given(st.text(max_size=200).map(lambda text: f"---\n{text}\n---\n{text}".encode("utf-8", "replace")))
def test_any_text_as_front_matter_and_prose(data: bytes) -> None:
    try_entry(data)


VALUES = st.recursive(
    st.sampled_from(
        [
            "P",
            "1",
            "0",
            "-1",
            "1e99",
            "oval-9",
            "fuzz",
            "start_feed",
            "start_out",
            "open",
            "case",
            "2001",
            "2009-05",
            "A1",
            "TB-20417",
            '""',
        ]
    ),
    lambda below: st.one_of(
        st.lists(below, max_size=4).map(lambda items: f"[{', '.join(items)}]"),
        st.dictionaries(
            st.sampled_from(
                ["number", "pins", "closed", "ohms", "P", "N", "1", "2", "kind", "connector", "wires", "circuit", "superseded_by", "values"]
            ),
            below,
            max_size=4,
        ).map(lambda items: "{" + ", ".join(f"{key}: {value}" for key, value in items.items()) + "}"),
    ),
    max_leaves=12,
)

KEYS = (
    "id",
    "title",
    "positions",
    "parts",
    "plugs",
    "applications",
    "mounts",
    "fitting",
    "rows",
    "mates",
    "outline",
    "from",
    "to",
    "moves",
    "seals",
    "allow",
    "sources",
)


@few
@given(st.sampled_from(["switch", "connector", "kit"]), st.dictionaries(st.sampled_from(KEYS), VALUES, max_size=8))
def test_any_values_under_the_keys_that_there_are(kind: str, front: dict[str, str]) -> None:
    lines = "\n".join(f"{key}: {value}" for key, value in {"kind": kind, **front}.items())
    try_entry(f"---\n{lines}\n---\n".encode())


@few
@given(st.binary(min_size=4, max_size=61))
def test_entries_with_some_places_changed(data: bytes) -> None:
    try_mutant(data)


def test_the_same_bytes_make_the_same_entry() -> None:
    assert mutant(bytes(range(40))) == mutant(bytes(range(40)))
    assert mutant(bytes(range(40)))[0] != mutant(bytes(range(3)))[0]


def test_the_trial_itself_notices(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is held in every trial is held indeed."""
    from tests.lint.fuzz import trial

    good = b"---\nkind: kit\n---\n"
    with pytest.raises(BrokenError, match="it took"):
        try_file(good, PLACES[2], limit=0)
    whole = trial.lint
    for spoilt, said in (
        (lambda loaded, today: [one for one in whole(loaded, today) if one.file != WITNESS], "in another entry"),
        (lambda loaded, today: [one for one in whole(loaded, today) if one.file != PLACES[2]], "not in the report"),
        (
            lambda loaded, today: [trial.Finding(PLACES[2], 99, 1, *_rest(whole(loaded, today)[0])), *whole(loaded, today)],
            "a place that there is not",
        ),
    ):
        monkeypatch.setattr(trial, "lint", spoilt)
        with pytest.raises(BrokenError, match=said):
            try_file(good, PLACES[2])
    assert TODAY


def _rest(finding):
    return finding.rule, finding.severity, finding.message, finding.fix
