"""What is kept between runs: where it lies, who may have put it there, and that it is right whatever befell the last run."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from rangebook.store import place
from rangebook.store.ledger import Ledger, Thing, using


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    return tmp_path / "store"


def thing(name: str, ties: str = "", mentions: str = "", **more: object) -> Thing:
    plain = {"digest": "1", "claim": None, "flags": 0, "hay": "", "card": "", "words": frozenset()}
    return Thing(name=name, ties=frozenset(ties.split()), mentions=frozenset(mentions.split()), **{**plain, **more})  # type: ignore[arg-type]


def kept(*things: Thing, key: str = "k") -> None:
    using(key, lambda ledger: (ledger.put(things), ledger.write()))


def test_what_was_put_there_is_there_the_next_time(home: Path) -> None:
    kept(
        thing("a", "x", claim="one", hay="some words", flags=2, card="{}"), thing("b", "y", "x"), thing("c", "z", "w"), thing("d", "", "w")
    )
    assert using("k", lambda ledger: ledger.digests()) == dict.fromkeys("abcd", "1")
    assert using("k", lambda ledger: ledger.together(["a"])) == {"a", "b"}, "one has what the other mentions"
    assert using("k", lambda ledger: ledger.together(["c"])) == {"c"}, "two that mention the same do not hang together"
    assert using("k", lambda ledger: ledger.holding(["some", "words"])) == ["a"]
    assert using("k", lambda ledger: (ledger.has_flag(2), ledger.has_flag(4))) == (True, False)
    assert using("another", lambda ledger: ledger.digests()) == {}


def test_what_is_taken_out_or_put_anew_leaves_nothing_behind(home: Path) -> None:
    kept(thing("a", "x", claim="one", words=frozenset({("named", "n")})), thing("b", "", "x", claim="one"))
    assert using("k", lambda ledger: ledger.claimed_twice()) == ["b"]
    kept(thing("a", "y"))
    assert using("k", lambda ledger: (ledger.together(["b"]), ledger.claimed_twice(), ledger.words("named"))) == ({"b"}, [], [])
    using("k", lambda ledger: (ledger.take_out(["b"]), ledger.write()))
    assert using("k", lambda ledger: ledger.names()) == ["a"]


def test_without_a_place_nothing_is_kept(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("RANGEBOOK_STORE", "")
    assert using("k", lambda ledger: 1) is None
    (tmp_path / "file").write_text("x", "utf-8")
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "file"))
    assert using("k", lambda ledger: 1) is None
    monkeypatch.setenv("RANGEBOOK_STORE", "store")
    monkeypatch.chdir(tmp_path)
    assert using("k", lambda ledger: 1) is None, "a folder that depends on where one stands may be a branch's"


def test_the_folder_is_the_users_alone_and_no_link(home: Path, tmp_path: Path) -> None:
    kept(thing("a"))
    assert home.stat().st_mode & 0o777 == 0o700
    assert {path.stat().st_mode & 0o077 for path in home.iterdir()} == {0}
    home.chmod(0o777)
    assert using("k", lambda ledger: 1) is None, "anybody may have put something there"
    home.chmod(0o700)
    home.rename(tmp_path / "elsewhere")
    home.symlink_to(tmp_path / "elsewhere")
    assert using("k", lambda ledger: 1) is None


def test_a_file_that_is_a_link_is_left_alone(home: Path, tmp_path: Path) -> None:
    kept(thing("a"))
    file = next(home.glob("*.sqlite"))
    file.unlink()
    (tmp_path / "keys").write_text("secret", "utf-8")
    file.symlink_to(tmp_path / "keys")
    assert using("k", lambda ledger: 1) is None
    assert (tmp_path / "keys").read_text("utf-8") == "secret" and file.is_symlink()


@pytest.mark.parametrize("how", ["noise", "cut", "another form", "a blob"])
def test_a_damaged_one_is_thrown_away(home: Path, how: str) -> None:
    kept(*(thing(f"a{number}", f"x{number} y") for number in range(400)))
    file = next(home.glob("*.sqlite"))
    if how == "noise":
        file.write_bytes(random.Random(1).randbytes(20_000))
    elif how == "cut":
        file.write_bytes(file.read_bytes()[:9_000])
    else:
        base = sqlite3.connect(file)
        base.execute("PRAGMA user_version = 99" if how == "another form" else "UPDATE thing SET ties = x'0102'")
        base.commit()
        base.close()
    found = using("k", lambda ledger: (ledger.names(), ledger.together(["a1"])))
    assert found in (([], {"a1"}), None)
    assert using("k", lambda ledger: (ledger.names(), ledger.together(["a1"]))) == ([], {"a1"})


def test_two_at_once_do_not_mix(home: Path) -> None:
    """What one writes that began before another had written is let go of; it saw what was there when it began."""
    kept(thing("a"))
    at = place.file_for("k")
    assert at is not None
    slow = Ledger(at)
    kept(thing("b"))
    assert slow.names() == ["a"]
    with pytest.raises(sqlite3.OperationalError):
        slow.put([thing("c")])
    slow.close()
    assert using("k", lambda ledger: ledger.names()) == ["a", "b"]


def test_only_so_many_are_kept(home: Path) -> None:
    for number in range(place.MOST + 5):
        kept(thing("a"), key=str(number))
    assert len(list(home.glob("*.sqlite"))) == place.MOST


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="there is no such signal here")
def test_one_that_is_killed_leaves_what_was_there(home: Path) -> None:
    kept(thing("a", "x"))
    script = (
        "import os, signal, sys\n"
        "from tests.store.test_ledger import thing\n"
        "from rangebook.store.ledger import using\n"
        "def work(ledger):\n"
        "    ledger.clear(); ledger.put([thing(f'n{at}', f't{at}') for at in range(3000)])\n"
        "    os.kill(os.getpid(), signal.SIGKILL)\n"
        "using('k', work)\n"
    )
    root = Path(__file__).resolve().parents[2]
    paths = os.pathsep.join([str(root), str(root / "tools"), os.environ.get("PYTHONPATH", "")])
    ran = subprocess.run([sys.executable, "-c", script], env={**os.environ, "PYTHONPATH": paths}, check=False)
    assert ran.returncode == -signal.SIGKILL
    assert using("k", lambda ledger: (ledger.names(), ledger.together(["a"]))) == (["a"], {"a"})
