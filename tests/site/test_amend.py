"""Some files of a site are changed where it lies: all or none, never through a link, and nothing that is not the site's own."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from tests.site.test_build import entry_of, left_over, tree

from rangebook.cli import main
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.output.alone import alone_at
from rangebook.site.output.amend import amend
from rangebook.site.output.folder import Folder
from rangebook.site.output.kept import Kept, Part


def put(folder: Path, **files: str) -> Path:
    for address, text in files.items():
        place = folder / address.replace("__", "/")
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(text, "utf-8")
    return folder


def laid(folder: Path) -> dict[str, str | None]:
    """Files with what is in them, and folders."""
    return {one.relative_to(folder).as_posix(): None if one.is_dir() else one.read_text("utf-8") for one in folder.rglob("*")}


@pytest.fixture
def site(tmp_path: Path) -> Path:
    return put(tmp_path / "site", a="1", b__c="2", b__d__e="3", f__g="4", h="5")


@pytest.fixture
def new(tmp_path: Path) -> Path:
    """Of a file a folder is made and of a folder a file, some are new, and some are others."""
    return put(tmp_path / "new", a__x="6", b__c="7", f="8", n__o__p="9")


GONE = ("a", "b/d/e", "f/g")
AFTER = {"a": None, "a/x": "6", "b": None, "b/c": "7", "f": "8", "h": "5", "n": None, "n/o": None, "n/o/p": "9"}


def test_what_is_new_is_put_there_and_what_is_gone_taken_out(site: Path, new: Path) -> None:
    amend(site, new, GONE)
    assert laid(site) == AFTER


CALLS = ("rename", "replace", "link", "mkdir", "rmdir")


@pytest.mark.parametrize("at", range(12))
def test_a_step_that_fails_takes_all_before_it_back(at: int, site: Path, new: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whichever it is; what a folder is asked to be empty for is no failure, nor that a file has no second name."""
    before, left = laid(site), at
    done: list[str] = []

    def failing(name: str, real: Callable[..., object]) -> Callable[..., object]:
        def step(*args: object, **words: object) -> object:
            nonlocal left
            if name in ("rename", "replace", "mkdir"):
                left -= 1
                if left == -1:
                    raise OSError(errno.EIO, os.strerror(errno.EIO), str(args[0]))
            done.append(name)
            return real(*args, **words)

        return step

    for name in CALLS:
        monkeypatch.setattr(os, name, failing(name, getattr(os, name)))
    if at < 11:
        with pytest.raises(OSError, match=os.strerror(errno.EIO)):
            amend(site, new, GONE)
        assert laid(site) == before
    else:
        amend(site, new, GONE)
        assert left == 0 and laid(site) == AFTER, "there are no more steps than that"


def test_where_a_file_has_one_name_only(site: Path, new: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As on a stick: then it is put aside."""

    def none(*_: object, **__: object) -> None:
        raise PermissionError(errno.EPERM, os.strerror(errno.EPERM))

    monkeypatch.setattr(os, "link", none)
    amend(site, new, GONE)
    assert laid(site) == AFTER


def test_who_asks_it_to_stop_waits_until_it_is_done(site: Path, new: Path) -> None:
    """The signal comes between two files."""
    code = (
        "import os, signal, sys\nfrom pathlib import Path\nfrom rangebook.site.output import amend\n"
        "put = amend._put\n"
        "def slow(*words):\n    os.kill(os.getpid(), signal.SIGTERM)\n    put(*words)\n"
        "amend._put = slow\n"
        f"amend.amend(Path({str(site)!r}), Path({str(new)!r}), {GONE!r})\n"
    )
    assert subprocess.run([sys.executable, "-c", code]).returncode == -15
    assert laid(site) == AFTER


# A whole build


@pytest.fixture
def published(small_book: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[Path]:
    """A book, published, then written into; the folder of the site is the same one for as long as it is amended."""
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    build_site(checked(small_book), small_book / "site")
    entry_of(small_book).write_text(entry_of(small_book).read_text("utf-8") + "\nOne more line.\n", "utf-8")
    yield small_book
    assert left_over(small_book) == []


def afresh(book: Path) -> dict[str, object]:
    build_site(checked(book), book / "fresh")
    return tree(book / "fresh")


def test_after_an_edit_only_what_differs_is_written(published: Path) -> None:
    site = published / "site"
    before = {path: path.stat().st_mtime_ns for path in site.rglob("*") if path.is_file()}
    folder = site.stat().st_ino
    build_site(checked(published), site)
    assert site.stat().st_ino == folder
    assert tree(site) == afresh(published)
    written = {path.relative_to(site).as_posix() for path, then in before.items() if path.stat().st_mtime_ns != then}
    assert "switches/tamblin-gate/index.html" in written
    assert not [one for one in written if one.startswith(("book/", "assets/", "handbook/", "connectors/"))]


def test_what_no_build_wrote_stays_as_it_is(published: Path) -> None:
    site = published / "site"
    put(site, CNAME="example.test", parts__own__note="ours")
    os.link(site / "CNAME", published / "same")
    build_site(checked(published), site)
    assert (site / "CNAME").samefile(published / "same")
    assert (site / "parts/own/note").read_text("utf-8") == "ours"


def test_a_folder_that_is_a_link_now_is_not_written_through(published: Path, capsys: pytest.CaptureFixture[str]) -> None:
    site, aside = published / "site", published.parent / "aside"
    (site / "switches").rename(aside)
    (site / "switches").symlink_to(aside)
    before = tree(aside)
    assert main(["build", "--root", str(published)]) == 2
    assert "switches, which no build wrote" in capsys.readouterr().err
    assert tree(aside) == before
    (site / "switches").unlink()
    build_site(checked(published), site)
    assert tree(site) == afresh(published)


def test_a_new_page_where_something_of_somebody_lies(published: Path, capsys: pytest.CaptureFixture[str]) -> None:
    site = published / "site"
    put(site, connectors__round="ours")
    old = published / "entries/connectors/oval-9.md"
    (published / "entries/connectors/round.md").write_text(old.read_text("utf-8").replace("id: oval-9", "id: round"), "utf-8")
    before = tree(site)
    assert main(["build", "--root", str(published)]) == 2
    assert "connectors/round, which no build wrote" in capsys.readouterr().err
    assert tree(site) == before


def test_an_entry_that_goes_takes_its_folder_along(published: Path) -> None:
    site = published / "site"
    old = published / "entries/connectors/oval-9.md"
    new = published / "entries/connectors/round-x.md"
    new.write_text(old.read_text("utf-8").replace("id: oval-9", "id: round-x"), "utf-8")
    build_site(checked(published), site)
    assert (site / "connectors/round-x/index.html").is_file()
    new.unlink()
    build_site(checked(published), site)
    assert not (site / "connectors/round-x").exists()
    assert tree(site) == afresh(published)


def test_a_build_that_fails_at_the_end_leaves_the_site(published: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    site = published / "site"
    before = tree(site)
    replace = os.replace

    def last_fails(old: str, place: str) -> None:
        if place.endswith("tamblin-gate/index.html"):
            raise OSError(errno.EIO, os.strerror(errno.EIO), place)
        replace(old, place)

    monkeypatch.setattr(os, "replace", last_fails)
    with pytest.raises(OSError, match=os.strerror(errno.EIO)):
        build_site(checked(published), site)
    monkeypatch.undo()
    assert tree(site) == before


def test_a_file_that_was_changed_to_the_same_length_and_time(published: Path) -> None:
    """Nobody sets the time back at which the disk says that something of a file was changed."""
    site = published / "site"
    build_site(checked(published), site)
    right = tree(site)
    page = site / "connectors/oval-9/index.html"
    then, data = page.stat(), page.read_bytes()
    page.write_bytes(data.replace(b"</html>", b"</htmx>"))
    os.utime(page, ns=(then.st_atime_ns, then.st_mtime_ns))
    build_site(checked(published), site)
    assert tree(site) == right


def test_one_after_the_other(tmp_path: Path) -> None:
    """Who comes second waits, also where the folder is another one by then."""
    site = tmp_path / "site"
    site.mkdir()
    said: list[str] = []

    def second() -> None:
        with alone_at(site):
            said.append("second")

    with alone_at(site):
        other = threading.Thread(target=second)
        other.start()
        time.sleep(0.2)
        site.rename(tmp_path / "old")
        site.mkdir()
        said.append("first")
    other.join()
    assert said == ["first", "second"]
    with alone_at(tmp_path / "nowhere"):
        pass


def test_what_is_noted_of_a_site_that_cannot_be_read_is_not_known(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    site = tmp_path / "site"
    out = Folder(site)
    out.text("a", "text")
    time.sleep(0.1)
    kept = Kept(site)
    kept.note({"one": Part("key", tuple(out.wrote), "said")}, False)
    assert Kept(site).take("one", "key") == Part("key", tuple(out.wrote), "said")
    assert Kept(site).take("one", "other") is None and Kept(site).take("two", "key") is None
    (site / "a").write_text("texT", "utf-8")
    assert Kept(site).take("one", "key") is None
    (site / "a").unlink()
    assert Kept(site).take("one", "key") is None
