"""Shared by the tests of verdicts."""

from __future__ import annotations

import pytest

from rangebook.fitting import doubts


@pytest.fixture
def contradictions_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """For parts that are drawn by lot: hardly one makes sense, and a verdict on it would be unknown for that alone (``test_doubts.py``).
    Here it is asked what the checks come to."""
    monkeypatch.setattr(doubts, "reasons", lambda book, seat, part: [])
