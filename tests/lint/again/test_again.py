"""What is known from before gives what the whole book gives, whatever has changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from rangebook.reading import listing
from tests.lint.again.walk import Walk


@pytest.mark.parametrize("seed", range(3))
def test_after_each_step_of_a_walk_the_same_is_told(seed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    if seed % 2:
        monkeypatch.setattr(listing, "_LATELY", 0)
    walk = Walk(tmp_path / "book", seed, families=4)
    for _ in range(12):
        walk.check_lint()
        walk.check_answers()
        walk.check_impact()
        walk.step()
