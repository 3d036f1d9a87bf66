"""The book as it stood at a commit: which entries and schema files there were, and their bytes. Nothing is checked out.

Git is asked as a command, one process for the list of files and one for their bytes. What the working tree has under the
same name with the same bytes is not fetched again.
"""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

from rangebook.reading.blobs import blob_id
from rangebook.reading.files import FOLDERS, MAX_BYTES
from rangebook.reading.shelf import FILE

MAIN_BRANCHES = ("origin/main", "main")
"""What a change is measured against where nothing else is said: the first of these that there is."""

SETTINGS = "book.yml"
"""The file in which a book says what it is."""

MOST_OF_PICTURE = 8_000_000

_DONE = {"A": "added", "D": "removed"}

_SYMLINK, _SUBMODULE = "120000", "160000"

# In a hook git sets these for its own use; they would lead away from the folder that was asked for.
_LEFT_OUT = ("GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX")


class GitError(Exception):
    """Git cannot say what was asked for; the message tells why and what to do."""


@dataclass(frozen=True, slots=True)
class Repository:
    """A book's folder inside a repository. ``prefix`` is the way there from the repository's top: empty, or it ends in ``/``."""

    root: Path
    prefix: str
    hash_name: str


class Base(NamedTuple):
    """A commit to compare with: its full id, and how it came to be the one in words."""

    commit: str
    words: str


class BookFiles(NamedTuple):
    """``entries``: path relative to the book's root (with ``/``) and bytes, or the error that reading it gave, in the same order
    as :func:`rangebook.reading.files.read_all`; ``schema``: file name and bytes; ``shelf``: the stock list, if there was one. Of a book of
    several layers ``names`` are those of the layers, the lowest first, ``schema`` is the lowest one's, and ``above`` has of each other its
    name and its schema files."""

    entries: list[tuple[str, bytes | OSError]]
    schema: dict[str, bytes]
    shelf: bytes | OSError | None = None
    names: tuple[str, ...] = ()
    above: tuple[tuple[str, dict[str, bytes]], ...] = ()


def open_repository(root: Path) -> Repository:
    """The repository that ``root`` lies in. Raises :class:`GitError` where there is none or git is not installed."""
    try:
        found = _git(root, "rev-parse", "--show-prefix", "--git-dir").split("\n")
    except GitError as error:
        if "not a git repository" in str(error):
            raise GitError(f"{root} is not in a git repository, so there is no earlier state to compare with") from None
        raise
    try:
        name = _git(root, "rev-parse", "--show-object-format").strip()
    except GitError:
        name = "sha1"  # git before 2.25 knows no other
    return Repository(root, found[0], name)


def book_in(repository: Repository, commit: str) -> Repository:
    """The repository with the place of the book in the tree of a commit, where no folder shows it: at the top, or the one folder that has
    ``entries/`` with folders of entries in it. Raises :class:`GitError` where there is none, or more than one."""
    wanted = {f"entries/{name}" for name in FOLDERS.values()}
    found = set()
    for path in _git(repository.root, "ls-tree", "-r", "-d", "-z", "--name-only", "--full-tree", commit).split("\0"):
        if "/".join(path.split("/")[-2:]) in wanted:
            found.add("".join(f"{folder}/" for folder in path.split("/")[:-2]))
    if "" in found:
        return replace(repository, prefix="")
    if len(found) == 1:
        return replace(repository, prefix=found.pop())
    if not found:
        raise GitError(f"{commit[:12]} has no folder entries/ with entries in it, so there is no book to compare")
    raise GitError(f"{commit[:12]} has several books ({', '.join(sorted(found))}); go into the one that is meant, or name it with --root")


def default_base(repository: Repository) -> Base:
    """Where this branch left ``origin/main``, else ``main``; without either the last commit. Raises :class:`GitError`."""
    head = _commit(repository, "HEAD")
    if head is None:
        raise GitError("there is no commit in this repository yet, so there is nothing to compare with")
    for name in MAIN_BRANCHES:
        if _commit(repository, name) is None:
            continue
        try:
            common = _git(repository.root, "merge-base", "HEAD", name).strip()
        except GitError:  # nothing in common, or not all of it is here
            continue
        words = f"the tip of {name}" if common == _commit(repository, name) else f"where this branch left {name}"
        return Base(common, f"{common[:10]}, {words}")
    return Base(head, f"{head[:10]}, the last commit")


def named_base(repository: Repository, name: str) -> Base:
    """The commit that a branch, tag or id names. Raises :class:`GitError` if there is none."""
    commit = _commit(repository, name)
    if commit is None:
        raise GitError(
            f"there is no commit `{name}` here: name a branch, a tag or a commit. "
            "If it is on the server only, fetch it first (`git fetch origin`; in a shallow copy `git fetch --unshallow`)"
        )
    return Base(commit, commit[:10] if commit.startswith(name) else f"{name} ({commit[:10]})")


def branch_base(repository: Repository, name: str) -> Base:
    """The commit at which this branch left another one: the newest that both have. Raises :class:`GitError` if there is none."""
    named = named_base(repository, name)
    try:
        common = _git(repository.root, "merge-base", "HEAD", named.commit).strip()
    except GitError:
        raise GitError(
            f"this branch and `{name}` have no commit in common here; in a shallow copy fetch the rest first (`git fetch --unshallow`)"
        ) from None
    return named if common == named.commit else Base(common, f"{common[:10]}, where this branch left {name}")


class Commit(NamedTuple):
    """One commit that changed entries: its full id, when it was made (RFC 3339, with its offset), the first line of its message, and what
    it did to each entry file (relative to the book's root): ``added``, ``changed`` or ``removed``. A renamed file is both of these."""

    id: str
    when: str
    subject: str
    files: tuple[tuple[str, str], ...]


def history(repository: Repository, most: int) -> list[Commit]:
    """The last commits that changed entries, the newest first, at most so many; merges, which change nothing themselves, are left out.

    Empty where nothing was committed yet. Raises :class:`GitError`.
    """
    if _commit(repository, "HEAD") is None:
        return []
    form = "--format=\x01%H\x02%cI\x02%s"
    words = ("log", "-z", "--no-merges", "--no-renames", "--no-show-signature", "--name-status", form, f"--max-count={most}", "HEAD")
    pieces = iter(_git(repository.root, *words, "--", "entries/").split("\0"))
    found: list[Commit] = []
    files: list[tuple[str, str]] = []
    for piece in pieces:
        piece = piece.lstrip("\n")
        if piece.startswith("\x01"):
            name, when, subject = piece[1:].split("\x02", 2)
            files = []
            found.append(Commit(name, when, subject, ()))
        elif piece:
            file = next(pieces).removeprefix(repository.prefix)
            if _is_ours(file):
                files.append((file, _DONE.get(piece[0], "changed")))
                found[-1] = found[-1]._replace(files=tuple(files))
    return [one for one in found if one.files]


def book_at(repository: Repository, commit: str, known: Mapping[str, bytes | OSError]) -> BookFiles:
    """The entries and schema files of the book at a commit.

    ``known`` are files whose bytes are at hand already, by path relative to the book's root: where the commit has the very
    same bytes under the same name, that object is given back. Raises :class:`GitError`, also where the schema or a whole folder was a link:
    what it would have said is not known.
    """
    listed = _listed(repository, commit)
    own = {file: blob_id(data, repository.hash_name) for file, data in known.items() if isinstance(data, bytes) and file in listed}
    wanted = dict.fromkeys(blob for file, (mode, blob) in listed.items() if mode != _SYMLINK and own.get(file) != blob)
    fetched = _blobs(repository, wanted)
    entries: list[tuple[str, bytes | OSError]] = []
    schema = {}
    shelf: bytes | OSError | None = None
    for file, (mode, blob) in listed.items():
        data: bytes | OSError
        if mode == _SYMLINK:
            data = OSError(0, "it was a symbolic link in that commit")
        elif blob in fetched:
            data = fetched[blob]
        else:
            data = known[file]
        if file == FILE:
            shelf = data
        elif file.startswith("entries/"):
            entries.append((file, data))
        elif isinstance(data, bytes):
            schema[file.removeprefix("schema/")] = data
    return BookFiles(entries, schema, shelf)


class Differing(NamedTuple):
    """``before``: what a commit had of each entry that is not the same now, ``None`` where it had none; ``schema`` as in
    :class:`BookFiles`."""

    before: dict[str, bytes | OSError | None]
    schema: dict[str, bytes]


def differing(repository: Repository, commit: str, blobs: Mapping[str, str]) -> Differing | None:
    """The entries that are not as they were in a commit. ``blobs`` are the names that git has for the bytes of all entries as they are now,
    by file. ``None`` where they cannot be held against each other. Raises :class:`GitError`."""
    listed = _listed(repository, commit)
    if repository.hash_name != "sha1" or any(mode == _SYMLINK for mode, _ in listed.values()):
        return None
    before = {file: blob for file, (_, blob) in listed.items() if file.startswith("entries/")}
    schema = {file.removeprefix("schema/"): blob for file, (_, blob) in listed.items() if file.startswith("schema/")}
    asked = {file: before.get(file) for file in {**before, **blobs} if before.get(file) != blobs.get(file)}
    fetched = _blobs(repository, dict.fromkeys([*filter(None, asked.values()), *schema.values()]))
    return Differing(
        {file: None if blob is None else fetched[blob] for file, blob in asked.items()},
        {file: fetched[blob] for file, blob in schema.items()},
    )


def _listed(repository: Repository, commit: str) -> dict[str, tuple[str, str]]:
    """Path relative to the book's root -> mode and blob, of entries and schema files, in the order of the reader."""
    places = [f"{repository.prefix}{name}" for name in ("entries", "schema", FILE)]
    text = _git(repository.root, "ls-tree", "-r", "-z", "--full-tree", commit, "--", *places)
    found = {}
    for line in filter(None, text.split("\0")):
        facts, path = line.split("\t", 1)
        mode, _, blob = facts.split(" ")
        file = path.removeprefix(repository.prefix)
        if mode == _SYMLINK and (file in ("entries", "schema") or file.startswith("schema/")):
            raise GitError(f"{file} was a symbolic link in {commit[:12]}, and links are not followed")
        if mode != _SUBMODULE and _is_ours(file):
            found[file] = mode, blob
    return dict(sorted(found.items(), key=lambda item: item[0].split("/")))


def _is_ours(file: str) -> bool:
    parts = file.split("/")
    if file == FILE:
        return True
    if parts[0] == "schema":
        return len(parts) == 2 and parts[1].endswith(".json")
    return len(parts) == 3 and parts[1] in FOLDERS.values() and parts[2].endswith(".md")


def settings_at(repository: Repository, commit: str) -> bytes:
    """What the book said of itself at a commit; empty where it did not."""
    text = _git(repository.root, "ls-tree", "-z", "--full-tree", commit, "--", f"{repository.prefix}{SETTINGS}")
    mode, _, blob = text.split("\t", 1)[0].split(" ") if text else ("", "", "")
    return _blobs(repository, [blob])[blob] if mode.startswith("100") else b""


def has_book(repository: Repository, commit: str) -> bool:
    """Whether there was a book at the repository's place in a commit."""
    return bool(_git(repository.root, "ls-tree", "-z", "--full-tree", commit, "--", f"{repository.prefix}entries"))


def files_of_book(repository: Repository, commit: str) -> dict[str, bytes]:
    """Every file of the book at a commit that anything is read from, its settings and pictures with it, by its path from the book's root.
    Raises :class:`GitError`, also where one of them was a link."""
    text = _git(repository.root, "ls-tree", "-r", "-z", "--full-tree", commit, "--", *([repository.prefix] if repository.prefix else ["."]))
    blobs: dict[str, str] = {}
    for line in filter(None, text.split("\0")):
        facts, path = line.split("\t", 1)
        mode, _, blob = facts.split(" ")
        file = path.removeprefix(repository.prefix)
        wanted = _is_ours(file) or file == SETTINGS or _is_picture(file)
        if mode == _SYMLINK and (wanted or file in ("entries", "schema") or file.startswith("entries/")):
            raise GitError(f"{file} was a symbolic link in {commit[:12]}, and links are not followed")
        if wanted and mode != _SUBMODULE and not any(sign in file for sign in "\\:") and ".." not in file.split("/"):
            blobs[file] = blob
    fetched = _blobs(repository, dict.fromkeys(blobs.values()), MOST_OF_PICTURE)
    return {file: fetched[blob] for file, blob in blobs.items()}


def _is_picture(file: str) -> bool:
    parts = file.split("/")
    return len(parts) == 5 and parts[0] == "entries" and parts[1] in FOLDERS.values() and parts[2] == "photos"


def _blobs(repository: Repository, wanted: Iterable[str], most: int = MAX_BYTES) -> dict[str, bytes]:
    """The bytes of blobs by their ids, each cut off behind what the reader refuses anyway."""
    asked = "".join(f"{blob}\n" for blob in wanted)
    if not asked:
        return {}
    data = _run(repository.root, ("cat-file", "--batch"), asked.encode("ascii"))
    found, at = {}, 0
    while at < len(data):
        end = data.index(b"\n", at)
        blob, kind, *size = data[at:end].decode("ascii").split(" ")
        if kind != "blob":
            raise GitError(f"git has not got {blob}, which the commit names: this copy of the repository is not whole; fetch it anew")
        start, length = end + 1, int(size[0])
        found[blob] = data[start : start + min(length, most + 1)]
        at = start + length + 1
    return found


def commit_of(repository: Repository, name: str) -> str | None:
    """The full id of the commit that a name means; ``None`` where there is none."""
    return _commit(repository, name)


def _commit(repository: Repository, name: str) -> str | None:
    try:
        return _git(repository.root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{name}^{{commit}}").strip() or None
    except GitError:
        return None


def run(root: Path, command: Sequence[str], more: Mapping[str, str] = MappingProxyType({})) -> None:
    """Run a command of git in a folder, with ``more`` in its environment. Raises :class:`GitError`."""
    _run(root, command, more=more)


def _git(root: Path, *command: str) -> str:
    return _run(root, command).decode("utf-8", "surrogateescape")


def _run(root: Path, command: Sequence[str], given: bytes = b"", more: Mapping[str, str] = MappingProxyType({})) -> bytes:
    environment = {key: value for key, value in os.environ.items() if key not in _LEFT_OUT}
    environment |= {"LC_ALL": "C", "GIT_OPTIONAL_LOCKS": "0", "GIT_TERMINAL_PROMPT": "0", **more}
    try:
        done = subprocess.run(
            ("git", "--literal-pathspecs", *command), cwd=root, input=given, capture_output=True, env=environment, check=False
        )
    except FileNotFoundError:
        raise GitError("git is not installed or not on the path; an earlier state of the book cannot be read without it") from None
    except (OSError, ValueError) as error:  # a NUL in a name
        raise GitError(f"git cannot be run: {error}") from None
    if done.returncode:
        said = done.stderr.decode("utf-8", "replace").strip() or f"exit status {done.returncode}"
        name = next((one for at, one in enumerate(command) if not one.startswith("-") and command[at - 1 : at] != ("-c",)), "")
        raise GitError(f"git {name}: {said}")
    return done.stdout
