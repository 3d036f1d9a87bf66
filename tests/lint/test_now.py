"""The book kept up to date edit by edit is the book read afresh: same findings, same verdicts."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from rangebook.lint.now import Now, read_now, with_files
from rangebook.reading.files import read_all
from tests.desk.impact.editing import edited, some_of

ROOT = Path(__file__).resolve().parents[2]


def words(now: Now) -> dict:
    return {(seat.key, one.part.number): (one.kind, one.reasons) for seat in now.fitter.seats for one in now.fitter.candidates(seat)}


@pytest.mark.parametrize("seed", range(12))
def test_edit_by_edit(tmp_path: Path, seed: int) -> None:
    files = some_of({file: data for file, data in read_all(ROOT) if isinstance(data, bytes)}, seed)
    write(tmp_path, files)
    now = read_now(tmp_path)
    for step in range(3):
        made = edited(files, seed * 10 + step)
        if set(files) - set(made):
            continue  # an entry that goes is read afresh
        own = {file: data for file, data in made.items() if files.get(file) != data}
        write(tmp_path, own)
        files, now = made, with_files(now, own)
        afresh = read_now(tmp_path)
        assert list(now.findings) == list(afresh.findings)
        assert words(now) == words(afresh)


def write(root: Path, files: Mapping[str, bytes]) -> None:
    for file, data in files.items():
        (root / file).parent.mkdir(parents=True, exist_ok=True)
        (root / file).write_bytes(data)
