"""What a change does to every answer that the book gives: of the working tree, or between two commits.

Compares the book at OLD (a branch, tag or commit; left out: where this branch left origin/main, else main, else the last
commit) with the book as it lies in the folder, saved but not committed changes and new files with it; or, where NEW is named,
with the book at NEW: then git's objects alone are read, and a bare repository will do. Told are, first of all, what touches a
person (torque, setting, cautions, wires of safety circuits, what is no longer withdrawn) and verdicts to look at for safety; then
each vehicle that is told something else, facts and verdicts that changed, with the old and the new reasons; published numbers that
are gone; where the
makers' chains end; findings that came and went; pages touched. An entry that cannot be read as it is, is named, and what it said is
no longer known.

Exit status 0: compared, whatever came of it; 2: could not run (no such commit, not a git repository, git is missing).

JSON, where ends are [{number, in_book, status, loops, needs}] and a side is {state: judged|not_in_book|no_vehicle|broken, verdict,
needs, moves, unused_pins, reasons: [{check, text}], safety: [text]}:
  {base, commit, safety: how many verdicts to look at first, first: how many facts, applications and verdicts,
   files: [{file, how, broken, was_broken, problems}], schema_changed,
   circuits: [{family, what: part|plug, name, old, new}],
   applications: [{family, vehicle, years, engine, drive, gearbox, change: added|gone|changed, safety: bool,
                   old: {family, plug, came_with, lever, years, seat, first, verdict, needs, moves}, new: the same}],
   facts: [{file, line, kind, entry, at, key, old, new, safety: bool}],
   verdicts: [{family, plug, came_with, positions, vehicles, number, part_family, change: word|order|reasons, safety: [why],
               old: side, new: side}],
   gone: [{number, kind: part|kit, entry, file}],
   chains: [{number, family, broken, old: ends, new: ends}], findings: {came: [...], went: [...]}, pages: [{kind, id, url, why}]}
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from rangebook.book.index import Index, digest_of, with_index
from rangebook.cli.at import find_repository
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain, paint, print_json, progress
from rangebook.desk.impact.data import as_data
from rangebook.desk.impact.markdown import as_markdown
from rangebook.desk.impact.text import as_lines
from rangebook.lint.again import erring_elsewhere, goes_by_errors
from rangebook.lint.engine import erring
from rangebook.lint.piece import begin
from rangebook.lint.revisions import lint_both
from rangebook.reading import garbage, git
from rangebook.reading.layers import KEY, names_of
from rangebook.reading.stack import book_at, read_all
from rangebook.revisions.around import states_around
from rangebook.revisions.report import Impact, impact, nothing
from rangebook.revisions.states import Source, States, schemas_at, schemas_over, two_states
from rangebook.schema.store import Schemas, load_schemas
from rangebook.site.shared.urls import connector_url, family_url, kit_url

EXIT_CANNOT = 2

URLS = {"switch": family_url, "connector": connector_url, "kit": kit_url}


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook impact``."""
    parser.add_argument("base", metavar="OLD", nargs="?", help="the commit, branch or tag to compare with")
    parser.add_argument("new", metavar="NEW", nargs="?", help="the commit, branch or tag that is compared; left out: the folder as it is")
    parser.add_argument("--format", choices=("text", "json", "markdown"), default="text", help="how the report is written (text)")
    add_root(parser)


def run(args: argparse.Namespace) -> int:
    """0: compared; 2: could not run."""
    try:
        report = _of_commits(args) if args.new is not None else _of_folder(args)
    except git.GitError as error:
        complain(str(error))
        return EXIT_CANNOT
    if args.format == "json":
        print_json(as_data(report, URLS))
    elif args.format == "markdown":
        sys.stdout.write(as_markdown(report, URLS))
    else:
        for style, text in as_lines(report, URLS):
            print(paint(text, style))
    return 0


def _of_folder(args: argparse.Namespace) -> Impact:
    root = find_root(args.root)
    repository = git.open_repository(root)
    base = git.named_base(repository, args.base) if args.base is not None else git.default_base(repository)
    progress(f"comparing {root / 'entries'} with {base.words} ...")

    def work(index: Index | None) -> Impact:
        if index is not None and index.refresh():
            index.keep()
            if (found := impact_around(index, repository, base)) is not None:
                return found
            index = None
        new = list(read_all(root))
        old = book_at(repository, base.commit, dict(new))
        schemas = schemas_at(old, base.words), load_schemas(root)
        report, states = _compared(root, (old.entries, new), schemas, (old.names, names_of(root)), base)
        if index is not None and states is not None:
            begin(index, states.new, {file: digest_of(data) for file, data in new})
            index.keep()
        return report

    # What layers say lies in other folders and commits: of these the whole is compared.
    if names_of(root) or KEY.encode() in git.settings_at(repository, base.commit):
        return work(None)
    return with_index(root, work) or work(None)


def impact_around(index: Index, repository: git.Repository, base: git.Base, today: date | None = None) -> Impact | None:
    """The report on what has changed since a commit, by all that hangs together with it; ``None`` where that has to be the whole book.
    Raises :class:`git.GitError` and ``SchemaError``."""
    today = today or date.today()
    found = git.differing(repository, base.commit, index.blobs())
    if found is None or schemas_over(load_schemas(None), found.schema, base.words).files != index.schemas.files:
        return None
    if not found.before:
        return nothing(base.words, base.commit)
    states = states_around(index, found.before, lambda files: erring_elsewhere(index, files, today))
    if states is None:
        return None
    old, new = lint_both(states.old, states.new, today, states.fitters)
    files = {entry.file for loaded in (states.old, states.new) for entry in loaded.entries}
    if erring(old) != erring(new) and goes_by_errors(index, files):
        return None
    return impact(states, base.words, base.commit, old, new)


def _of_commits(args: argparse.Namespace) -> Impact:
    """By git's objects alone: nothing of a working tree is looked at."""
    root, repository = find_repository(args.root, args.new)
    base, now = git.named_base(repository, args.base), git.named_base(repository, args.new)
    progress(f"comparing {now.words} with {base.words} ...")
    new = book_at(repository, now.commit, {})
    old = book_at(repository, base.commit, dict(new.entries))
    schemas = schemas_at(old, base.words), schemas_at(new, now.words)
    return _compared(root, (old.entries, new.entries), schemas, (old.names, new.names), base)[0]


def _compared(
    root: Path,
    files: tuple[Sequence[Source], Sequence[Source]],
    schemas: tuple[Schemas, Schemas],
    layers: tuple[tuple[str, ...], tuple[str, ...]],
    base: git.Base,
) -> tuple[Impact, States | None]:
    """The earlier book and the one now, each pair in this order."""
    if files[0] == files[1] and schemas[0].files == schemas[1].files:
        return nothing(base.words, base.commit), None
    with garbage.put_off():
        states = two_states(root, *files, *schemas, layers)
        found = lint_both(states.old, states.new, fitters=states.fitters)
        return impact(states, base.words, base.commit, *found), states
