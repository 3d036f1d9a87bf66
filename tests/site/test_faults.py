"""What goes wrong while a site is built, on purpose: the published one stays whole, and the message says what happened.

The judge is a comparison of every byte of the published folder; the faults are real ones: signals, a file system that is full, another
process, an editor.
"""

from __future__ import annotations

import base64
import ctypes
import errno
import hashlib
import json
import os
import shutil
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.site.test_build import entry_of, left_over, tree

from rangebook.cli import main
from rangebook.site.generator import build as building
from rangebook.site.generator.build import NotBuiltError, build_site
from rangebook.site.generator.gate import checked
from rangebook.site.live.serve import rebuild

MOMENTS = 14
"""At so many moments, spread over the time that a build takes, one is killed."""


def command(book: Path, target: Path | None = None) -> list[str]:
    more = ["--site-dir", str(target)] if target else []
    return [sys.executable, "-m", "rangebook", "build", "--root", str(book), *more]


def run(book: Path, target: Path | None = None, store: str | None = None) -> subprocess.CompletedProcess[str]:
    """``store`` empty: nothing of an earlier build is known."""
    env = os.environ if store is None else {**os.environ, "RANGEBOOK_STORE": store}
    return subprocess.run(command(book, target), capture_output=True, text=True, env=env)


def whole(site: Path) -> bool:
    """Whether every file that the site lists is there with the hash that it lists."""
    listing = json.loads((site / "offline.json").read_text("utf-8"))
    return all(
        base64.b64encode(hashlib.sha256((site / path).read_bytes()).digest()).decode() == hash_ for path, hash_, _ in listing["keep"]
    )


@pytest.fixture
def published(small_book: Path) -> Path:
    """A book, published; then something is written into it, so that a new build would differ."""
    build_site(checked(small_book), small_book / "site")
    entry_of(small_book).write_text(entry_of(small_book).read_text("utf-8") + "\nOne more line.\n", "utf-8")
    return small_book


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT], ids=["kill", "terminate", "interrupt"])
def test_a_build_that_is_killed(published: Path, how: signal.Signals) -> None:
    """At moments spread over all of it, the last of them while it writes; afterwards a build clears up and publishes."""
    target = published / "site"
    start = time.monotonic()
    assert run(published).returncode == 0
    lasts = time.monotonic() - start
    before = tree(target)
    entry_of(published).write_text(entry_of(published).read_text("utf-8") + "\nAnd another one.\n", "utf-8")
    assert run(published, published / "elsewhere").returncode == 0
    after = tree(published / "elsewhere")
    moments = MOMENTS if how is signal.SIGKILL else 3
    interrupted = 0
    for moment in range(moments):
        process = subprocess.Popen(command(published), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(lasts * (moment + 0.7) / moments)
        process.send_signal(how)
        process.wait()
        now = tree(target)
        as_before = now == before
        assert as_before or now == after, "half of one and half of the other"
        interrupted += as_before
    assert interrupted, "none was caught before it was done"
    assert run(published).returncode == 0
    assert tree(target) == after != before
    assert left_over(published) == []


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of its own, too small for two sites, where this process may make one."""
    place = tmp_path / "disk"
    place.mkdir()
    made = os.geteuid() == 0 and subprocess.run(["mount", "-t", "tmpfs", "-o", "size=24m", "tmpfs", str(place)], capture_output=True)
    if not made or made.returncode:
        pytest.skip("no file system can be mounted here")
    yield place
    subprocess.run(["umount", str(place)], check=True)


@pytest.mark.parametrize("again", [False, True], ids=["all of it anew", "what has changed"])
def test_a_disk_that_is_full(small_book: Path, small_disk: Path, again: bool) -> None:
    """ENOSPC from the kernel: whatever file it hits, exit status 2, one line that says so, and the old site."""
    target = small_disk / "site"
    assert run(small_book, target).returncode == 0
    before = tree(target)
    if again:
        entry_of(small_book).write_text(entry_of(small_book).read_text("utf-8") + "\nOne more line.\n", "utf-8")
    for left in (0, 30_000, 100_000) if again else (0, 100_000, 500_000, 1_500_000):
        free = shutil.disk_usage(small_disk).free
        (small_disk / "films").write_bytes(b"\0" * max(0, free - left))
        ran = run(small_book, target, None if again else "")
        assert ran.returncode == 2, ran.stdout + ran.stderr
        assert os.strerror(errno.ENOSPC) in ran.stderr
        assert "the site is as it was before" in ran.stderr
        assert "Traceback" not in ran.stderr
        assert tree(target) == before
        assert left_over(small_disk) == []
        (small_disk / "films").unlink()
    assert run(small_book, target).returncode == 0, "with room again it builds"


@pytest.mark.parametrize("after", [0, 1, 40, 150])
def test_a_write_that_fails(small_book: Path, after: int, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """The same where no file system can be mounted: the disk is said to be full from the so-manieth file on. Nothing is taken over."""
    monkeypatch.setenv("RANGEBOOK_STORE", "")
    assert main(["build", "--root", str(small_book)]) == 0
    before = tree(small_book / "site")
    left, real = after, open

    def full(file: object, mode: str = "r", *rest: object, **words: object) -> object:
        nonlocal left
        if ("w" in mode or "x" in mode) and ".building-" in str(file):
            left -= 1
            if left < 0:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), str(file))
        return real(file, mode, *rest, **words)  # type: ignore[call-overload]

    monkeypatch.setattr("builtins.open", full)
    capsys.readouterr()
    status = main(["build", "--root", str(small_book)])
    monkeypatch.undo()
    assert status == 2
    assert os.strerror(errno.ENOSPC) in capsys.readouterr().err
    assert tree(small_book / "site") == before
    assert left_over(small_book) == []


def test_an_entry_edited_during_the_build(small_book: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody linted half of the old together with half of the new: it is not published, and the message names the entry."""
    assert main(["build", "--root", str(small_book)]) == 0
    before = tree(small_book / "site")
    entry = entry_of(small_book)
    real = building._run

    def edited(*of: Any) -> object:
        written = real(*of)
        entry.write_text(entry.read_text("utf-8") + "\nTyped while it was built.\n", "utf-8")
        return written

    monkeypatch.setattr(building, "_run", edited)
    capsys.readouterr()
    assert main(["build", "--root", str(small_book)]) == 1
    said = capsys.readouterr().err
    assert str(entry.relative_to(small_book)) in said and "changed while the site was being built" in said
    assert "as it was before" in said
    assert tree(small_book / "site") == before
    monkeypatch.undo()
    assert main(["build", "--root", str(small_book)]) == 0
    assert "Typed while it was built." in (small_book / "site" / "switches" / entry.stem / "index.html").read_text("utf-8")


def test_entries_that_come_and_go_during_the_build(small_book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = checked(small_book)
    entry = entry_of(small_book)
    text = entry.read_text("utf-8")
    entry.rename(entry.with_suffix(".away"))
    with pytest.raises(NotBuiltError, match="and 1 more changed"):
        build_site(book, small_book / "site")
    entry.with_suffix(".away").rename(entry)
    entry.write_text(text, "utf-8")
    assert not (small_book / "site").exists()


def test_an_editor_that_never_rests(small_book: Path) -> None:
    """Somebody saves an entry again and again while builds run: each either publishes a whole site or says why not."""
    target = small_book / "site"
    build_site(checked(small_book), target)
    entry, done = entry_of(small_book), threading.Event()
    text = entry.read_text("utf-8")

    def type_on() -> None:
        for turn in range(10_000):
            if done.wait(0.3):
                return
            # As editors do it: a new file takes the place of the old one.
            fresh = entry.with_suffix(".tmp")
            fresh.write_text(f"{text}\nSaved {turn} times.\n", "utf-8")
            fresh.replace(entry)

    before = tree(target)
    typing = threading.Thread(target=type_on)
    typing.start()
    try:
        ran = run(small_book)
    finally:
        done.set()
        typing.join()
    assert ran.returncode == 1
    assert "changed while the site was being built" in ran.stderr
    assert tree(target) == before
    assert run(small_book).returncode == 0


def test_two_builds_at_once(published: Path) -> None:
    """Both come to an end, and the site is that of the book; neither takes the other's half-made folder for one left behind."""
    target = published / "site"
    both = [subprocess.Popen(command(published), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) for _ in range(2)]
    ends = [(process.communicate(), process.returncode) for process in both]
    assert [status for _, status in ends] == [0, 0], ends
    assert whole(target) and "One more line." in (target / "switches" / "tamblin-gate" / "index.html").read_text("utf-8")
    assert left_over(published) == []


def test_two_threads_of_one_process_at_once(small_book: Path, tmp_path: Path) -> None:
    """As when `serve` and a build meet in one process: into different folders, neither disturbs the other."""
    said: list[str] = []
    ok = [rebuild(small_book, tmp_path / name, False, said.append) for name in ("one", "two")]
    assert ok == [True, True] and not said
    assert tree(tmp_path / "one") == tree(tmp_path / "two")


def test_serving_goes_on_after_a_fault(small_book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A build that meets a full disk is a line on the screen, not the end of `rangebook serve`."""
    site = tmp_path / "site"
    said: list[str] = []
    assert rebuild(small_book, site, False, said.append)
    before = tree(site)

    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), "somewhere")

    monkeypatch.setattr(building, "_run", full)
    assert not rebuild(small_book, site, False, said.append)
    assert os.strerror(errno.ENOSPC) in said[-1]
    assert tree(site) == before


def test_a_folder_that_may_not_be_written(small_book: Path, tmp_path: Path) -> None:
    """A read-only file system: said in one line, with the folder."""
    place = tmp_path / "closed"
    place.mkdir()
    if os.geteuid() == 0:
        if subprocess.run(["mount", "-t", "tmpfs", "-o", "ro", "tmpfs", str(place)], capture_output=True).returncode:
            pytest.skip("root may write everywhere, and no file system can be mounted here")
    else:
        place.chmod(0o555)
    try:
        ran = run(small_book, place / "site")
        assert ran.returncode == 2
        assert str(place) in ran.stderr and "Traceback" not in ran.stderr
    finally:
        if os.geteuid() == 0:
            subprocess.run(["umount", str(place)], check=True)


def test_without_an_exchange_in_the_kernel(small_book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a file system that cannot exchange two folders, two renames do; a failure of the second brings the old site back."""
    monkeypatch.setenv("RANGEBOOK_STORE", "")
    target = small_book / "site"
    build_site(checked(small_book), target)
    before = tree(target)

    class Without:
        def __getattr__(self, name: str) -> object:
            raise AttributeError(name)

    monkeypatch.setattr(ctypes, "CDLL", lambda *_, **__: Without())
    real = Path.rename

    def second_fails(self: Path, other: Path) -> Path:
        if ".building-" in self.name:
            raise OSError(errno.EIO, os.strerror(errno.EIO), str(self))
        return real(self, other)

    monkeypatch.setattr(Path, "rename", second_fails)
    with pytest.raises(OSError):  # noqa: PT011 - the system words it
        build_site(checked(small_book), target)
    assert tree(target) == before
    monkeypatch.setattr(Path, "rename", real)
    build_site(checked(small_book), target)
    assert tree(target) == before and left_over(small_book) == []
