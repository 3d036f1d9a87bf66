"""A walk through states of a small book: each step changes something, and what is known from before gives what the whole book gives."""

from __future__ import annotations

import json
import os
import random
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path
from types import SimpleNamespace
from unittest import mock

import generate
from rangebook.book.index import Index, digest_of, load_around, load_naming, with_index
from rangebook.book.load import Loaded, load
from rangebook.cli.impact import URLS, impact_around
from rangebook.desk.fit import FitAnswer, NotInBook, as_data, fit, judged_in
from rangebook.desk.impact.data import as_data as impact_data
from rangebook.desk.look import look, nearest_numbers, with_status
from rangebook.desk.prove import ReadingError
from rangebook.desk.prove import as_data as proof_data
from rangebook.fitting.fitter import Fitter
from rangebook.lint.again import Found, lint_again, note
from rangebook.lint.around import errors_around
from rangebook.lint.engine import lint_files
from rangebook.lint.large import lint_large
from rangebook.lint.linted import Linted
from rangebook.lint.revisions import lint_both
from rangebook.reading import git, listing
from rangebook.reading.files import read_all
from rangebook.revisions.report import Impact, impact
from rangebook.revisions.states import schemas_over, two_states
from rangebook.schema.errors import SchemaError
from rangebook.schema.store import load_schemas, shipped
from tests.committing import git as git_in

NUMBER = re.compile(r"(?:number|came_with): ([A-Z0-9][\w/. -]*?)(?=[,}\n])")
ID = re.compile(r"(?:connector|from|to|kit): ([a-z][a-z0-9-]+)")


class Walk:
    """A book in a folder, and lots that are drawn for it. ``wholes`` counts how often the whole was looked at."""

    def __init__(self, root: Path, seed: int, families: int = 6) -> None:
        self.root, self.lots, self.today, self.wholes = root, random.Random(seed), date(2026, 6, 1), 0
        generate.write(generate.generate(families, seed=seed), root)
        shutil.copytree(shipped("schema"), root / "shipped-schema")
        self.states = [self._state()]
        self.steps: list[str] = []
        self.ahead = self.excerpts = 0
        self.commits: list[str] = []
        git_in(self.root, "init", "-q", "-b", "main")
        self.commit()

    # The two ways

    def whole(self, index: Index | None) -> Found:
        """As ``rangebook lint`` does it."""
        self.wholes += index is not None
        if index is not None and self.lots.random() < 0.5:
            return lint_large(index, self.today, 1)
        sources = list(read_all(self.root))
        digests = {file: digest_of(data) for file, data in sources}
        loaded, findings = lint_files(self.root, sources, load_schemas(self.root), self.today)
        if index is not None:
            note(index, loaded, digests, findings, loaded.book.questions.asked, self.today)
        return Linted(self.root, loaded.entries), findings

    def check_lint(self) -> None:
        """What is found again is what is found afresh."""
        with self._clock():
            again = _told(lambda: lint_again(self.root, self.today, self.whole)[1])
        self._same(again, _told(lambda: self.whole(None)[1]))

    def check_answers(self) -> None:
        """Answers of an excerpt are those of the whole book."""
        texts = self._texts()
        numbers = sorted({found for text in texts.values() for found in NUMBER.findall(text)}) or ["X-1"]
        one, two = self.lots.choice(numbers), self.lots.choice(numbers)
        if self.lots.random() < 0.2:
            one = self._misspelt(one)
        word = self.lots.choice([one, one[:5], "lever", self.lots.choice(sorted(texts) or ["x"]).rsplit("/", 1)[-1][:7], "short lever"])
        wanted = {
            (one,): lambda fitter: fit(fitter, one),
            (one, two): lambda fitter: fit(fitter, one, two),
            (one, one): lambda fitter: proof_data(fitter, one),
        }
        for asked, answer in wanted.items():
            with self._clock():
                found = _answered(lambda root, asked=asked: load_around(root, asked), self.root, answer)
            self._same(found, _answered(load, self.root, answer), asked)
        ways = (lambda root: load_naming(root, word, lambda book: bool(look(book, word))), load)
        self._same(*(_told(lambda way=way: _looked_up(way(self.root), word)) for way in ways), word)

    def check_impact(self) -> None:
        """What has changed since a commit is what two whole books differ in. ``excerpts`` counts how often no whole book was read."""
        repository = git.open_repository(self.root)
        base = git.named_base(repository, self.commits[-1] if self.lots.random() < 0.7 else self.lots.choice(self.commits))

        def around(index: Index) -> list[Impact]:
            found = impact_around(index, repository, base, self.today) if index.refresh() else None
            return [] if found is None else [found]

        def whole() -> Impact:
            new = list(read_all(self.root))
            old = git.book_at(repository, base.commit, dict(new))
            schemas = schemas_over(load_schemas(None), old.schema, base.words), load_schemas(self.root)
            states = two_states(self.root, old.entries, new, *schemas)
            return impact(states, base.words, base.commit, *lint_both(states.old, states.new, self.today, states.fitters))

        with self._clock():
            again = _told(lambda: [impact_data(one, URLS) for one in with_index(self.root, around) or ()])
        if again:
            self.excerpts += isinstance(again, list)
            afresh = _told(lambda: [impact_data(whole(), URLS)])
            self._same(again, afresh, base)

    @contextmanager
    def _clock(self) -> Iterator[None]:
        """The clock of the machine, as far as the files' times are held against it, before or behind that of the file system."""
        shown = SimpleNamespace(time_ns=lambda: time.time_ns() + self.ahead * 1_000_000_000)
        with mock.patch.object(listing, "time", shown):
            yield

    def _same(self, again: object, afresh: object, asked: object = None) -> None:
        assert again == afresh, (self.steps[-3:], asked, *_differing(again, afresh))

    # Steps

    def step(self) -> None:
        """Change something."""
        kinds = {
            self.swap_number: 5, self.swap_id: 4, self.misspell: 3, self.break_one: 3, self.prose: 3, self.allow: 2, self.line_away: 4,
            self.delete: 2, self.copy: 2, self.rename: 2, self.mend: 9, self.go_back: 3, self.circuits: 1, self.day: 1, self.shelf: 1,
            self.stray: 1, self.picture: 1, self.plating: 1, self.vehicle: 2, self.nothing: 1, self.status: 2, self.same_bytes: 1,
            self.schema: 1, self.commit: 2, self.switch_branch: 2, self.turn_clock: 1, self.unseen_write: 1, self.kill: 1,
        }  # fmt: skip
        kind = self.lots.choices(list(kinds), list(kinds.values()))[0]
        kind()
        self.steps.append(kind.__name__)
        time.sleep(0.006)  # file systems tell the times of two writes apart after a tick of the kernel's clock

    def swap_number(self) -> None:
        self._swap(NUMBER)

    def swap_id(self) -> None:
        self._swap(ID)

    def misspell(self) -> None:
        file, text = self._any()
        if found := list(NUMBER.finditer(text)):
            one = self.lots.choice(found)
            self._write(file, text[: one.start(1)] + self._misspelt(one[1]) + text[one.end(1) :])

    def break_one(self) -> None:
        file, text = self._any()
        at = self.lots.randrange(len(text) + 1)
        self._write(file, text[:at] + self.lots.choice(["\t", "{", "\n---\n", ": :", "\u202e", "- x\n", "colour: QQ\n"]) + text[at:])

    def prose(self) -> None:
        file, text = self._any()
        numbers = [one for other in self._texts().values() for one in NUMBER.findall(other)] or ["X"]
        files = sorted(self._texts())
        words = [
            f"\nLike {self._misspelt(self.lots.choice(numbers))}.\n",
            f"\nAs {self.lots.choice(numbers)}.\n",
            f"\nSee [that](../{self.lots.choice(files).removeprefix('entries/')}).\n" if files else "\nx\n",
            "\nSee [that](../switches/nowhere.md).\n",
        ]
        self._write(file, text + self.lots.choice(words))

    def allow(self) -> None:
        file, text = self._any()
        rule = self.lots.choice(
            [
                "duplicate-number",
                "confusable-number",
                "unused-entry",
                "dead-link",
                "original-misfit",
                "unknown-part",
                "nonsense",
                "wire-colour",
            ]
        )
        at = self.lots.choice(["", ", at: parts.1"])
        self._write(file, text.replace("---\n", f"---\nallow: [{{rule: {rule}, reason: it is so{at}}}]\n", 1))

    def line_away(self) -> None:
        file, text = self._any()
        lines = text.split("\n")
        if len(lines) > 3:
            del lines[self.lots.randrange(1, len(lines))]
        self._write(file, "\n".join(lines))

    def delete(self) -> None:
        file, _ = self._any()
        (self.root / file).unlink()

    def copy(self) -> None:
        file, text = self._any()
        name = self.lots.choice(["-b", "-c"])
        if self.lots.random() < 0.5:
            text = re.sub(r"^(id: \S+)", rf"\1{name}", text, count=1, flags=re.MULTILINE)
        self._write(file.replace(".md", f"{name}.md"), text)

    def rename(self) -> None:
        file, text = self._any()
        (self.root / file).unlink()
        self._write(file.replace(".md", "-x.md"), text)

    def mend(self) -> None:
        """Some entries as they were."""
        state = self.lots.choice(self.states)
        for file, data in state.items():
            if self.lots.random() < 0.3:
                self._put(file, data)

    def go_back(self) -> None:
        """All as it was, as another branch has it."""
        state = self.lots.choice(self.states)
        for path in sorted(self.root.glob("entries/*/*.md")):
            if path.relative_to(self.root).as_posix() not in state:
                path.unlink()
        for file, data in state.items():
            self._put(file, data)
        if self.lots.random() < 0.5:
            for path in (self.root / "shelf.csv", self.root / "schema/circuits.json", self.root / "entries/notes.txt"):
                path.unlink(missing_ok=True)

    def circuits(self) -> None:
        listed = json.loads((self.root / "shipped-schema/circuits.json").read_text("utf-8"))
        for name in self.lots.sample(sorted(listed["circuits"]), self.lots.randrange(3)):
            del listed["circuits"][name]
        (self.root / "schema").mkdir(exist_ok=True)
        (self.root / "schema/circuits.json").write_text(json.dumps(listed), "utf-8")

    def schema(self) -> None:
        """A schema of the book's own that asks for more than the shipped one, for other things, or none any more."""
        path = self.root / "schema/switch.json"
        if path.exists() and self.lots.random() < 0.5:
            path.unlink()
            return
        asked = json.loads((self.root / "shipped-schema/switch.json").read_text("utf-8"))
        part = asked["properties"]["parts"]["items"]
        match self.lots.randrange(4):
            case 0:
                part["required"] = [*part["required"], "status"]
            case 1:
                part["properties"]["glow"] = {"type": "string", "description": "What it glows like", "x-expected": "a word"}
            case 2:
                asked["required"] = [*asked["required"], "applications"]
            case _:
                path.parent.mkdir(exist_ok=True)
                path.write_text("{", "utf-8")
                return
        path.parent.mkdir(exist_ok=True)
        path.write_text(json.dumps(asked), "utf-8")

    def commit(self) -> None:
        git_in(self.root, "add", "-A")
        git_in(self.root, "commit", "-q", "--allow-empty", "-m", "x")
        self.commits.append(git_in(self.root, "rev-parse", "HEAD"))

    def switch_branch(self) -> None:
        """All that is tracked as it was committed; what was not committed stays where it is in nobody's way."""
        git_in(self.root, "checkout", "-q", "-f", self.lots.choice(self.commits))

    def turn_clock(self) -> None:
        self.ahead = self.lots.choice([0, 0, 3600, -3600, -1, 86_400 * 400])

    def unseen_write(self) -> None:
        """As long as before, and with the time of before."""
        file, text = self._any()
        found = list(re.finditer(r"[PRND](?=[,\]])", text))
        if found:
            at, seen = self.lots.choice(found).start(), (self.root / file).stat()
            (self.root / file).write_text(text[:at] + self.lots.choice("PRND") + text[at + 1 :], "utf-8")
            os.utime(self.root / file, ns=(seen.st_atime_ns, seen.st_mtime_ns))

    def kill(self) -> None:
        """Somebody else's run, that does not come to its end."""
        ran = subprocess.Popen(
            [sys.executable, "-m", "rangebook", "lint", "--root", str(self.root)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        time.sleep(self.lots.uniform(0.1, 0.9))
        ran.kill()
        ran.wait()

    def day(self) -> None:
        self.today += timedelta(days=self.lots.choice([-400, -1, 1, 4000]))

    def shelf(self) -> None:
        numbers = [one for text in self._texts().values() for one in NUMBER.findall(text)] or ["X"]
        lines = [
            f"{self._misspelt(one) if self.lots.random() < 0.3 else one},1,bin" for one in self.lots.sample(numbers, min(3, len(numbers)))
        ]
        (self.root / "shelf.csv").write_text("\n".join(["number,count,place", *lines, ""]), "utf-8")

    def stray(self) -> None:
        path = self.root / "entries/notes.txt"
        path.unlink() if path.exists() else path.write_text("x", "utf-8")

    def picture(self) -> None:
        file, text = self._any()
        folder = self.root / f"{file.rpartition('/')[0]}/photos/{Path(file).stem}"
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "a.jpg").write_bytes(self.lots.choice([b"x", b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff\xe0"]))
        if self.lots.random() < 0.7:
            self._write(file, text.replace("---\n", "---\nphotos: [{file: a.jpg, shows: it}]\n", 1))

    def plating(self) -> None:
        file, text = self._any()
        self._write(file, re.sub(r"^( +status: \w+)$", r"\1\n    plating: gold", text, count=1, flags=re.MULTILINE))

    def vehicle(self) -> None:
        found = [one for text in self._texts().values() for one in re.findall(r"vehicle: ([^,}]+)", text)]
        file, text = self._any()
        if found and "vehicle:" in text:
            name = self.lots.choice(found)
            name = self.lots.choice([name, name.upper(), name.replace(" ", "-")])
            self._write(file, re.sub(r"vehicle: [^,}]+", f"vehicle: {name}", text, count=1))

    def status(self) -> None:
        file, text = self._any()
        found = list(re.finditer(r"status: (\w+)", text))
        if found:
            one = self.lots.choice(found)
            new = self.lots.choice(["current", "withdrawn", "discontinued", "superseded"])
            self._write(file, text[: one.start(1)] + new + text[one.end(1) :])

    def same_bytes(self) -> None:
        file, text = self._any()
        self._write(file, text)

    def nothing(self) -> None:
        if self.lots.random() < 0.5:
            self.states.append(self._state())

    # What the steps are made of

    def _state(self) -> dict[str, bytes]:
        return {path.relative_to(self.root).as_posix(): path.read_bytes() for path in sorted(self.root.glob("entries/*/*.md"))}

    def _texts(self) -> dict[str, str]:
        return {file: data.decode("utf-8", "replace") for file, data in self._state().items()}

    def _any(self) -> tuple[str, str]:
        texts = self._texts()
        if not texts:
            self.go_back()
            texts = self._texts()
        file = self.lots.choice(sorted(texts))
        return file, texts[file]

    def _swap(self, pattern: re.Pattern[str]) -> None:
        """Write in one place what stands in another."""
        file, text = self._any()
        _, other = self._any()
        here, there = list(pattern.finditer(text)), pattern.findall(other)
        if here and there:
            one = self.lots.choice(here)
            self._write(file, text[: one.start(1)] + self.lots.choice(there) + text[one.end(1) :])

    def _misspelt(self, number: str) -> str:
        signs = {"0": "O", "1": "I", "8": "B", "5": "S", "2": "Z"}
        places = [at for at, sign in enumerate(number) if sign in signs]
        if not places or self.lots.random() < 0.3:
            return f"{number}7"
        at = self.lots.choice(places)
        return number[:at] + signs[number[at]] + number[at + 1 :]

    def _write(self, file: str, text: str) -> None:
        self._put(file, text.encode())

    def _put(self, file: str, data: bytes) -> None:
        path = self.root / file
        path.parent.mkdir(parents=True, exist_ok=True)
        if self.lots.random() < 0.5:
            path.write_bytes(data)
        else:  # as editors do that write beside the file
            beside = path.with_suffix(".tmp")
            beside.write_bytes(data)
            os.replace(beside, path)  # noqa: PTH105


def _told(way: Callable[[], object]) -> object:
    try:
        return way()
    except (NotInBook, ReadingError, SchemaError) as error:
        return type(error).__name__, str(error), getattr(error, "nearest", None)


def _answered(way: Callable[[Path], Loaded], root: Path, answer: Callable[[Fitter], object]) -> object:
    def told() -> object:
        loaded = way(root)
        fitter = Fitter(loaded.book)
        found = answer(fitter)
        if not isinstance(found, FitAnswer):
            return found
        return as_data(found), dict(errors_around(loaded, fitter, found.removed, judged_in(found)))

    return _told(told)


def _looked_up(loaded: Loaded, word: str) -> object:
    found = look(loaded.book, word)
    near = [] if found else nearest_numbers(loaded.book, word)
    return found, near, with_status(loaded.book, near)


def _differing(one: object, other: object) -> Iterator[object]:
    if isinstance(one, list) and isinstance(other, list):
        yield "only again", [each for each in one if each not in other]
        yield "only afresh", [each for each in other if each not in one]
    else:
        yield one
        yield other
