"""Building: the gate, the swap, the same bytes twice, and what must never be overwritten."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from generate import generate, write
from rangebook.cli import main
from rangebook.site.generator.build import BadTargetError, NotBuiltError, build_site, mind_target
from rangebook.site.generator.gate import NotCleanError, checked
from rangebook.site.output.swap import beside, put_in_place


def tree(folder: Path) -> dict[str, str]:
    """Every file below a folder with the hash of its bytes."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in folder.rglob("*") if path.is_file()
    }


def left_over(folder: Path) -> list[str]:
    """What a build made beside the site and should have taken away."""
    return [path.name for path in folder.iterdir() if path.name.startswith(".")]


def entry_of(book: Path) -> Path:
    return next((book / "entries" / "switches").glob("*.md"))


def test_a_book_of_its_own_without_any_configuration(small_book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Entries alone are enough: schema, looks and settings come with the command. The site goes beside them."""
    assert main(["build", "--root", str(small_book)]) == 0
    said = capsys.readouterr()
    assert str(small_book / "site") in said.out
    assert (small_book / "site" / "switches" / "tamblin-gate" / "index.html").is_file()
    assert left_over(small_book) == []


def test_an_error_keeps_the_old_site(small_book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The finding is printed with file, line and rule; exit status 1; the site not touched."""
    assert main(["build", "--root", str(small_book)]) == 0
    before = tree(small_book / "site")
    entry = entry_of(small_book)
    lines = entry.read_text("utf-8").split("\n")
    at = next(number for number, line in enumerate(lines) if line.startswith("positions:"))
    entry.write_text("\n".join([*lines[: at + 1], "colour_of_the_box: red", *lines[at + 1 :]]), "utf-8")
    capsys.readouterr()
    assert main(["build", "--root", str(small_book)]) == 1
    said = capsys.readouterr()
    assert f"{entry.relative_to(small_book)}:{at + 2}:1: error:" in said.out
    assert "[schema]" in said.out
    assert "as it was before" in said.err
    assert tree(small_book / "site") == before
    assert left_over(small_book) == []


def test_the_demo_book_builds_twice_to_the_same_bytes(demo_book: Path, site_dir: Path) -> None:
    """From two folders, by two processes whose sets are ordered otherwise, and on another day as far as they know."""
    for seed, name, zone in (("1", "one", "Asia/Tokyo"), ("2", "two", "UTC")):
        ran = subprocess.run(
            [sys.executable, "-m", "rangebook", "build", "--root", str(demo_book), "--site-dir", str(demo_book / name)],
            env={
                **os.environ,
                "PYTHONHASHSEED": seed,
                "SOURCE_DATE_EPOCH": seed + "000000000",
                "TZ": zone,
                "RANGEBOOK_STORE": "",
            },
            capture_output=True,
            text=True,
        )
        assert ran.returncode == 0, ran.stderr
    one, two = tree(demo_book / "one"), tree(demo_book / "two")
    assert one == two
    assert len(one) > 100
    # The copies lie in no repository, the book itself does: git tells what changed when, and the list of what a device keeps has its hash.
    told_by_git = {"site.json", "history/index.html", "history/changes.xml", "sw.js", "offline.json", "edition.json", "sitemap.xml"}
    own = tree(site_dir)
    assert {name: data for name, data in own.items() if name not in told_by_git} == {
        name: data for name, data in one.items() if name not in told_by_git
    }


def test_a_link_in_prose_that_leads_nowhere(small_book: Path) -> None:
    """Caught by the linter or by the build, in either case with the entry's name; the old site stays."""
    target = small_book / "site"
    build_site(checked(small_book), target)
    before = tree(target)
    entry = entry_of(small_book)
    entry.write_text(entry.read_text("utf-8") + "\nSee [the other kit](../kits/not-there.md).\n", "utf-8")
    with pytest.raises((NotCleanError, NotBuiltError)) as raised:
        build_site(checked(small_book), target)
    assert entry.name in str(raised.value)
    assert "not-there" in str(raised.value)
    assert tree(target) == before


def test_a_link_to_a_heading_that_is_not_there(small_book: Path) -> None:
    entry = entry_of(small_book)
    entry.write_text(entry.read_text("utf-8") + "\nSee [below](#no-such-heading).\n", "utf-8")
    with pytest.raises((NotCleanError, NotBuiltError), match="no-such-heading"):
        build_site(checked(small_book), small_book / "site")
    assert not (small_book / "site").exists()


def test_links_between_entries_are_followed(small_book: Path) -> None:
    entry = entry_of(small_book)
    entry.write_text(
        entry.read_text("utf-8") + "\nSee [the kit](../kits/oval-9-renewal.md) and [its plug](../connectors/oval-13.md).\n", "utf-8"
    )
    build_site(checked(small_book), small_book / "site")
    page = (small_book / "site" / "switches" / entry.stem / "index.html").read_text("utf-8")
    assert '<a href="../../kits/oval-9-renewal/">the kit</a>' in page
    assert '<a href="../../connectors/oval-13/">its plug</a>' in page


def test_prose_that_looks_like_front_matter_stays_prose(small_book: Path) -> None:
    """MkDocs would take the first lines for settings of its own, and leave them out of the page."""
    entry = entry_of(small_book)
    head = entry.read_text("utf-8").split("---\n")[1]
    entry.write_text(f"---\n{head}---\nWater: it creeps down the loom.\nTitle: not a title\n\nAnd more.\n", "utf-8")
    build_site(checked(small_book), small_book / "site")
    page = (small_book / "site" / "switches" / entry.stem / "index.html").read_text("utf-8")
    assert "Water: it creeps down the loom." in page
    assert "Title: not a title" in page


@pytest.mark.parametrize("name", [".", "entries", "entries/switches", "..", "schema/site"])
def test_the_book_itself_is_never_overwritten(small_book: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    before = tree(small_book)
    assert main(["build", "--root", str(small_book), "--site-dir", str(small_book / name)]) == 2
    assert "--site-dir" in capsys.readouterr().err
    assert tree(small_book) == before


def test_a_folder_with_something_else_in_it_is_left_alone(small_book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "thesis.txt").write_text("three years", "utf-8")
    assert main(["build", "--root", str(small_book), "--site-dir", str(mine)]) == 2
    assert "holds something that is not a site" in capsys.readouterr().err
    assert (mine / "thesis.txt").read_text("utf-8") == "three years"
    (mine / "thesis.txt").unlink()
    assert main(["build", "--root", str(small_book), "--site-dir", str(mine)]) == 0
    assert main(["build", "--root", str(small_book), "--site-dir", str(mine)]) == 0, "a site may be built anew"


FOREIGN = {
    ".git/HEAD": "ref: refs/heads/pages",
    "CNAME": "book.example.org",
    ".well-known/security.txt": "Contact: the bench",
    "robots.txt": "User-agent: *",
    "switches/notes/mine.txt": "by hand",
}


def test_what_no_build_wrote_stays(small_book: Path, tmp_path: Path) -> None:
    """In a folder that a host publishes from, before the first build and after it. What an earlier build wrote goes otherwise."""
    target = tmp_path / "published"
    for name in list(FOREIGN)[:4]:
        (target / name).parent.mkdir(parents=True, exist_ok=True)
        (target / name).write_text(FOREIGN[name], "utf-8")
    connector = small_book / "entries" / "connectors" / "oval-9.md"
    extra = connector.with_name("oval-9-other.md")
    extra.write_text(connector.read_text("utf-8").replace("id: oval-9", "id: oval-9-other"), "utf-8")
    page = target / "connectors" / extra.stem / "index.html"
    build_site(checked(small_book), target)
    (target / "switches" / "notes").mkdir()
    (target / "switches" / "notes" / "mine.txt").write_text("by hand", "utf-8")
    (target / "away").symlink_to(tmp_path)
    (target / ".git" / "HEAD").chmod(0o600)
    there = (target / ".git" / "HEAD").stat()
    assert page.is_file()
    extra.unlink()
    build_site(checked(small_book), target)
    assert not page.exists()
    assert {name: (target / name).read_text("utf-8") for name in FOREIGN} == FOREIGN
    assert (target / "away").is_symlink() and (target / "away").readlink() == tmp_path
    assert (target / ".git" / "HEAD").stat().st_ino == there.st_ino, "the very same file: what git has open is not lost"
    assert "CNAME" not in json.loads((target / "site.json").read_text("utf-8"))["files"]


@pytest.mark.parametrize("name", ["about.html", "find", "switches"])
def test_what_no_build_wrote_is_never_written_over(small_book: Path, tmp_path: Path, name: str) -> None:
    """Nor is a folder put where such a file is, nor a file where such a folder is."""
    target = tmp_path / "published"
    build_site(checked(small_book), target)
    own = json.loads((target / "site.json").read_text("utf-8"))["files"]
    first = {"about.html": "index.html", "find": "shelf/index.html", "switches": "switches"}[name]
    listed = [one for one in own if one != first and not one.startswith(f"{first}/")]
    assert len(listed) < len(own)
    (target / "site.json").write_text(json.dumps({"by": "rangebook", "version": "0", "files": listed}), "utf-8")
    before = tree(target)
    with pytest.raises(BadTargetError, match=first):
        build_site(checked(small_book), target)
    assert tree(target) == before
    assert left_over(tmp_path) == []


def test_a_file_is_no_folder(small_book: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    with pytest.raises(BadTargetError):
        mind_target(small_book, tmp_path / "file")


def test_a_root_without_entries(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["build", "--root", str(tmp_path)]) == 2
    assert "entries/" in capsys.readouterr().err


def test_a_book_may_bring_its_own_settings(small_book: Path, root: Path) -> None:
    own = (root / "mkdocs.yml").read_text("utf-8").replace("site_name: Rangebook", "site_name: The bench's book")
    (small_book / "mkdocs.yml").write_text(own.replace("  custom_dir: site_overrides\n", ""), "utf-8")
    build_site(checked(small_book), small_book / "site")
    assert "The bench&#39;s book" in (small_book / "site" / "index.html").read_text("utf-8")


def test_settings_that_cannot_be_used_say_so(small_book: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (small_book / "mkdocs.yml").write_text("site_name: x\ntheme:\n  name: nothing-like-it\nplugins: [rangebook]\n", "utf-8")
    assert main(["build", "--whole-mkdocs-yml", "--root", str(small_book)]) == 1
    assert "nothing-like-it" in capsys.readouterr().err
    (small_book / "mkdocs.yml").write_text("site_name: x\ntheme:\n  name: material\n", "utf-8")
    assert main(["build", "--whole-mkdocs-yml", "--root", str(small_book)]) == 1
    assert "does not name the plugin `rangebook`" in capsys.readouterr().err
    assert not (small_book / "site").exists()


def test_mkdocs_by_itself_is_gated_too(small_book: Path, root: Path) -> None:
    """Who runs the generator directly gets the same site, or the linter's report."""
    shutil.copy(root / "mkdocs.yml", small_book / "mkdocs.yml")
    shutil.copytree(root / "site_overrides", small_book / "site_overrides")
    command = [sys.executable, "-m", "mkdocs", "build", "-q", "-f", str(small_book / "mkdocs.yml"), "-d", str(small_book / "by-mkdocs")]
    ran = subprocess.run(command, capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
    build_site(checked(small_book), small_book / "ours")
    (small_book / "ours" / "site.json").unlink()  # MkDocs empties its folder by itself, and asks nobody
    assert tree(small_book / "by-mkdocs") == tree(small_book / "ours")
    entry_of(small_book).write_text("---\nkind: switch\n", "utf-8")
    ran = subprocess.run(command, capture_output=True, text=True)
    assert ran.returncode != 0
    assert "front-matter" in ran.stderr


# The swap


def site(folder: Path, word: str) -> Path:
    folder.mkdir()
    (folder / "index.html").write_text(word, "utf-8")
    return folder


def test_a_finished_folder_takes_the_place_of_the_old_one(tmp_path: Path) -> None:
    target = site(tmp_path / "site", "old")
    with beside(target) as made:
        (made / "index.html").write_text("new", "utf-8")
        assert (target / "index.html").read_text("utf-8") == "old"
        put_in_place(made, target)
    assert (target / "index.html").read_text("utf-8") == "new"
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_a_build_that_fails_leaves_nothing_behind(tmp_path: Path) -> None:
    target = site(tmp_path / "site", "old")
    with pytest.raises(RuntimeError), beside(target) as made:  # noqa: PT012 - the server is stopped within
        (made / "half").write_text("half", "utf-8")
        raise RuntimeError
    assert (target / "index.html").read_text("utf-8") == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_what_a_killed_build_left_is_cleared_away(tmp_path: Path) -> None:
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    target = site(tmp_path / "site", "old")
    site(tmp_path / f".site.building-{gone.pid}", "half")
    mine = site(tmp_path / f".site.building-{os.getppid()}", "someone is still at it")
    with beside(target):
        pass
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([mine.name, "site"])


def test_a_site_lost_between_two_renames_is_found_again(tmp_path: Path) -> None:
    """Where the kernel cannot exchange two folders, a kill between the renames leaves the old site under its other name."""
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    site(tmp_path / f".site.old-{gone.pid}", "old")
    with beside(tmp_path / "site"):
        pass
    assert (tmp_path / "site" / "index.html").read_text("utf-8") == "old"


def test_without_an_exchange_two_renames_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "elsewhere")
    target = site(tmp_path / "site", "old")
    put_in_place(site(tmp_path / "new", "new"), target)
    assert (target / "index.html").read_text("utf-8") == "new"
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_a_build_killed_at_any_moment_leaves_the_old_site(tmp_path: Path) -> None:
    book = tmp_path / "book"
    write(generate(12, seed=3), book)
    target, entry = book / "site", entry_of(book)
    command = [sys.executable, "-m", "rangebook", "build", "--root", str(book)]
    begun = time.monotonic()
    subprocess.run(command, check=True, capture_output=True)
    whole = time.monotonic() - begun
    before = tree(target)
    killed = 0
    for share in (0.1, 0.3, 0.5, 0.7, 0.9):
        entry.write_text(entry.read_text("utf-8") + "\nOne more line.\n", "utf-8")
        building = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(whole * share)
        building.kill()
        building.wait()
        if tree(target) == before:
            killed += 1
        else:
            # It was quicker than that, or at least the new site stood already: whole, then.
            before = tree(target)
            build_site(checked(book), tmp_path / f"at-{share}")
            assert before == tree(tmp_path / f"at-{share}")
    assert killed
    entry.write_text(entry.read_text("utf-8") + "\nAnd another.\n", "utf-8")
    assert main(["build", "--root", str(book)]) == 0
    assert tree(target) != before
    assert left_over(book) == []
