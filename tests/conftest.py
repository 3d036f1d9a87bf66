"""For all tests: those that drive a browser, and those that take long, can be left out by their marks (pyproject.toml)."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import hypothesis
import pytest

TESTS = Path(__file__).resolve().parent

SLOW = (TESTS / "lint" / "fuzz", TESTS / "lint" / "seeding")
"""Here every test runs the whole linter, time after time. Other slow tests carry the mark themselves."""

OUTSIDE = (TESTS / "site", TESTS / "setup")
"""What is tested here coverage does not count."""

LOTS = ("seed", "chunk")
"""Names of parameters that count lots: with the first of them a test goes the ways that it goes with all others."""

# How fast something is gets measured in benchmarks/, never in a test; least of all while branches are measured.
hypothesis.settings.register_profile("any-machine", deadline=None)
hypothesis.settings.load_profile("any-machine")


@pytest.fixture(autouse=True, scope="session")
def _store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """What is kept between runs of the command lies in a folder of the tests' own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("RANGEBOOK_STORE", str(tmp_path_factory.mktemp("store")))
        yield


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark by what a test uses and where it stands, so that none can be forgotten."""
    for item in items:
        if "driver" in getattr(item, "fixturenames", ()):
            item.add_marker("browser")
        if TESTS / "site" in item.path.parents:
            item.add_marker("site")
        if any(folder in item.path.parents for folder in SLOW):
            item.add_marker("slow")
        drawn = getattr(item, "callspec", None)
        again = drawn is not None and any(drawn.params.get(name, 0) for name in LOTS)
        if again or item.get_closest_marker("slow") or any(folder in item.path.parents for folder in OUTSIDE):
            item.add_marker("unmeasured")
