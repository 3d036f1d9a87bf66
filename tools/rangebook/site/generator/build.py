"""Book -> site in a folder: all of it or nothing."""

from __future__ import annotations

import gc
import logging
import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from mkdocs.commands.build import build as mkdocs_build
from mkdocs.exceptions import MkDocsException

from rangebook.lint.finding import Finding
from rangebook.reading.links import LinkError, refuse_links
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.pieces import Piece
from rangebook.site.generator.configuration import ConfigurationError, configuration
from rangebook.site.generator.gate import Checked
from rangebook.site.generator.writer import by_address
from rangebook.site.output import manifest
from rangebook.site.output.alone import alone_at
from rangebook.site.output.amend import amend
from rangebook.site.output.folder import Folder
from rangebook.site.output.keep import keep
from rangebook.site.output.kept import Kept, Part
from rangebook.site.output.state import changed, state
from rangebook.site.output.swap import beside, put_in_place
from rangebook.site.shared.shard import WHOLE, Shard

_LINK = re.compile(r"Doc file '(?P<file>[^']+)' contains an? (?:absolute |unrecognized relative )?link '(?P<link>[^']+)'")


class NotBuiltError(Exception):
    """The site could not be built; what was there before is as it was. The message says what to do."""


class BadTargetError(NotBuiltError):
    """The folder that the site should go into must not be replaced."""


@dataclass(frozen=True)
class Built:
    """A finished site: where it is, the linter's findings that did not keep it from being built, and what was computed for it."""

    target: Path
    pages: int
    findings: list[Finding]
    computed: Computed


def build_site(book: Checked, target: Path, whole: bool = False, shard: Shard = WHOLE) -> Built:
    """Build the site of a checked book and put it in the place of ``target`` as a whole. ``whole``: the book's own ``mkdocs.yml`` with the
    programs that it names. ``shard``: that part of the site alone, to be joined with the others.

    Raises :class:`NotBuiltError`, :class:`BadTargetError` or ``OSError``; ``target`` is then as it was before.
    """
    target = mind_target(book.loaded.root, target)
    computed = Computed(book.loaded)
    computed.shard = shard
    with alone_at(target), beside(target) as made, _minded(target):
        kept = Kept(target)
        if target.is_dir() and not kept.seen:
            manifest.foreign(target, made)  # before the work, not after it
        parts, amends = _run(computed, book.pieces, kept, made, whole)
        own = _amended(book, kept, made, parts) if amends else _replaced(book, target, made)
        kept.note(parts, amends)
    return Built(target, sum(f"/{one}".endswith("/index.html") for one in own), book.findings, computed)


def _replaced(book: Checked, target: Path, made: Path) -> Sequence[str]:
    """Have a new site in the place of what was there. Gives its files."""
    own = manifest.write(made)
    _mind_changes(book)
    keep(manifest.foreign(target, made) if target.is_dir() else [], target, made)
    put_in_place(made, target)
    return own


def _amended(book: Checked, kept: Kept, new: Path, parts: Mapping[str, Part]) -> Sequence[str]:
    """Have the new files of a site in it, and those out of it that it has no more. Gives all that it has then."""
    before, own = manifest.own_of(kept.target), sorted(by_address(parts.values()))
    manifest.refuse_clashes(own, kept.seen.keys() - before - {manifest.NAME})
    Folder(new, kept.there).text(manifest.NAME, manifest.text_of(own))
    _mind_changes(book)
    amend(kept.target, new, sorted((before & kept.seen.keys()) - set(own)))
    return own


@contextmanager
def _minded(target: Path) -> Iterator[None]:
    try:
        yield
    except manifest.NotASiteError as error:
        raise BadTargetError(f"{target} {error}: take that away, or name another folder with --site-dir") from error


def _mind_changes(book: Checked) -> None:
    """What was read may be half before and half after a change; nobody linted the two together as they now stand."""
    root = book.loaded.root
    names = changed(book.read, state(root)) if book.read is not None else []
    if names:
        first = Path(names[0])
        name = first.relative_to(root) if first.is_relative_to(root) else first
        more = f" and {len(names) - 1} more" if len(names) > 1 else ""
        raise NotBuiltError(f"{name}{more} changed while the site was being built: run it again")


def mind_target(root: Path, target: Path) -> Path:
    """The folder itself. Raises :class:`BadTargetError` where it is the book's own or a file, and where a link in the book leads there:
    what a branch holds does not say where to write."""
    root = root.resolve()
    for place in (target.absolute(), *target.absolute().parents):
        if place.resolve() == root:
            try:
                refuse_links(root, root / target.absolute().relative_to(place))
            except LinkError as error:
                raise BadTargetError(f"{error.filename}: {error.strerror}: take it away, or name another folder with --site-dir") from error
    target = target.resolve()
    if root == target or target in root.parents:
        raise BadTargetError(f"{target} holds the book itself: name a folder of its own with --site-dir")
    for kept in ("entries", "schema"):
        if target == root / kept or root / kept in target.parents:
            raise BadTargetError(f"{target} is inside {root / kept}: name a folder elsewhere with --site-dir")
    if target.is_file():
        raise BadTargetError(f"{target} is a file: name a folder with --site-dir")
    return target


def _run(computed: Computed, pieces: list[Piece] | None, kept: Kept, target: Path, whole: bool) -> tuple[Mapping[str, Part], bool]:
    """Write a site, or what is new of it. What was written for each piece, and whether it was that."""
    root = computed.loaded.root.resolve()
    with _heard() as warnings, _unhindered():
        try:
            config = configuration(root, target, whole)
            plugin = config.plugins.get("rangebook")
            if plugin is None:
                raise NotBuiltError(f"{config.config_file_path} does not name the plugin `rangebook`: add it under `plugins:`")
            plugin.computed, plugin.pieces, plugin.kept = computed, pieces, kept
            try:
                amends = not whole and plugin.again(config)
                if not amends:
                    config.plugins.on_startup(command="build", dirty=False)
                    mkdocs_build(config)
            finally:
                config.plugins.on_shutdown()
        except ConfigurationError as error:
            raise NotBuiltError(str(error)) from error
        except MkDocsException as error:
            raise NotBuiltError("\n".join([*warnings, str(error)])) from error
    if warnings:
        raise NotBuiltError("\n".join(warnings))
    return plugin.parts, amends


@contextmanager
def _heard() -> Iterator[list[str]]:
    """Everything that MkDocs complains about, instead of on the screen."""
    heard: list[str] = []

    class Hearing(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            heard.append(_plain(record.getMessage()))

    log, hearing = logging.getLogger("mkdocs"), Hearing(logging.WARNING)
    propagates, level = log.propagate, log.level
    log.addHandler(hearing)
    log.propagate = False
    log.setLevel(logging.WARNING)
    try:
        yield heard
    finally:
        log.removeHandler(hearing)
        log.propagate, log.level = propagates, level


def _plain(message: str) -> str:
    """MkDocs' words for a link that leads nowhere, in ours."""
    found = _LINK.match(message)
    return f"entries/{found['file']}: the link {found['link']} in the prose leads nowhere; mend it or take it out" if found else message


@contextmanager
def _unhindered() -> Iterator[None]:
    """The book, its verdicts and its pages live as long as the build does: looking through them for garbage again and again is
    time for nothing. What MkDocs and its templates leave behind is young, and looked for seldom."""
    gc.freeze()
    usual = gc.get_threshold()
    gc.set_threshold(100_000, 50, 1_000)
    try:
        yield
    finally:
        gc.set_threshold(*usual)
        gc.unfreeze()
