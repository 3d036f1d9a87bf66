"""The book kept up to date edit by edit is the book read afresh: same findings, same verdicts."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from tests.desk.impact.editing import edited

from rangebook.reading.files import read_all
from rangebook.site.live.state import Now, read_now, with_files

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def start(tmp_path_factory: pytest.TempPathFactory) -> Now:
    root = tmp_path_factory.mktemp("book")
    shutil.copytree(ROOT / "entries", root / "entries")
    return read_now(root)


def words(now: Now) -> dict:
    return {(seat.key, one.part.number): (one.kind, one.reasons) for seat in now.fitter.seats for one in now.fitter.candidates(seat)}


@pytest.mark.parametrize("seed", range(12))
def test_edit_by_edit(start: Now, seed: int) -> None:
    root = start.loaded.root
    first = {file: data for file, data in read_all(root) if isinstance(data, bytes)}
    files, now = first, start
    try:
        for step in range(3):
            made = edited(files, seed * 10 + step)
            if set(files) - set(made):
                continue  # an entry that goes is read afresh
            own = {file: data for file, data in made.items() if files.get(file) != data}
            for file, data in own.items():
                (root / file).write_bytes(data)
            files, now = made, with_files(now, own)
            afresh = read_now(root)
            assert list(now.findings) == list(afresh.findings)
            assert words(now) == words(afresh)
    finally:
        for file in files:
            (root / file).unlink()
        for file, data in first.items():
            (root / file).write_bytes(data)
