"""A book linted from its files, by one process or several, says what it says when all of it is kept in memory."""

from __future__ import annotations

import ast
import os
import random
import subprocess
import sys
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

import generate
from rangebook.book.load import load, load_texts
from rangebook.lint import engine, large
from rangebook.lint.again import lint_again
from rangebook.lint.engine import lint
from rangebook.lint.registry import all_rules
from rangebook.reading import crew
from rangebook.reading.crew import Crew
from rangebook.reading.entry import FEW
from rangebook.reading.files import read_all
from rangebook.schema.store import load_schemas

ROOT = Path(__file__).resolve().parents[2]
DAY = date(2026, 6, 1)
CUTS = ("closed: [P, ", "[R]", "start_out", "backup", "straight", "oval", "1: ", "20", "RD", "}", "ground", "kind", "N, ", "mm: 6")


def spoilt(seed: int) -> dict[str, bytes]:
    """The demo book with a word taken out, doubled or misspelt in one entry of three."""
    chance = random.Random(seed)
    book = {file: data.decode("utf-8") for file, data in read_all(ROOT) if isinstance(data, bytes)}
    for file in chance.sample(sorted(book), len(book) // 3):
        word = chance.choice(CUTS)
        book[file] = book[file].replace(word, chance.choice(["", word * 2, word[:-1] + "x"]), chance.randint(1, 4))
    return {file: text.encode("utf-8") for file, text in book.items()}


@pytest.mark.parametrize("processes", [1, 2, 5])
@pytest.mark.parametrize("seed", range(8))
def test_the_same_is_found_as_with_everything_in_memory(seed: int, processes: int) -> None:
    texts = spoilt(seed)
    expected = lint(load_texts(texts), DAY)
    assert len({one.file for one in expected}) > 1 and len({one.rule for one in expected}) > 1
    loaded, found = engine.lint_files(Path(), texts.items(), load_schemas(None), DAY, processes)
    assert found == expected
    assert [entry.file for entry in loaded.entries] == list(texts)
    assert [entry.source for entry in loaded.entries] == [entry.source for entry in load_texts(texts).entries]


@pytest.mark.parametrize("processes", [1, 3])
@pytest.mark.parametrize("seed", range(6))
def test_the_same_is_found_piece_by_piece(seed: int, processes: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    monkeypatch.setattr(large, "_TOGETHER", 1 + seed)
    root = tmp_path / "book"
    generate.write(generate.generate(8, seed=seed), root)
    chance = random.Random(seed)
    for path in chance.sample(sorted(root.glob("entries/*/*.md")), seed):
        word = chance.choice(CUTS)
        path.write_text(path.read_text("utf-8").replace(word, word[:-1] + "x", 1), "utf-8")
    (root / "shelf.csv").write_text("number,count,place\nNO-1,1,bin\n", "utf-8")
    expected = lint(load(root), DAY)
    assert expected
    for afresh in (True, False, True):
        assert lint_again(root, DAY, lambda index: large.lint_large(index, DAY, processes), afresh)[1] == expected


def test_what_was_put_away_is_read_again_as_it_was() -> None:
    kept = load(ROOT)
    away, _ = engine.lint_files(ROOT, read_all(ROOT), kept.schemas, DAY)
    assert sum(entry.tree is None for entry in away.entries) >= len(kept.entries) / 2
    for before, after in zip(kept.entries, away.entries, strict=True):
        assert after.front == before.front and after.head == before.front
        assert _marks(after.front) == _marks(before.front)
    again = engine.lint_files(ROOT, read_all(ROOT), kept.schemas, DAY)[0].entries
    for entry in [*again, *again]:
        assert entry.front is not None
    assert sum(entry.tree is not None for entry in again) <= FEW


def _marks(node: object) -> object:
    if isinstance(node, dict):
        return [(node.mark, node.key_mark(key), node.value_mark(key), _marks(value)) for key, value in node.items()]
    if isinstance(node, list):
        return [(node.item_mark(index), _marks(value)) for index, value in enumerate(node)]
    return type(node)


def test_each_piece_is_done_once_and_others_do_some(tmp_path: Path) -> None:
    home, other = os.getpid(), tmp_path / "other"

    def do(at: int) -> tuple[int, bool]:
        here = os.getpid() == home
        if not here:
            other.touch()
        # However busy the machine is: the first one waits until another has begun.
        for _ in range(3000):
            if not here or other.exists():
                break
            time.sleep(0.01)
        return at, here

    done = list(Crew(60, do, 4).results())
    assert [at for at, _ in done] == list(range(60)) and 0 < sum(here for _, here in done) < 60


@pytest.mark.parametrize("harm", [lambda: os._exit(9), lambda: os.kill(os.getpid(), 9), lambda: 1 / 0])
def test_should_one_come_to_harm_its_work_is_done_here(monkeypatch: pytest.MonkeyPatch, harm: Callable) -> None:
    monkeypatch.setattr(crew, "packed", lambda value: harm())
    texts = spoilt(1)
    assert engine.lint_files(Path(), texts.items(), load_schemas(None), DAY, 3)[1] == lint(load_texts(texts), DAY)


def test_without_semaphores_all_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    def none(kind: str) -> None:
        raise OSError(38, "Function not implemented")

    monkeypatch.setattr(crew.multiprocessing, "get_context", none)
    assert list(Crew(5, lambda at: (at, os.getpid()), 3).results()) == [(at, os.getpid()) for at in range(5)]


def test_what_a_piece_raises_reaches_the_one_who_waits() -> None:
    def fails(at: int) -> None:
        raise KeyError("there is none")

    with pytest.raises(KeyError, match="there is none"):
        list(Crew(3, fails, 2).results())


def test_the_others_end_with_a_first_that_is_killed(tmp_path: Path) -> None:
    """They would wait for work for ever."""
    script = f"""
import os, pathlib, time
from rangebook.reading.crew import Crew
def do(at):
    (pathlib.Path({str(tmp_path)!r}) / str(os.getpid())).touch()
    time.sleep(30)
Crew(4, do, 4)
time.sleep(60)
"""
    first = subprocess.Popen([sys.executable, "-c", script])
    while len(list(tmp_path.iterdir())) < 3:
        time.sleep(0.01)
    first.kill()
    first.wait()
    for _ in range(500):
        if not any(_is_there(int(path.name)) for path in tmp_path.iterdir()):
            return
        time.sleep(0.01)
    raise AssertionError("they are still there")


def _is_there(process: int) -> bool:
    try:
        return "(zombie)" not in Path(f"/proc/{process}/status").read_text("utf-8")
    except OSError:
        return False


LINT = ROOT / "tools" / "rangebook" / "lint"
ENGINE = ("engine", "suppression", "revisions", "inputs", "context", "registry", "plan")


@pytest.mark.parametrize("module", [*ENGINE, "rule", "finding", "faults", "safety"])
def test_no_rule_is_named_outside_the_rules(module: str) -> None:
    tree = ast.parse((LINT / f"{module}.py").read_text("utf-8"))
    said = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    assert not said & set(all_rules()) - {"schema"}, "the input `schema` has the name of a rule"


@pytest.mark.parametrize("name", all_rules())
def test_no_rule_calls_the_engine(name: str) -> None:
    tree = ast.parse((LINT / "rules" / f"{name.replace('-', '_')}.py").read_text("utf-8"))
    imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert not imported & {f"rangebook.lint.{module}" for module in ENGINE if module not in ("context", "suppression")}
