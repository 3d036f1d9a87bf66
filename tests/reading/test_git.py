"""The book at a commit, against what `git` itself checks out."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest
from tests.committing import git as run

from rangebook.reading import git
from rangebook.reading.files import MAX_BYTES, read_all

ENTRY = b"---\nkind: connector\nid: a\n---\n"


def put(root: Path, file: str, data: bytes) -> None:
    path = root / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)


@pytest.fixture(params=["", "the book/of ours"])
def root(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A book with one commit, at the top of a repository or in a folder inside it."""
    top = tmp_path / "top"
    root = top / request.param
    root.mkdir(parents=True)
    run(top, "init", "-q", "-b", "main")
    put(root, "entries/switches/b.md", b"---\nkind: switch\nid: b\n---\n")
    put(root, "entries/connectors/a.md", ENTRY)
    put(root, "entries/connectors/\xe4 b.md", ENTRY)
    put(root, "entries/connectors/deeper/c.md", ENTRY)
    put(root, "entries/notes.md", b"not an entry")
    put(root, "entries/switches/picture.jpg", b"\xff\xd8")
    put(root, "schema/circuits.json", b"{}")
    run(top, "add", "-A")
    run(top, "commit", "-q", "-m", "one")
    return root


def test_what_was_committed_is_what_the_reader_reads_there(root: Path) -> None:
    was = list(read_all(root))
    repository = git.open_repository(root)
    put(root, "entries/connectors/a.md", b"changed\n")
    put(root, "entries/connectors/new.md", b"new\n")
    (root / "entries/switches/b.md").unlink()
    base = git.default_base(repository)
    assert base.commit == run(root, "rev-parse", "HEAD")
    found = git.book_at(repository, base.commit, dict(read_all(root)))
    assert found.entries == was
    assert found.schema == {"circuits.json": b"{}"}


def test_what_is_the_same_is_not_fetched_again(root: Path) -> None:
    known = dict(read_all(root))
    found = git.book_at(git.open_repository(root), "HEAD", known)
    assert all(data is known[file] for file, data in found.entries)


def test_a_book_that_was_not_there_yet_is_empty(root: Path) -> None:
    """As in the first commit of a repository that got its book later."""
    run(root, "checkout", "-q", "--orphan", "other")
    run(root, "rm", "-rq", "--cached", ".")
    run(root, "commit", "-q", "--allow-empty", "-m", "none")
    assert git.book_at(git.open_repository(root), "HEAD", {}) == git.BookFiles([], {}, None)


def test_a_huge_file_is_cut_off_as_the_reader_does(root: Path) -> None:
    put(root, "entries/connectors/a.md", b"x" * (MAX_BYTES * 2))
    run(root, "commit", "-qam", "huge")
    found = dict(git.book_at(git.open_repository(root), "HEAD", {}).entries)
    assert found["entries/connectors/a.md"] == b"x" * (MAX_BYTES + 1)


@pytest.mark.skipif(os.name == "nt", reason="symbolic links")
def test_a_symbolic_link_is_not_taken_for_the_text_of_an_entry(root: Path) -> None:
    (root / "entries/connectors/link.md").symlink_to("a.md")
    run(root, "add", "-A")
    run(root, "commit", "-qm", "link")
    found = dict(git.book_at(git.open_repository(root), "HEAD", {}).entries)
    assert isinstance(found["entries/connectors/link.md"], OSError)


@pytest.mark.skipif(os.name == "nt", reason="symbolic links")
@pytest.mark.parametrize("link", ["schema/circuits.json", "schema"])
def test_a_linked_schema_of_a_commit_is_refused(root: Path, link: str) -> None:
    """To leave it out without a word would be to go by another list of circuits than that commit did."""
    shutil.rmtree(root / "schema", ignore_errors=True)
    (root / link).parent.mkdir(exist_ok=True)
    (root / link).symlink_to("elsewhere")
    run(root, "add", "-A")
    run(root, "commit", "-qm", "link")
    with pytest.raises(git.GitError, match=f"{link} was a symbolic link"):
        git.book_at(git.open_repository(root), "HEAD", {})


def test_the_base_is_where_the_branch_left(root: Path) -> None:
    left = run(root, "rev-parse", "HEAD")
    run(root, "checkout", "-qb", "mine")
    run(root, "commit", "-q", "--allow-empty", "-m", "mine")
    repository = git.open_repository(root)
    assert git.default_base(repository) == (left, f"{left[:10]}, the tip of main")
    run(root, "update-ref", "refs/remotes/origin/main", run(root, "rev-parse", "mine"))
    assert git.default_base(repository).words.endswith("the tip of origin/main")
    run(root, "checkout", "-q", "main")
    run(root, "commit", "-q", "--allow-empty", "-m", "on")
    assert git.default_base(repository) == (left, f"{left[:10]}, where this branch left origin/main")


def test_without_a_main_branch_it_is_the_last_commit(root: Path) -> None:
    run(root, "branch", "-qm", "trunk")
    base = git.default_base(git.open_repository(root))
    assert base == (run(root, "rev-parse", "HEAD"), f"{base.commit[:10]}, the last commit")


@pytest.mark.parametrize("name", ["nowhere", "--help", "main:entries", "", "a\0b", "HEAD~9"])
def test_a_base_that_does_not_exist_says_so(root: Path, name: str) -> None:
    with pytest.raises(git.GitError, match="there is no commit"):
        git.named_base(git.open_repository(root), name)


def test_a_tag_and_a_short_id_are_names_too(root: Path) -> None:
    run(root, "tag", "-a", "first", "-m", "first")
    head = run(root, "rev-parse", "HEAD")
    repository = git.open_repository(root)
    assert git.named_base(repository, "first") == (head, f"first ({head[:10]})")
    assert git.named_base(repository, head[:8]).commit == head


def test_no_commit_yet(tmp_path: Path) -> None:
    run(tmp_path, "init", "-q")
    with pytest.raises(git.GitError, match="no commit in this repository yet"):
        git.default_base(git.open_repository(tmp_path))


def test_not_a_repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    with pytest.raises(git.GitError, match="is not in a git repository"):
        git.open_repository(tmp_path)


def test_git_is_missing(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "")
    with pytest.raises(git.GitError, match="git is not installed"):
        git.open_repository(root)


def test_in_a_hook_git_does_not_lead_elsewhere(root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Inside a hook git sets GIT_DIR and GIT_INDEX_FILE for its own use."""
    monkeypatch.setenv("GIT_DIR", str(tmp_path / "nowhere"))
    monkeypatch.setenv("GIT_INDEX_FILE", str(tmp_path / "nowhere" / "index"))
    repository = git.open_repository(root)
    assert git.book_at(repository, git.default_base(repository).commit, {}).entries == list(read_all(root))


def test_a_repository_of_sha256(tmp_path: Path) -> None:
    try:
        run(tmp_path, "init", "-q", "--object-format=sha256")
    except subprocess.CalledProcessError:
        pytest.skip("this git knows SHA-1 only")
    put(tmp_path, "entries/connectors/a.md", ENTRY)
    run(tmp_path, "add", "-A")
    run(tmp_path, "commit", "-qm", "one")
    known = dict(read_all(tmp_path))
    found = git.book_at(git.open_repository(tmp_path), "HEAD", known)
    assert found.entries[0][1] is known["entries/connectors/a.md"]
