#!/usr/bin/env python3
"""Make everything ready and start it. It needs Python 3.11 or newer and, the first time, the package registry.

    python3 tools/start.py               check the book, build its site and show it to this machine
    python3 tools/start.py test          run all tests, those in a browser too

The first time it makes .venv/ from the lock file, in which every package stands with its hash; after that it needs no
network. It may be run again at any time. What follows on the line goes on to `rangebook serve`, or to pytest:

    python3 tools/start.py --port 9000
    python3 tools/start.py test tests/lint -k years
"""

# The whole file must be readable to Python 3.6, so that an old Python can say that it is too old: tests/setup sees to it.

import hashlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

OLDEST = (3, 11)
ROOT = Path(__file__).resolve().parents[1]
VENV = ROOT / ".venv"
LOCKS = ROOT / "tools" / "lock"

CANNOT = 2
"""Exit status where something is missing on this machine."""

NOT_OURS = (
    *("PYTHONPATH", "PYTHONHOME", "PYTHONUSERBASE", "VIRTUAL_ENV", "__PYVENV_LAUNCHER__"),
    *("PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PIP_USER", "PIP_CONSTRAINT", "PIP_REQUIRE_HASHES"),
)
"""The caller's variables that would bring other packages in, or put ours somewhere else."""

BROWSERS = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
"""Under these names the browser of the tests is looked for."""

ORACLES = {
    "ngspice": "ngspice",
    "zbarimg": "zbar-tools",
    "pdftotext": "poppler-utils",
    "exiftool": "libimage-exiftool-perl",
    "nginx": "nginx-light",
}
"""Further programs that some tests check against, with their Debian packages; without them those tests are skipped."""

FONT = Path("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf")
"""Of Debian's fonts the widest plain one: what fits with it fits with any. Without it a bare Debian shows pages in a typewriter's."""

BROWSER_VARIABLE = "RANGEBOOK_CHROMIUM"
"""Tells the tests which browser was found; may be set to name another one."""


class CannotError(Exception):
    """Something is missing on this machine; the message is one line that says what to do."""


def main(words: list) -> int:
    """Do what the words of the command line say; returns the exit status."""
    if words and words[0] in ("-h", "--help", "help"):
        print(__doc__.strip())
        return 0
    try:
        check_python(sys.version_info)
        if words and words[0] == "test":
            return run_tests(words[1:])
        return show_book(words)
    except CannotError as error:
        say(str(error))
        return CANNOT
    except KeyboardInterrupt:
        return 130


def check_python(version: tuple) -> None:
    """Raise :class:`CannotError` if this Python is too old."""
    if tuple(version[:2]) < OLDEST:
        raise CannotError(
            "this is Python {}.{}.{}, and Rangebook needs {}.{} or newer: install one (Debian 12 and newer: "
            "apt-get install python3 python3-venv) and run the same line with it, as in `python3.11 tools/start.py`".format(
                *version[:3], *OLDEST
            )
        )


def show_book(words: list) -> int:
    """Check the book, build its site and serve it. What is in error is listed, and then nothing is served."""
    prepare("run")
    status = subprocess.call([str(tool("rangebook")), "lint", "--root", str(ROOT)], env=environment())
    if status:
        say("nothing is built while the book has errors: mend what is listed above and run the same line again")
        return status
    return become([str(tool("rangebook")), "serve", "--root", str(ROOT), *words], environment())


def run_tests(words: list) -> int:
    """Run the tests; without further words all of them, and then the browser has to be there."""
    prepare("test")
    variables = environment()
    try:
        variables[BROWSER_VARIABLE] = browser()
    except CannotError as error:
        if not words:
            raise
        say(str(error))
    # Several processes pay off only for the whole.
    return become([str(tool("python")), "-m", "pytest", *(words or ["-n", "auto"])], variables)


def prepare(purpose: str) -> None:
    """Bring .venv/ to what the lock file for ``run`` or ``test`` says. Does nothing where it is that already."""
    stamp = fingerprint(purpose)
    stamps = read_stamps()
    if stamps.get(purpose) == stamp and tool("python").exists():
        return
    if not usable(stamps):
        make_venv()
    say("fetching the packages that the lock file names into .venv/ (the first time; a minute or so) ...")
    pip = [str(tool("python")), "-m", "pip", "--disable-pip-version-check", "--no-input", "--quiet", "install"]
    # First what builds, then the rest with it: so nothing that is not in the lock file, with its hash, is ever run.
    for lock in ("build", purpose):
        fetch = ["--require-hashes", "--no-deps", "--no-build-isolation", "--requirement", str(LOCKS / (lock + ".txt"))]
        if subprocess.call(pip + fetch, env=environment()):
            raise CannotError(
                "the packages could not be fetched: see what pip says above; with the network in order, run the same line again"
            )
    if subprocess.call([*pip, "--no-deps", "--no-index", "--no-build-isolation", "--editable", str(ROOT)], env=environment()):
        raise CannotError("Rangebook itself could not be installed into .venv/: see what pip says above")
    # The test lock holds all of the other.
    for done in {"run", purpose}:
        stamps[done] = fingerprint(done)
    stamps["place"] = place()
    stamps_file().write_text(json.dumps(stamps, indent=2) + "\n", "utf-8")


def usable(stamps: dict) -> bool:
    """Whether the .venv/ that is there can be built upon: of this Python, in this place, whole enough to run pip."""
    if not tool("python").exists() or stamps.get("place", place()) != place():
        return False
    ask = "import pip, sys; print(*sys.version_info[:3])"
    asked = subprocess.run(
        [str(tool("python")), "-c", ask], env=environment(), stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    )
    return asked.returncode == 0 and asked.stdout.split() == [str(part) for part in sys.version_info[:3]]


def make_venv() -> None:
    """Make .venv/ anew. Raises :class:`CannotError` where this Python cannot."""
    if not can_make_venv() and is_root_of_debian():
        say("this Python has no venv: installing Debian's python3-venv ...")
        apt_install("python3-venv")
        # It is there for a Python that starts now; this one has looked already.
        importlib.invalidate_caches()
    if not can_make_venv():
        raise CannotError(
            "this Python cannot make an environment (its modules venv and ensurepip are not there): "
            "install them (Debian: apt-get install python3-venv) and run the same line again"
        )
    say("making the environment .venv/ ...")
    if subprocess.call([sys.executable, "-I", "-m", "venv", "--clear", str(VENV)], env=environment()):
        raise CannotError("the environment .venv/ could not be made: see what venv says above (Debian: apt-get install python3-venv)")


def can_make_venv() -> bool:
    """Debian leaves these two out of its python3."""
    return all(importlib.util.find_spec(name) for name in ("venv", "ensurepip"))


def browser() -> str:
    """Where the browser is; installs it, and what else tests check against, if we may. Raises :class:`CannotError`."""
    needed = lacking()
    wanted = needed + [package for program, package in ORACLES.items() if not shutil.which(program)]
    if not FONT.exists():
        wanted.append("fonts-dejavu-core")
    if wanted and is_root_of_debian():
        say("installing Debian's {} for the tests (the first time; a minute or so) ...".format(", ".join(wanted)))
        apt_install(*wanted)
        needed = lacking()
    if needed:
        raise CannotError(
            "the browser tests need {}, which is not here: install it (Debian: sudo apt-get install {}), "
            "or name the tests to run, as in `python3 tools/start.py test tests/lint`".format(" and ".join(needed), " ".join(needed))
        )
    return find_browser()


def lacking() -> list:
    """The Debian packages without which no browser can be driven here."""
    return ([] if find_browser() else ["chromium"]) + ([] if driver_starts() else ["libatomic1"])


def driver_starts() -> bool:
    """Whether the program that playwright brings for driving browsers starts: a bare Debian lacks a library for it."""
    drivers = [*VENV.glob("lib/python*/site-packages/playwright/driver/node"), *VENV.glob("Lib/site-packages/playwright/driver/node.exe")]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    return all(subprocess.run([str(driver), "--version"], **quiet).returncode == 0 for driver in drivers)


def find_browser() -> str:
    """Where the browser is, or nothing."""
    named = os.environ.get(BROWSER_VARIABLE)
    if named:
        return shutil.which(named) or ""
    return next(filter(None, map(shutil.which, BROWSERS)), "")


def is_root_of_debian() -> bool:
    """Whether packages can be installed here without asking anyone."""
    return hasattr(os, "geteuid") and os.geteuid() == 0 and bool(shutil.which("apt-get"))


def apt_install(*packages: str) -> None:
    """Install Debian packages. Whether it worked the caller sees for himself."""
    variables = dict(environment(), DEBIAN_FRONTEND="noninteractive")
    for words in (["update", "-qq"], ["install", "-qq", "-y", "--no-install-recommends", *packages]):
        # What it says goes where our own words go; it must not take the keyboard for its own.
        subprocess.call(["apt-get", *words], env=variables, stdin=subprocess.DEVNULL, stdout=sys.stderr)


def environment() -> dict:
    """The caller's variables without those that would bring in packages from elsewhere."""
    return {name: value for name, value in os.environ.items() if name not in NOT_OURS}


def tool(name: str) -> Path:
    """A program of .venv/."""
    return VENV / "Scripts" / (name + ".exe") if os.name == "nt" else VENV / "bin" / name


def fingerprint(purpose: str) -> str:
    """Changes with everything that .venv/ is made from: the Python, the place, the lock files, and how we are installed."""
    parts = [place(), sys.version] + [path.read_text("utf-8") for path in ingredients(purpose)]
    return hashlib.sha256("\0".join(parts).encode("utf-8")).hexdigest()


def ingredients(purpose: str) -> list:
    """The files that .venv/ is made from."""
    return [LOCKS / "build.txt", LOCKS / (purpose + ".txt"), ROOT / "pyproject.toml", Path(__file__).resolve()]


def place() -> str:
    """Where .venv/ stands: its programs know their place, so a moved checkout needs it anew."""
    return str(VENV)


def stamps_file() -> Path:
    """What .venv/ was made from, by purpose."""
    return VENV / "made-from.json"


def read_stamps() -> dict:
    """What .venv/ was made from; empty where that cannot be told."""
    try:
        stamps = json.loads(stamps_file().read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return stamps if isinstance(stamps, dict) else {}


def become(command: list, variables: dict) -> int:
    """Run the last command in place of this one, so that its exit status and Ctrl-C are its own."""
    os.chdir(str(ROOT))
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name == "posix":
        os.execve(command[0], command, variables)
    return subprocess.call(command, env=variables)


def say(text: str) -> None:
    """One line for people."""
    print("start: " + text, file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
