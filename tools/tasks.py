"""What tools/start.py starts once .venv/ is ready: the book and its site, the tests, the checks. It runs inside .venv/."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]

CHECKS = (("ruff", "check", "."), ("ruff", "format", "--check", "."), ("mypy",), ("lint-imports", "--no-cache"))
"""What a change of the program must pass; each goes by its settings in pyproject.toml."""

BROWSER = "RANGEBOOK_CHROMIUM"
"""Tells the tests which browser to drive; may be set to name another one."""

BROWSERS = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
"""The first that is there is taken. The one without windows opens and leaves pages in a quarter of the time that the others take."""


def main(words: list[str]) -> int:
    """Do what the words say; returns the exit status."""
    match words:
        case ["test", *rest]:
            return run_tests([word for word in rest if word != "--coverage"], coverage="--coverage" in rest)
        case ["check"]:
            return run_checks()
        case ["check", *rest]:
            return cannot(f"`check` takes no further words: {' '.join(rest)}")
        case _:
            return show_book(words)


def show_book(words: list[str]) -> int:
    """Check the book, build its site and serve it. What is in error is listed, and then nothing is served."""
    status = call("rangebook", "lint", "--root", str(ROOT))
    if status:
        say("nothing is built while the book has errors: mend what is listed above and run the same line again")
        return status
    return become("rangebook", "serve", "--root", str(ROOT), *words)


def run_tests(words: list[str], *, coverage: bool) -> int:
    """Run the tests; without further words all of them, on all processors, and then the browser has to be there."""
    found = os.environ.get(BROWSER) or next(filter(None, map(shutil.which, BROWSERS)), None)
    if found:
        os.environ[BROWSER] = found
    missing = ([] if found else ["chromium-headless-shell"]) + ([] if driver_starts() else ["libatomic1"])
    if missing and not words:
        packages = " ".join(missing)
        return cannot(f"the browser tests need {packages}: install it (Debian: apt-get install {packages}, or this line with --apt)")
    # Where nothing that was compiled may be kept, each of the hundreds of commands that tests start would have the program compiled anew.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    if words:
        return covered(words) if coverage else become("python", "-m", "pytest", *words)
    # Several processes pay off only for the whole; one that has done its share takes from the others.
    spread = ["-n", "auto", "--dist", "worksteal"]
    if not coverage:
        return become("python", "-m", "pytest", *spread)
    # To measure takes three times as long. So what is not counted (the site, the set-up), and what goes the same ways a thousand times
    # over (the slow ones, all lots but the first), run by themselves.
    return max(covered([*spread, "-m", "not unmeasured"]), call("python", "-m", "pytest", *spread, "-m", "unmeasured"))


def covered(words: list[str]) -> int:
    """Run tests and measure which branches they go through; returns a status that is not 0 if a test fails or the floor is missed."""
    status = call("python", "-m", "coverage", "run", "-m", "pytest", *words)
    return call("python", "-m", "coverage", "combine", "--quiet") or call("python", "-m", "coverage", "report") or status


def driver_starts() -> bool:
    """Whether the program that playwright brings for driving browsers starts: a bare Debian lacks a library for it."""
    drivers = Path(sys.prefix).glob("lib/python*/site-packages/playwright/driver/node")
    return all(subprocess.run([driver, "--version"], capture_output=True, check=False).returncode == 0 for driver in drivers)


def run_checks() -> int:
    """Run all of :data:`CHECKS`, then those of the browser's scripts; says at the end which did not pass."""
    failed = [" ".join(command) for command in CHECKS if call(*command)]
    npm = shutil.which("npm")
    if npm:
        # The lock of package.json names each package with its hash, and none of their scripts is run.
        fetch, check = [npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund"], [npm, "run", "--silent", "check"]
        if not all(subprocess.run(command, cwd=ROOT, check=False).returncode == 0 for command in (fetch, check)):
            failed.append("npm run check")
    elif os.environ.get("CI"):
        failed.append("npm run check (there is no npm; Debian: this line with --apt)")
    else:
        say("the browser's scripts are not checked: there is no npm")
    for command in failed:
        say(f"did not pass: {command}")
    return 1 if failed else 0


def call(program: str, *words: str) -> int:
    """Run a program of .venv/ at the top of the checkout; returns its exit status."""
    return subprocess.run([Path(sys.executable).with_name(program), *words], cwd=ROOT, check=False).returncode


def become(program: str, *words: str) -> int:
    """Run the last program in place of this one, so that its exit status, Ctrl-C and an end by a signal are its own."""
    if os.name != "posix":
        return call(program, *words)
    os.chdir(ROOT)
    # By its whole path in both places: a Python that is started by its name alone looks on the path for where it is at home.
    path = str(Path(sys.executable).with_name(program))
    return os.execv(path, [path, *words])


def cannot(text: str) -> int:
    """Say in one line what is missing on this machine; returns the exit status for it."""
    say(text)
    return 2


def say(text: str) -> None:
    """One line for people."""
    print(f"start: {text}", file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
