"""Joining by connector and mount must leave out nothing that trying every pair would find."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from rangebook.book.book import Book
from rangebook.book.load import load
from rangebook.fitting import fitter as fitter_module
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.judge import judge
from rangebook.fitting.verdict import VerdictKind
from tests.fitting.reckoning import look_alike, random_part
from tests.making import MOUNT, application, book, connector, family, plug

ROOT = Path(__file__).parents[2]


def everything(made: Book) -> dict:
    """Every part on every seat, each judged by itself."""
    fitter = Fitter(made)
    return {(seat.key, part.number): judge(made, seat, part) for seat in fitter.seats for part in made.parts}


def assert_the_same(made: Book) -> None:
    fitter = Fitter(made)
    tried = everything(made)
    for seat in fitter.seats:
        found = {one.part.number: one for one in fitter.candidates(seat)}
        for part in made.parts:
            alone = tried[seat.key, part.number]
            if part.number in found:
                joined = found[part.number]
                assert (joined.kind, joined.needs, joined.moves, joined.checked) == (alone.kind, alone.needs, alone.moves, alone.checked)
                assert joined.part is part
            else:
                assert alone.kind is VerdictKind.NO, (seat.key, part.number, alone)
    for part in made.parts:
        taken = {
            (seat.family.id, seat.named_plug, seat.original.key, seat.positions)
            for seat, how in fitter.seats_taken_by(part)
            if how == "fits"
        }
        expected = {seat.key for seat in fitter.seats if seat.original.key != part.key and tried[seat.key, part.number].fits}
        assert taken == expected, part.number


@pytest.mark.slow
def test_on_the_demo_book() -> None:
    assert_the_same(load(ROOT).book)


@pytest.mark.parametrize("few", [0, 64])
@pytest.mark.parametrize("seed", range(6))
@pytest.mark.slow
def test_on_small_random_books(seed: int, few: int, monkeypatch: pytest.MonkeyPatch) -> None:
    # With 0 every mount is looked up in the index, with 64 they are tried one by one.
    monkeypatch.setattr(fitter_module, "FEW_MOUNTS", few)
    rng = random.Random(seed)
    other = {**MOUNT, "shaft": {"shape": "double-flat", "across_mm": 9.55}}
    vague = {"bolts": MOUNT["bolts"]}
    far = {**MOUNT, "shaft": {"shape": "square", "across_mm": 9.5}}
    turned = {**MOUNT, "hub": {**MOUNT["hub"], "at_deg": 155}}
    entries = [connector("c", 8, mates=["d"]), connector("d", 8), {
        "kind": "kit", "id": "k", "number": "K-1", "title": "k", "from": "d", "to": "c",
        "moves": {str(n): str(n) for n in range(1, 9)}, "seals": [4, 8],
    }]  # fmt: skip
    first = random_part(rng, "F0-0")
    for number in range(5):
        parts = []
        for index in range(4):
            one = look_alike(rng, first, f"F{number}-{index}") if number or index else dict(first)
            one["mount"] = rng.choice(["boss", "other", "vague", "far", "turned"])
            one["connector"] = rng.choice(["c", "c", "c", "d", "nowhere"])
            for key in ("mount", "connector", "contacts", "pins"):
                if rng.random() < 0.07 and (number or index):
                    del one[key]
            parts.append(one)
        wires = [pin for pin in first["pins"] if rng.random() < 0.9] or ["1"]
        entries.append(
            family(
                f"f{number}",
                parts,
                mounts={"boss": MOUNT, "other": other, "vague": vague, "far": far, "turned": turned},
                plugs={"p": plug(wires), "q": plug(wires, of="d")},
                applications=[application(rng.choice("pq"), one["number"]) for one in parts],
            )
        )
    assert_the_same(book(*entries))
