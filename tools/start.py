#!/usr/bin/env python3
"""Make everything ready and start it. It needs Python 3.11 or newer and, the first time, the package registry.

    python3 tools/start.py               check the book, build its site and show it to this machine
    python3 tools/start.py test          run all tests, those in a browser too
    python3 tools/start.py check         what a change of the program must pass beside the tests

What follows on the line goes on to `rangebook serve`, or to pytest (`test tests/lint -k years`). Our own words are:

    --apt         first install those Debian packages of tools/debian.txt that are missing; this takes root
    --coverage    of `test`: measure which branches ran, and fail below the floor in pyproject.toml

.venv/ is made from the lock in tools/lock/, each package with its hash, by uv where that is on the path, else by pip.
"""

# The whole file must be readable to Python 3.6, so that an old Python can say that it is too old: tests/setup sees to it.

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
VENV, LOCKS = ROOT / ".venv", ROOT / "tools" / "lock"
# The caller's variables that would bring other packages in, or put ours somewhere else.
NOT_OURS = {"PYTHONPATH", "PYTHONHOME", "PYTHONUSERBASE", "VIRTUAL_ENV", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PIP_USER"}


class CannotError(Exception):
    """Something is missing on this machine; the message is one line that says what to do."""


def main(words: list) -> int:
    """Do what the words of the command line say; returns the exit status, 2 where something is missing on this machine."""
    try:
        check_python(sys.version_info)
        if words[:1] in (["-h"], ["--help"]):
            print(__doc__.strip())
            return 0
        if "--apt" in words:
            install_debian_packages()
            words = [word for word in words if word != "--apt"]
        prepare("test" if words[:1] in (["test"], ["check"]) else "run")
        # In place of this program, so that exit status, Ctrl-C and an end by a signal are its own.
        os.execve(str(python()), [str(python()), str(ROOT / "tools" / "tasks.py"), *words], environment())
    except CannotError as error:
        say(str(error))
        return 2
    except KeyboardInterrupt:
        return 130


def check_python(version: tuple) -> None:
    """Raise :class:`CannotError` if this Python is too old."""
    if tuple(version[:2]) < (3, 11):
        this = ".".join(map(str, version[:3]))
        raise CannotError(f"this is Python {this}, and Rangebook needs 3.11 or newer: run the same line with that, as in `python3.11 ...`")


def prepare(purpose: str) -> None:
    """Bring .venv/ to what the lock for ``run`` or ``test`` says. Does nothing where it is that already."""
    stamp, uv = VENV / "made-from", shutil.which("uv")
    place, _, made = (stamp.read_text("utf-8") if stamp.exists() else str(VENV)).partition("\n")
    # The test lock holds all of the other.
    if made in (fingerprint(purpose), fingerprint("test")) and python().exists():
        return
    ensure_venv(uv, place)
    say("fetching the packages that the lock names into .venv/ (the first time; a minute or so) ...")
    install = [uv, "pip", "install", "--python", str(python())] if uv else [str(python()), "-m", "pip", "install", "-q", "--no-input"]
    install += ["--quiet", "--no-deps", "--no-build-isolation"]
    # First what installs and builds, then the rest with it: so nothing that is not in the lock, with its hash, is ever run.
    for lock in ("build.txt", f"pylock.{purpose}.toml"):
        must([*install, "--require-hashes", "--requirement", str(LOCKS / lock)], "the packages could not be fetched")
    must([*install, "--no-index", "--editable", str(ROOT)], "Rangebook itself could not be installed into .venv/")
    stamp.write_text(f"{VENV}\n{fingerprint(purpose)}", "utf-8")


def ensure_venv(uv: str, place: str) -> None:
    """Make .venv/ anew unless the one that is there can be built upon: it was made in this place, it runs, and its Python is this one."""
    ask = [str(python()), "-c", f"import sys; sys.exit(sys.version_info[:3] != {tuple(sys.version_info[:3])})"]
    if place == str(VENV) and python().exists() and not subprocess.call(ask, cwd=str(ROOT), env=environment(), stderr=subprocess.DEVNULL):
        return
    if not uv and not all(map(importlib.util.find_spec, ("venv", "ensurepip"))):
        raise CannotError("this Python cannot make an environment: install uv, or what it lacks (Debian: apt-get install python3-venv)")
    say("making the environment .venv/ ...")
    make = [uv, "venv", "--quiet", "--python", sys.executable] if uv else [sys.executable, "-I", "-m", "venv"]
    must([*make, "--clear", str(VENV)], "the environment .venv/ could not be made")


def fingerprint(purpose: str) -> str:
    """Changes with all that .venv/ is made from: the place, the Python, the lock, and how we are installed."""
    files = (LOCKS / "build.txt", LOCKS / f"pylock.{purpose}.toml", ROOT / "pyproject.toml", Path(__file__))
    parts = [str(VENV), sys.version, *(file.read_text("utf-8") for file in files)]
    return hashlib.sha256("\0".join(parts).encode("utf-8")).hexdigest()


def install_debian_packages() -> None:
    """Install those packages of tools/debian.txt that are not there; only root of a Debian can."""
    if not shutil.which("apt-get") or os.geteuid() != 0:
        say("--apt installs nothing here: that takes root of a Debian")
        return
    lines = (ROOT / "tools" / "debian.txt").read_text("utf-8").splitlines()
    ask = ["dpkg-query", "-W", "-f", "${Package} ${db:Status-Status}\n"]
    there = subprocess.run(ask, stdout=subprocess.PIPE, check=False).stdout.decode("utf-8").splitlines()
    listed = [line.partition("#")[0].split() for line in lines]
    # A program on the path will do, from wherever it came.
    wanted = [name for name, *programs in filter(None, listed) if f"{name} installed" not in there and not any(map(shutil.which, programs))]
    for words in (["update", "-qq"], ["install", "-qq", "-y", "--no-install-recommends", *wanted]) if wanted else ():
        must(["env", "DEBIAN_FRONTEND=noninteractive", "apt-get", *words], "Debian's packages could not be installed")


def must(command: list, failed: str) -> None:
    """Run a command, which may not take the keyboard for its own; raise :class:`CannotError` where it fails."""
    # At the top of the checkout: `python -m pip` takes a pip.py of the folder that it is started in, and a hook is started in another's.
    if subprocess.call(command, cwd=str(ROOT), env=environment(), stdin=subprocess.DEVNULL, stdout=sys.stderr):
        raise CannotError(failed + ": see what stands above; with that in order, run the same line again")


def environment() -> dict:
    """The caller's variables without those that would bring in packages from elsewhere."""
    return {name: value for name, value in os.environ.items() if name not in NOT_OURS}


def python() -> Path:
    """The Python of .venv/."""
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def say(text: str) -> None:
    """One line for people."""
    print("start: " + text, file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
