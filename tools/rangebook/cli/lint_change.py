"""``rangebook lint --fix`` and ``--changed-since``."""

from __future__ import annotations

import sys
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from rangebook.book.load import Loaded
from rangebook.cli.terminal import complain, progress, write_patch
from rangebook.cli.writing import NotWrittenError, write
from rangebook.lint.changed import answerable
from rangebook.lint.engine import has_errors, revision_findings
from rangebook.lint.finding import Finding
from rangebook.lint.linted import Linted
from rangebook.lint.patch import patch
from rangebook.lint.plan import Plan, fixable, plan
from rangebook.lint.revisions import lint_both
from rangebook.lint.rules.photo import MOST_BYTES
from rangebook.reading import git, photos
from rangebook.reading.layers import names_of
from rangebook.reading.shelf import FILE
from rangebook.reading.stack import book_at, read_all, read_shelf
from rangebook.revisions.states import States, schemas_at, two_states
from rangebook.schema.store import load_schemas
from rangebook.words.shown import shown

EXIT_CANNOT = 2

Source = bytes | OSError
Report = tuple[Loaded, Sequence[Finding]]


def run_change(root: Path, fix: bool, dry_run: bool, since: str | None) -> Report | int:
    """Mend, or look at what changed, or both: only what changed is mended then. The book and what to report, or an exit status."""
    now = dict(read_all(root))
    try:
        before = None if since is None else _before(root, since, now)
    except git.GitError as error:
        complain(str(error))
        return EXIT_CANNOT
    if fix:
        if since is None and not _strip(root, dry_run):
            return EXIT_CANNOT
        only = None if before is None else _states(root, before, now).files
        planned = plan(root, now, load_schemas(root), only=only)
        if dry_run:
            write_patch(map(patch, planned.changed))
            _tell(planned, "would be mended", [one.file for one in planned.changed])
            return 1 if has_errors(planned.before[1]) else 0
        if not _write_all(root, planned):
            return EXIT_CANNOT
        if before is None:
            return planned.after
        now = dict(read_all(root))
    assert before is not None
    states = _states(root, before, now)
    progress(f"checking {len(states.files)} files that changed, and what that breaks elsewhere ...")
    old, new = lint_both(states.old, states.new, fitters=states.fitters)
    kept = answerable(new, old, states.files)
    return states.new, sorted([*kept, *revision_findings(states.old, states.new)])


def offer(linted: Linted, findings: Sequence[Finding]) -> None:
    """Say on the error stream, if someone is there to read it, that ``--fix`` can do something about it."""
    files = fixable(linted, findings) if sys.stderr.isatty() else []
    if files:
        which = shown(files[0]) if len(files) == 1 else f"{len(files)} files"
        print(shown(f"`rangebook lint --fix` can mend something in {which}; with --dry-run it only shows it"), file=sys.stderr)


def _before(root: Path, ref: str, now: Mapping[str, Source]) -> tuple[git.BookFiles, str]:
    repository = git.open_repository(root)
    base = git.branch_base(repository, ref)
    return book_at(repository, base.commit, now), base.words


def _states(root: Path, before: tuple[git.BookFiles, str], now: Mapping[str, Source]) -> States:
    files, words = before
    layers = files.names, names_of(root)
    states = two_states(root, files.entries, now.items(), schemas_at(files, words), load_schemas(root), layers)
    shelf = read_shelf(root)
    touched = {**states.files, FILE: "changed"} if shelf != files.shelf else states.files
    return replace(states, old=replace(states.old, shelf=files.shelf), new=replace(states.new, shelf=shelf), files=touched)


def _write_all(root: Path, planned: Plan) -> bool:
    """Write what is mended; whether all of it could be."""
    written: list[str] = []
    for one in planned.changed:
        try:
            write(root, one.file, one.before, one.after)
            written.append(one.file)
        except NotWrittenError as error:
            complain(str(error))
    _tell(planned, "mended", written)
    return len(written) == len(planned.changed)


def _strip(root: Path, dry_run: bool) -> bool:
    """Take place and time out of the book's pictures; whether that could be done."""
    done = True
    for file, size, _ in photos.shelf(root):
        if not file.lower().endswith((".jpg", ".jpeg")) or size > MOST_BYTES:
            continue
        try:
            before = (root / file).read_bytes()
            after = photos.stripped(before)
            if after != before and not dry_run:
                write(root, file, before, after)
        except (OSError, NotWrittenError) as error:
            complain(str(error))
            done = False
            continue
        if after != before:
            print(shown(f"{file}: place and time {'would be' if dry_run else 'were'} taken out [photo-place]"), file=sys.stderr)
    return done


def _tell(planned: Plan, done: str, files: Collection[str]) -> None:
    """What was mended and what was not, on the error stream: the report is on the other one."""
    for one in planned.changed:
        if one.file in files:
            for note in sorted(one.notes, key=lambda note: note.mark):
                print(shown(f"{one.file}:{note.mark.line}:{note.mark.column}: {done}: {note.what} [{note.fixer}]"), file=sys.stderr)
    for left in planned.left:
        print(shown(f"{left.file}: {left.why}"), file=sys.stderr)
    count = len(files)
    print(shown(f"{count} file{'s' if count != 1 else ''} {done}" if count else "nothing to mend"), file=sys.stderr)
