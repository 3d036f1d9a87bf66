"""Write a new entry: a switch family, a connector or a kit.

On a terminal it asks for what the flags do not say, and checks each answer at once; an empty answer means that it is not known, `<`
goes back to the question before, a number takes one of the choices shown, and Ctrl-C keeps what was answered for the next time. In a
pipe, or with --no-ask, the flags are all there is. What is not known is left out, with a comment that says what to see or measure
(`rangebook lint` shows these as left-to-do); what an entry cannot do without says TODO, and the linter stops at it until it is filled
in.

Values are written as in an entry, the outermost brackets may be left out, and what is given twice is put together:

    rangebook new connector --title "Nine-way oval" --outline oval --rows "1 2 3 4 5 / 6 7 8 9" --sealed yes
    rangebook new kit --number TW-9100 --title "Plug renewal, old to new" --from oval-13 --to wedge-14 --moves "1: 1, 2: 2"
    rangebook new switch --title "Tamblin four-speed" --number TB-1 --positions "P R N D 2 1" --connector oval-13
        --pins "1: start_feed, 2: start_out" --contacts "pins: [1, 2], closed: [P, N]" --sources "kind: seen, by: bench"

A part of a family that is in the book goes into that family's file, at the end of its list; no other byte of it is touched:

    rangebook new switch --in tamblin-lever --number TB-1 --connector wedge-14 --contacts "pins: [1, 2], closed: [P, N]"

A switch may begin from one that is in the book: --from-number TB-2 writes what that one has as comments, to be uncommented as each
is seen to be the same; --same pins --same contacts say that these have been.

Never writes over a file. Exit status 0: written; 1: not written, because of what was given; 2: could not run.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from functools import partial

from rangebook.book.book import Book
from rangebook.book.load import Loaded, load
from rangebook.book.model import Family, Part
from rangebook.cli.asking import NEEDED, Asking, forget, keep, offer
from rangebook.cli.root import add_root, find_root
from rangebook.cli.terminal import complain
from rangebook.cli.writing import NotWrittenError, as_loaded, create, put
from rangebook.desk.fit import NotInBook, find_part
from rangebook.desk.new.checking import file_of, id_from, is_open_place, problems_of, taken, unknown_names
from rangebook.desk.new.compose import Draft, alike, compose, facts_like, part_lines
from rangebook.desk.new.fields import fields
from rangebook.desk.new.in_family import NoFamilyError, beside_the_part, find_family, part_fields, with_part
from rangebook.desk.new.values import ValueTextError, merged, value_from
from rangebook.desk.writing.insertion import NotInsertedError
from rangebook.lint.finding import Severity
from rangebook.lint.revisions import lint_both
from rangebook.revisions.states import amended
from rangebook.schema.check import Checker
from rangebook.schema.store import KINDS, Schemas, load_schemas
from rangebook.words.problems import problem_fix, problem_words
from rangebook.words.shown import shown

EXIT_NOT_WRITTEN = 1
EXIT_CANNOT = 2


class Given(Exception):
    """Something that was given will not do; the message says what and why."""


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``rangebook new``: a kind, and a flag for each key that the schema has for it."""
    kinds = parser.add_subparsers(dest="kind", required=True, metavar="KIND", help=", ".join(KINDS))
    schemas = load_schemas(None)
    for kind in KINDS:
        sub = kinds.add_parser(kind, help=schemas.of(kind)["description"], description=schemas.of(kind)["description"])
        for one in fields(schemas, kind):
            if one.key not in ("allow", "photos"):
                flag = f"--{one.key.replace('_', '-')}"
                about = ". ".join(filter(None, (one.description.rstrip("."), one.expected))).replace("%", "%%")
                sub.add_argument(flag, dest=f"field_{one.key}", action="append", metavar="TEXT", help=about)
        if kind == "switch":
            sub.add_argument("--in", dest="family", metavar="FAMILY", help="add the part to this family of the book, by its id or title")
            sub.add_argument("--from-number", metavar="NUMBER", help="begin from a part that is in the book")
            sub.add_argument(
                "--same",
                action="append",
                default=[],
                choices=alike(schemas),
                help="with --from-number: this has been seen to be the same on the new one; again for each",
            )
        sub.add_argument("--no-ask", action="store_true", help="ask nothing, also on a terminal")
        add_root(sub)


def run(args: argparse.Namespace) -> int:
    """0: written; 1: not written, because of what was given; 2: could not run."""
    root = find_root(args.root)
    loaded = load(root)
    schemas, book = loaded.schemas, loaded.book
    kept_as = again = args.kind
    asks = not args.no_ask and sys.stdin.isatty() and sys.stdout.isatty()
    try:
        family = _family(args, book)
        draft = _draft(args, book, schemas)
        if family:
            kept_as, again = f"{args.kind}-in-{family.id}", f"{args.kind} --in {family.id}"
            _of_the_part_alone(draft, family, schemas)
        asked = part_fields(schemas) if family else fields(schemas, args.kind)
        if asks:
            offer(root, draft, kept_as)
            against = partial(_against_part, loaded, family) if family else partial(_against_draft, loaded)
            Asking(draft, book, schemas, against, {"mount": list(family.mounts)} if family else {}).ask_all(asked)
        missing = [key for key in NEEDED if key not in draft.values and any(one.key == key for one in asked)]
        if missing:
            complain(f"missing: {', '.join(f'--{key}' for key in missing)}; `rangebook new {args.kind} --help` shows all that can be said")
            return EXIT_CANNOT
        if not family:
            draft.values.setdefault("id", id_from(draft.values["title"]))
            if not draft.values["id"]:
                raise Given(f"--title {draft.values['title']}: no name for a file can be made of it; state one with --id")
    except Given as error:
        complain(str(error))
        return EXIT_NOT_WRITTEN
    except (EOFError, KeyboardInterrupt):
        print()
        kept = asks and keep(root, draft, kept_as)
        complain(f"stopped; nothing was written{f'. What was answered is kept: `rangebook new {again}` offers it' if kept else ''}")
        return EXIT_NOT_WRITTEN
    status = _finish_in(loaded, draft, family) if family else _finish(loaded, draft)
    if asks:
        forget(root, kept_as) if status == 0 else keep(root, draft, kept_as)
    return status


def _family(args: argparse.Namespace, book: Book) -> Family | None:
    """The family that the part is to go into. Raises :class:`Given`."""
    if getattr(args, "family", None) is None:
        return None
    try:
        return find_family(book, args.family)
    except NoFamilyError as error:
        raise Given(f"--in: {error}") from error


def _of_the_part_alone(draft: Draft, family: Family, schemas: Schemas) -> None:
    """Leave the family's own facts to its file. Raises :class:`Given` where one of them was stated."""
    beside = beside_the_part(draft.values, schemas)
    if beside:
        raise Given(f"--{beside[0].replace('_', '-')} is of the whole family: with --in, change it in {family.entry.file} by hand")
    draft.like = {key: value for key, value in draft.like.items() if not beside_the_part([key], schemas)}
    if draft.like.get("mount") not in family.mounts:
        draft.like.pop("mount", None)


def _finish_in(loaded: Loaded, draft: Draft, family: Family) -> int:
    path = loaded.root / family.entry.file
    known = {"number": draft.values["number"]}
    try:
        before = as_loaded(loaded, family.entry.file)
        after = with_part(family, before, draft, loaded.schemas, loaded.book.own_layer)
        against = list(taken(draft.kind, known, loaded.book)) or list(_against(loaded, family.entry.file, after.decode("utf-8")))
        if against:
            return _refuse(against, "\n".join([*part_lines(draft, loaded.schemas), ""]))
        put(loaded.root, family.entry.file, before, after)
    except NotInsertedError as error:
        return _refuse([f"{family.entry.file}: {error}; add the part by hand"], "\n".join([*part_lines(draft, loaded.schemas), ""]))
    except (NotWrittenError, OSError) as error:
        return _refuse([str(error)], "\n".join([*part_lines(draft, loaded.schemas), ""]))
    print(shown(f"Added to {path}"))
    _tell_next("\n".join(part_lines(draft, loaded.schemas)), draft)
    return 0


def _refuse(against: Sequence[str], text: str) -> int:
    for words in against:
        complain(words)
    complain("nothing was written. This is what it would have been:")
    sys.stdout.write(text)
    return EXIT_NOT_WRITTEN


def _finish(loaded: Loaded, draft: Draft) -> int:
    text = compose(draft, loaded.schemas)
    file = file_of(draft.kind, draft.values["id"])
    root = loaded.root
    against = list(taken(draft.kind, draft.values, loaded.book)) or list(_against(loaded, file, text))
    if against:
        return _refuse(against, text)
    try:
        create(root, file, text.encode("utf-8"))
    except NotWrittenError as error:
        complain(str(error))
        sys.stdout.write(text)
        return EXIT_NOT_WRITTEN
    print(shown(f"Written: {root / file}"))
    _tell_next(text, draft)
    return 0


def _tell_next(text: str, draft: Draft) -> None:
    marked = sum("TODO" in line for line in text.split("\n"))
    if marked:
        print(shown(f"{marked} lines in it are marked TODO: fill in what you can, and take out what nobody will."))
    fit = [f'rangebook fit "{draft.values["number"]}"'] if draft.kind == "switch" else []
    print(shown(f"Then: {', '.join(['rangebook lint', *fit, 'rangebook impact'])}"))


def _against(loaded: Loaded, file: str, text: str) -> Iterator[str]:
    """What keeps the entry from being written: what is wrong in it, and errors that the book would get by it."""
    problems = [] if loaded.book.layers else problems_of(text, file, Checker(loaded.schemas))
    if problems:
        yield from (f"{problem_words(one)}; {problem_fix(one)}" for one in problems)
        return
    states = amended(loaded, {file: text.encode("utf-8")})
    old, new = lint_both(states.old, states.new, fitters=states.fitters)
    had = {one.identity for one in old}
    lines = text.split("\n")
    for one in new:
        if one.severity is Severity.ERROR and one.identity not in had and not (one.file == file and is_open_place(lines, one.line)):
            where = "" if one.file == file else f"{one.file}:{one.line}: "
            yield f"{where}{one.message}; {one.fix} [{one.rule}]"


def _against_draft(loaded: Loaded, tried: Draft) -> Iterator[str]:
    """The same of a draft that is not done: under an id that no entry has."""
    unlike = Draft(tried.kind, {**tried.values, "id": _UNLIKE})
    return _against(loaded, file_of(tried.kind, _UNLIKE), compose(unlike, loaded.schemas))


def _against_part(loaded: Loaded, family: Family, tried: Draft) -> Iterator[str]:
    """The same of a part that goes into a family of the book."""
    try:
        after = with_part(family, as_loaded(loaded, family.entry.file), tried, loaded.schemas, loaded.book.own_layer)
    except (NotInsertedError, NotWrittenError, OSError):
        return  # which is told where it is written
    yield from _against(loaded, family.entry.file, after.decode("utf-8"))


_UNLIKE = "zz-draft-of-new"


def _draft(args: argparse.Namespace, book: Book, schemas: Schemas) -> Draft:
    """What the flags say. Raises :class:`Given`."""
    draft = Draft(args.kind)
    for one in fields(schemas, args.kind):
        for text in getattr(args, f"field_{one.key}", None) or ():
            try:
                value = value_from(text, one, schemas)
            except ValueTextError as error:
                raise Given(f"--{error}") from error
            for words in unknown_names(one, value, book, schemas):
                raise Given(f"--{one.key.replace('_', '-')}: {words}")
            draft.values[one.key] = merged(draft.values[one.key], value) if one.key in draft.values else value
    if getattr(args, "same", None) and not args.from_number:
        raise Given("--same says that something is as on another part: name that one with --from-number")
    if getattr(args, "from_number", None):
        part = _part(book, args.from_number)
        facts = facts_like(book, part, schemas)
        for key in args.same:
            if key not in facts:
                raise Given(f"--same {key}: the book does not say it of {part.number}")
            draft.values.setdefault(key, facts[key])
        draft.like = {key: value for key, value in facts.items() if key not in draft.values}
        draft.like_number = part.number
    return draft


def _part(book: Book, number: str) -> Part:
    try:
        return find_part(book, number)
    except NotInBook as error:
        near = f"; the nearest numbers: {', '.join(error.nearest)}" if error.nearest else ""
        raise Given(f"--from-number: {error}{near}") from error
