"""Books of other repositories at a commit: fetched by git once, and kept as plain files in the user's own folder of what is kept.

Nothing of what is fetched is run or followed: no hook, no submodule, no link, no address but those of https, ssh and files; and what is
there is what the commit says, for git reckons the name of everything that it takes in.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from rangebook.reading import git
from rangebook.store.place import FOLDER, folder

_SCHEMES = ("https://", "ssh://", "file://")
_SCP = re.compile(r"[A-Za-z0-9_.][A-Za-z0-9_.-]*@[A-Za-z0-9][A-Za-z0-9.-]*:[^:].*")
"""``git@host:path``, as git has it for ssh."""

_SETTINGS = (
    *("-c", "protocol.allow=never", "-c", "protocol.https.allow=always", "-c", "protocol.ssh.allow=always"),
    *("-c", "protocol.file.allow=always", "-c", f"core.hooksPath={os.devnull}", "-c", "fetch.fsckObjects=true"),
    *("-c", "submodule.recurse=false", "-c", "fetch.recurseSubmodules=false", "-c", "gc.auto=0", "-c", "maintenance.auto=false"),
)


_MOST_KEPT = 32
"""So many books, and as many repositories that they came from, are kept; what was not used for longest goes first."""


class Origin(NamedTuple):
    """Where a book is: the address of the repository, the full id of the commit, the folder in it, empty for its top."""

    address: str
    commit: str
    folder: str = ""

    @property
    def words(self) -> str:
        """The place for people."""
        return f"{self.address} at {self.commit[:12]}" + (f", {self.folder}" if self.folder else "")


def address_of(stated: str, near: Path | None) -> str:
    """An address as git takes it. A path counts from the folder ``near`` of a book on the disk; one that was fetched names no files of
    this machine. Raises :class:`git.GitError`."""
    if stated.startswith("-") or "::" in stated or any(sign < " " for sign in stated):
        raise git.GitError(f"{stated!r} is no address of a repository")
    if stated.startswith(("https://", "ssh://")) or _SCP.fullmatch(stated):
        return stated
    if near is None:
        raise git.GitError(f"{stated}: a layer that was fetched names others by an address of https or ssh, not by one on this machine")
    if stated.startswith("file://"):
        return stated
    if "://" in stated:
        raise git.GitError(f"{stated}: a layer is fetched from an address that begins with {', '.join(_SCHEMES)} or from a folder")
    return str(Path(os.path.normpath(near / stated)))


def inside(above: str, path: str) -> str:
    """The folder of a repository that a path from another folder of it leads to. Raises :class:`git.GitError` where it leads out."""
    steps: list[str] = []
    for step in PurePosixPath(above, path).parts:
        if step == "..":
            if not steps:
                raise git.GitError(f"{path} leads out of the repository that names it")
            steps.pop()
        elif step not in ("/", "."):
            steps.append(step)
    return "/".join(steps)


def fetch(origin: Origin) -> Path:
    """The folder with the book's files as the commit has them: as it was fetched before, or fetched now. Raises :class:`git.GitError`."""
    home = folder()
    if home is None:
        raise git.GitError(f"{origin.words}: there is no folder to keep what is fetched in; name one in the variable {FOLDER}")
    layers = home / "layers"
    layers.mkdir(mode=0o700, exist_ok=True)
    target = layers / _name("\0".join(origin))
    if target.is_dir() and not target.is_symlink():
        _used(target)
        return target
    repository = layers / f"{_name(origin.address)}.git"
    _bring(repository, origin)
    place = git.Repository(repository, f"{origin.folder}/" if origin.folder else "", "sha1")
    _put_down(git.files_of_book(place, origin.commit), target, origin)
    for kept in (target, repository):
        _used(kept)
    _make_room(layers)
    return target


def _used(place: Path) -> None:
    with suppress(OSError):
        os.utime(place)


def _make_room(layers: Path) -> None:
    """Let go of what is more than so many. Whoever asks for it again fetches it again."""
    there = [(one.lstat().st_mtime_ns, one) for one in layers.iterdir() if not one.name.startswith(".")]
    for of_git in (True, False):
        for _, old in sorted(one for one in there if (one[1].suffix == ".git") is of_git)[:-_MOST_KEPT]:
            with suppress(OSError):  # another run lets go of it as well
                # Nobody finds half of it by its name.
                shutil.rmtree(old.rename(old.with_name(f".{old.name}-{os.getpid()}")), ignore_errors=True)


def _bring(repository: Path, origin: Origin) -> None:
    """Have the commit in a repository of our own, which has nothing else and runs nothing."""
    if not repository.is_dir():
        git.run(repository.parent, ("init", "--bare", "--quiet", "--template=", "--", str(repository)))
    here = git.Repository(repository, "", "sha1")
    if git.commit_of(here, origin.commit) == origin.commit:
        return
    fetch_it = (*_SETTINGS, "fetch", "--quiet", "--no-tags", "--no-recurse-submodules")
    said = ""
    # A server may give single commits only by the name of a branch or tag: then all of these are fetched.
    for depth, what in ((("--depth=1",), (origin.commit,)), ((), ("+refs/heads/*:refs/heads/*", "+refs/tags/*:refs/tags/*"))):
        try:
            git.run(repository, (*fetch_it, *depth, "--", origin.address, *what), {"GIT_ALLOW_PROTOCOL": "https:ssh:file"})
        except git.GitError as error:
            said = said or str(error)
        if git.commit_of(here, origin.commit) == origin.commit:
            return
    why = said or "the repository has no such commit"
    raise git.GitError(
        f"the layer {origin.words} is not here yet and could not be fetched ({why}): run this once where its address can be reached, "
        "or correct the address or the commit; once fetched it is kept"
    )


def _put_down(files: Mapping[str, bytes], target: Path, origin: Origin) -> None:
    if not any(file.startswith("entries/") for file in files):
        raise git.GitError(f"{origin.words}: there is no folder entries/ with entries in it; name the book's folder with `in`")
    unfinished = Path(tempfile.mkdtemp(prefix=".", dir=target.parent))
    try:
        for file, data in files.items():
            path = unfinished / file
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
        with suppress(OSError):  # another run has just put it there
            unfinished.rename(target)
    finally:
        shutil.rmtree(unfinished, ignore_errors=True)


def _name(words: str) -> str:
    return hashlib.blake2b(words.encode(), digest_size=16).hexdigest()
