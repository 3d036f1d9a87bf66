"""Make odd books that lint cleanly and take each through fit, prove, look and impact, and a few through build: nothing may be raised.

    .venv/bin/python benchmarks/lint_clean.py --books 5000
    .venv/bin/python benchmarks/lint_clean.py --books 200 --demo --builds 10
    .venv/bin/python benchmarks/lint_clean.py --books 5000 --together 100

A book begins as the linter's small example, or with ``--demo`` as the demo book. Values are put in place of others, such as blanks alone,
very long texts and names, the year 9999, numbers that break file names, figures at the end of what is allowed. What lints without an
error is kept and changed further; what does not is let go of. The day that the linter looks at it is an odd one too. The same seed gives
the same books.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import tempfile
import time
import traceback
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from pathlib import Path

from rangebook.book.load import Loaded, load_texts
from rangebook.cli.impact import URLS
from rangebook.desk.answer import seat_answer
from rangebook.desk.fit import as_data as fit_data
from rangebook.desk.fit import fit
from rangebook.desk.fit_lines import as_lines as fit_lines
from rangebook.desk.impact.data import as_data as impact_data
from rangebook.desk.impact.markdown import as_markdown
from rangebook.desk.impact.text import as_lines
from rangebook.desk.look import look
from rangebook.desk.prove import proof_lines, prove
from rangebook.fitting.fitter import Fitter
from rangebook.lint.engine import has_errors, lint
from rangebook.lint.examples import base_book
from rangebook.lint.linted import Linted
from rangebook.lint.reports import FORMATS, writer
from rangebook.lint.revisions import lint_both
from rangebook.revisions.report import impact
from rangebook.revisions.states import two_states
from rangebook.schema.store import load_schemas

ROOT = Path(__file__).resolve().parents[1]
SCHEMAS = load_schemas()

Files = dict[str, bytes]

DAYS = (date(2026, 6, 1), date.max, date.min, date(2024, 2, 29), date(9999, 12, 30))

TEXTS = (
    *('" "', '"\u00a0"', '"\u2003\u3000"', '"."', '"-"', '"0"', '"null"', '"%s {} {0} %(x)s"', '"{{ x }} {% y %}"', '"<b>&amp;</b>"'),
    *(
        '"[a](b) ![c](d) `e` *f* | g"',
        '"\u00c5\u0301\u0301\u0301"',
        '"\U0001f527\U0001f527"',
        '"\u05d0\u05d1"',
        "'it''s'",
        '"\\\\ / : ? #"',
    ),
)
LENGTHS = (100, 200, 255, 399, 400, 3999, 4000)
YEARS = ("9999", "9999-", "1000-9999", "2999-1000", "1000", "1999-2000", "2009-")
DATES = ("9999-12-31", "1000-01-01", "2024-02-29", "2023-02-29", "1999-12-31")
MONTHS = ("9999-12", "9999", "1000-01", "1000")
FIGURES = ("0", "1", "-1", "1e-99", "1e99", "1e18", "999999999999999999", "0.1", "360", "-360", "1e-17", "5e-324", "180", "0.001")
NUMBERS = (
    "A/../../B",
    "../A",
    "CON",
    "a",
    "0",
    "%00A",
    "A?B#C",
    "A\\B",
    "A B  C",
    "A.",
    ".A",
    "\u00c4\u00c4A",
    "A&amp;B",
    "__proto__",
    "A*B|C",
)
LABELS = ("0", "00", "AAAA", "zzzz", "9999", "a1")

_VALUE = re.compile(r"""(?P<key>[a-z_]+): (?P<value>"[^"\n]*"|[^\s,{}\[\]"][^,{}\[\]"\n]*)""")


class Broken(AssertionError):
    """A book that lints cleanly and broke something; ``files`` is the book."""

    def __init__(self, files: Files, what: str) -> None:
        super().__init__(what)
        self.files = files


def start(demo: bool = False) -> Files:
    """The book that all others are made from."""
    if not demo:
        return {file: text.encode() for file, text in base_book().items()}
    return {path.relative_to(ROOT).as_posix(): path.read_bytes() for path in sorted((ROOT / "entries").glob("*/*.md"))}


def changed(files: Files, chance: random.Random) -> Files:
    """The book with one thing in it another: a value in one place, or a name or label wherever it stands."""
    how = chance.choice((_value, _value, _value, _value, _rename, _number, _label, _prose, _figure, _name))
    return how(dict(files), chance)


def _value(files: Files, chance: random.Random) -> Files:
    file = chance.choice(sorted(files))
    text = files[file].decode()
    found = [one for one in _VALUE.finditer(text) if one["key"] not in ("kind", "id")]
    if not found:
        return files
    one = chance.choice(found)
    files[file] = (text[: one.start("value")] + _odd(one["key"], one["value"], chance) + text[one.end("value") :]).encode()
    return files


def _odd(key: str, value: str, chance: random.Random) -> str:
    if key == "years":
        return chance.choice(YEARS)
    if key == "on":
        return chance.choice(DATES)
    if key == "since":
        return chance.choice(MONTHS)
    if re.fullmatch(r"-?[0-9.]+", value):
        return chance.choice(FIGURES)
    if chance.random() < 0.3:
        return '"' + chance.choice("aW \u00e4\U0001f527<") * (chance.choice(LENGTHS) + chance.randrange(-1, 2)) + '"'
    return chance.choice(TEXTS)


def _figure(files: Files, chance: random.Random) -> Files:
    """Any figure that stands anywhere, also in a list."""
    file = chance.choice(sorted(files))
    text = files[file].decode()
    found = list(re.finditer(r"(?<=[ \[])-?\d+(?:\.\d+)?(?=[,\]}\n])", text))
    if found:
        one = chance.choice(found)
        files[file] = (text[: one.start()] + chance.choice(FIGURES) + text[one.end() :]).encode()
    return files


def _everywhere(files: Files, old: str, new: str) -> Files:
    word = re.compile(rf"(?<![A-Za-z0-9-]){re.escape(old)}(?![A-Za-z0-9-])")
    return {file: word.sub(lambda _: new, data.decode()).encode() for file, data in files.items()}


def _rename(files: Files, chance: random.Random) -> Files:
    file = chance.choice(sorted(files))
    old = Path(file).stem
    new = chance.choice(("a", "0", "con", "nul", "index", "x" * 99, "x" * 100, "-".join("ab" * 16), "1e5", "no", "a" * 64))
    made = _everywhere(files, old, new)
    made[f"{Path(file).parent.as_posix()}/{new}.md"] = made.pop(file)
    return made


def _number(files: Files, chance: random.Random) -> Files:
    found = sorted({one for data in files.values() for one in re.findall(r"(?m)^\s*(?:- )?number: (.+)$", data.decode())})
    if not found:
        return files
    new = chance.choice((*NUMBERS, "9" * 40, "\u00e4" * 39 + "A", "\U0001f527" * 39 + "A", "/" * 39 + "A", "\u4e00" * 38 + "A1"))
    return _everywhere(files, chance.choice(found), "'" + new + "'")


def _label(files: Files, chance: random.Random) -> Files:
    file = chance.choice(sorted(files))
    text = files[file].decode()
    found = sorted(set(re.findall(r"\b[A-Z]?[0-9]{1,2}\b", text)))
    if found:
        files[file] = _everywhere({file: files[file]}, chance.choice(found), chance.choice(LABELS))[file]
    return files


def _name(files: Files, chance: random.Random) -> Files:
    """A mount or plug of another name, wherever its family names it."""
    file = chance.choice(sorted(files))
    found = sorted(set(re.findall(r"(?m)^  ([a-z0-9-]+):", files[file].decode())))
    if found:
        odd = chance.choice(
            ("' '", "'\u00a0'", "..", "a/b", "'a:b#c?d'", "con", "'" + "x" * 300 + "'", "'" + "ä" * 4000 + "'", "'<b>'", "__proto__")
        )
        files[file] = _everywhere({file: files[file]}, chance.choice(found), odd)[file]
    return files


def _prose(files: Files, chance: random.Random) -> Files:
    file = chance.choice(sorted(files))
    odd = chance.choice((*TEXTS, "# " * 500, "> " * 100 + "x", "|a|b|\n|-|-|\n|c|", "```\nx", "[x]: y", "\u00a0", "1. " * 50))
    files[file] = files[file].rstrip() + b"\n\n" + odd.encode() + b"\n"
    return files


def clean(files: Files, day: date) -> Loaded | None:
    """The book, where it lints without an error."""
    loaded = load_texts(dict(sorted(files.items(), key=lambda one: one[0].split("/"))), SCHEMAS)
    found = lint(loaded, day)
    for name in FORMATS:
        writer(name)(found, Linted(loaded.root, loaded.entries)).encode()
    return None if has_errors(found) else loaded


def through(loaded: Loaded, old: Mapping[str, bytes], files: Mapping[str, bytes], day: date) -> None:
    """Everything that is asked of a book without building it."""
    fitter = Fitter(loaded.book)
    for part in loaded.book.parts:
        answer = fit(fitter, part.number)
        fit_data(answer)
        list(fit_lines(answer))
        list(proof_lines(prove(fitter, part.number)))
        look(loaded.book, part.number)
    for seat in fitter.seats:
        seat_answer(fitter, seat)
    states = two_states(Path(), old.items(), files.items(), SCHEMAS, SCHEMAS)
    report = impact(states, "before", "0" * 40, *lint_both(states.old, states.new, day, fitters=states.fitters))
    impact_data(report, URLS)
    as_markdown(report, URLS)
    list(as_lines(report, URLS))


def books(seed: int, demo: bool = False, steps: int = 12) -> Iterator[tuple[Files, Files, Loaded, date]]:
    """Books that lint cleanly, each made from the one before it: the one before, the book, the same read, the day."""
    chance = random.Random(seed)
    files = start(demo)
    for _ in range(steps):
        made, day = changed(files, chance), chance.choice(DAYS)
        try:
            loaded = clean(made, day)
        except Exception as error:
            raise Broken(made, f"lint: {type(error).__name__}: {error}") from error
        if loaded and made != files:
            yield files, made, loaded, day
            files = made


def apart(files: Files, mark: str) -> Files:
    """The book with another name for each of its entries and numbers, so that it can stand beside others in one book."""
    for file in sorted(files):
        stem = Path(file).stem
        files = _everywhere(files, stem, f"{stem}-{mark}")
        files = {**files, f"{Path(file).parent.as_posix()}/{stem}-{mark}.md": files[file]}
        del files[file]
    text = "\n".join(data.decode() for data in files.values())
    for number in sorted(set(re.findall(r"(?m)^\s*(?:- )?number: ['\"]?(.+?)['\"]?$", text))):
        files = _everywhere(files, number, f"{number}-{mark}")
    return files


def together(books: Iterable[Files]) -> Files:
    """Many books as one, those left out that do not lint cleanly under the names that they get."""
    made: Files = {}
    for number, files in enumerate(books):
        renamed = apart(files, f"n{number}")
        if clean(renamed, date.today()):
            made |= renamed
    return made


def built(files: Files) -> bool:
    """The book as a site, in a folder of its own; false where today it does not lint cleanly."""
    from rangebook.site.generator.build import build_site
    from rangebook.site.generator.gate import NotCleanError, checked

    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "book"
        for file, data in files.items():
            (root / file).parent.mkdir(parents=True, exist_ok=True)
            (root / file).write_bytes(data)
        try:
            book = checked(root)
        except NotCleanError:
            return False  # a day that lets it be is not today
        build_site(book, Path(folder) / "site")
        return True


def main() -> int:
    """0 where nothing broke."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--books", type=int, default=5000)
    parser.add_argument("--builds", type=int, default=0, help="so many of them are built too")
    parser.add_argument(
        "--together", type=int, default=0, help="the last book of so many seeds is put into one book each time, and that is built"
    )
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--demo", action="store_true")
    args = parser.parse_args()
    begun, done, broken, builds, seed = time.monotonic(), 0, 0, 0, args.seed
    entries, waiting = 0, list[Files]()
    while done < args.books:
        seed += 1
        last: Files | None = None
        try:
            for before, files, loaded, day in books(seed, args.demo):
                last = files
                through(loaded, before, files, day)
                waiting.append(files)
                done += 1
                if done % 100 == 0:
                    print(f"{done} books, {builds} built, {broken} broke something", file=sys.stderr, flush=True)
            if last and builds < args.builds:
                builds += built(last)
            if args.together and len(waiting) >= args.together:
                last, waiting = together(waiting), []
                builds += built(last)
                entries += len(last)
        except Exception:  # noqa: BLE001 - whatever it is, it is what is looked for
            broken += 1
            print(f"BROKEN by seed {seed}: {traceback.format_exc(limit=-4)}", file=sys.stderr, flush=True)
            if broken >= 20:
                break
    took = time.monotonic() - begun
    sums = f"{builds} built ({entries} entries), {broken} broke something"
    print(f"{done} books that lint cleanly, {sums}, {took:.0f} s, seeds to {seed}")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
