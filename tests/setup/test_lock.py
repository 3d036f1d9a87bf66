"""The lock files hold everything that pyproject.toml asks for, each with its hashes, in versions that it allows."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from packaging.pylock import Pylock
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

FILES = {"build": "build.txt", "run": "pylock.run.toml", "test": "pylock.test.toml"}
"""What installs stands in pip's older format, since the pip that comes with a Python cannot read the standard one (PEP 751) yet."""

LOCKS = tuple(FILES)

HASH = re.compile(r"[0-9a-f]{64}")


def locked(root: Path, lock: str) -> dict[str, set[tuple[str, frozenset[str]]]]:
    """Package -> its pinned versions (more than one where they go by the Python), each with the SHA-256 sums of its files."""
    file = root / "tools" / "lock" / FILES[lock]
    if file.suffix == ".txt":
        return _requirements(file.read_text("utf-8"))
    # Read by the reference library for the format, which refuses what PEP 751 does not allow.
    locks = Pylock.from_dict(tomllib.loads(file.read_text("utf-8")))
    found: dict[str, set[tuple[str, frozenset[str]]]] = {}
    for package in locks.packages:
        files = [*([package.sdist] if package.sdist else []), *(package.wheels or [])]
        sums = frozenset(one.hashes.get("sha256", "") for one in files)
        found.setdefault(package.name, set()).add((str(package.version), sums))
    return found


def _requirements(text: str) -> dict[str, set[tuple[str, frozenset[str]]]]:
    logical = re.sub(r"\s*\\\n\s*", " ", re.sub(r"^\s*#.*\n", "", text, flags=re.MULTILINE))
    found: dict[str, set[tuple[str, frozenset[str]]]] = {}
    for line in filter(None, logical.splitlines()):
        pinned, *hashes = line.split(" --hash=sha256:")
        requirement = Requirement(pinned)
        (pin,) = requirement.specifier
        assert pin.operator == "==", f"{line[:60]}: is not pinned"
        found.setdefault(canonicalize_name(requirement.name), set()).add((pin.version, frozenset(one.strip() for one in hashes)))
    return found


def asked_for(root: Path, lock: str) -> list[Requirement]:
    """What pyproject.toml asks for in this lock."""
    project = tomllib.loads((root / "pyproject.toml").read_text("utf-8"))
    groups = project["dependency-groups"]
    of_lock = {
        "build": groups["build"],
        "run": groups["build"] + project["project"]["dependencies"],
        "test": groups["build"] + project["project"]["dependencies"] + groups["test"] + groups["check"],
    }
    return [Requirement(text) for text in of_lock[lock]]


@pytest.mark.parametrize("lock", LOCKS)
def test_every_package_has_its_hash(root: Path, lock: str) -> None:
    packages = locked(root, lock)
    assert packages
    for name, pins in packages.items():
        for version, sums in pins:
            assert sums and all(map(HASH.fullmatch, sums)), f"{name} {version}"


@pytest.mark.parametrize("lock", LOCKS)
def test_the_lock_is_as_new_as_pyproject(root: Path, lock: str) -> None:
    packages = locked(root, lock)
    for requirement in asked_for(root, lock):
        pins = packages.get(canonicalize_name(requirement.name))
        assert pins, f"{requirement} is not in {FILES[lock]}: run sh tools/lock/renew.sh"
        for version, _ in pins:
            assert requirement.specifier.contains(version), f"{requirement} has {version} in {FILES[lock]}: run sh tools/lock/renew.sh"


@pytest.mark.parametrize(("smaller", "larger"), [("build", "run"), ("run", "test")])
def test_the_larger_lock_holds_all_of_the_smaller_one(root: Path, smaller: str, larger: str) -> None:
    large = locked(root, larger)
    for name, pins in locked(root, smaller).items():
        assert large.get(name) == pins, name


def test_the_site_generator_stays_on_the_line_that_the_templates_are_written_for(root: Path) -> None:
    for lock in ("run", "test"):
        packages = locked(root, lock)
        assert [Version(version).major for version, _ in packages["mkdocs"]] == [1]
        assert [Version(version).major for version, _ in packages["mkdocs-material"]] == [9]


def test_copyleft_oracles_stay_in_the_tests(root: Path) -> None:
    """The package obd is GPL: it may check the product, never be part of it."""
    assert "obd" in locked(root, "test")
    assert "obd" not in locked(root, "run")


def test_what_builds_the_project_is_what_the_lock_builds_it_with(root: Path) -> None:
    project = tomllib.loads((root / "pyproject.toml").read_text("utf-8"))
    packages = locked(root, "build")
    for text in project["build-system"]["requires"]:
        requirement = Requirement(text)
        assert all(requirement.specifier.contains(version) for version, _ in packages[canonicalize_name(requirement.name)])
