"""What was made of entries is kept for the next time that the whole book is asked for, and is the same book."""

from __future__ import annotations

import pickle
import shutil
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from pathlib import Path

import pytest

import generate
from rangebook.book import load as load_room
from rangebook.book import made
from rangebook.book.index import digest_of
from rangebook.book.load import Loaded, load, with_files
from rangebook.book.made import load_made, note_made
from rangebook.lint.engine import lint
from rangebook.reading import entry as reading
from rangebook.reading.entry import Entry
from rangebook.reading.stack import read_all
from rangebook.schema.store import load_schemas
from rangebook.store.errors import DamagedError
from rangebook.store.ledger import Ledger, using
from rangebook.store.packing import packed, unpacked, unpacked_facts

ROOT = Path(__file__).parents[2]


@pytest.fixture(params=["demo", "generated"])
def root(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    book = tmp_path / "book"
    if request.param == "demo":
        shutil.copytree(ROOT / "entries", book / "entries")
    else:
        generate.write(generate.generate(6), book)
    return book


def again(root: Path) -> Loaded:
    sources = list(read_all(root))
    digests = {file: digest_of(data) for file, data in sources}
    loaded = with_files(load_made(root, sources, digests, load_schemas(root)))
    note_made(loaded, digests)
    return loaded


def told(value: object) -> object:
    """A value down to what is typed in entries, by the names of its fields; entries are compared apart."""
    if is_dataclass(value) and not isinstance(value, type | Entry):
        return type(value), {one.name: told(getattr(value, one.name)) for one in fields(value)}
    if isinstance(value, Mapping):
        return type(value), [(key, told(inner)) for key, inner in value.items()]
    if isinstance(value, tuple | list):
        return type(value), [told(one) for one in value]
    return value.file if isinstance(value, Entry) else value


def same(one: Loaded, other: Loaded) -> None:
    assert told(one.book.items) == told(other.book.items)
    assert [entry.file for entry in one.book.lost] == [entry.file for entry in other.book.lost]
    for ours, theirs in zip(one.entries, other.entries, strict=True):
        assert (ours.file, ours.source, ours.prose, ours.prose_line, ours.form) == (
            theirs.file,
            theirs.source,
            theirs.prose,
            theirs.prose_line,
            theirs.form,
        )
        assert ours.problems == theirs.problems
        assert ours.front == theirs.front
        assert (ours.head or {}).get("id") == (theirs.head or {}).get("id")
        if ours.front is not None and theirs.front is not None:
            assert ours.front.value_mark("id") == theirs.front.value_mark("id")
    assert lint(one) == lint(other)


def test_it_is_the_book_that_its_entries_give(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    same(again(root), load(root))
    monkeypatch.setattr(load_room, "read_entry", lambda file, data: pytest.fail(f"{file} was made before"))
    same(again(root), load(root))


def test_what_changed_is_made_anew_and_nothing_else(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    again(root)
    one, two, three = sorted(root.glob("entries/switches/*.md"))[:3]
    one.write_text(one.read_text("utf-8") + "\nSeen again.\n", "utf-8")
    two.write_text("---\nkind: switch\n", "utf-8")
    three.unlink()
    read: list[str] = []
    real = reading.read_entry
    monkeypatch.setattr(load_room, "read_entry", lambda file, data: read.append(file) or real(file, data))
    loaded = again(root)
    assert read == [path.relative_to(root).as_posix() for path in (one, two)]
    same(loaded, load(root))
    read.clear()
    same(again(root), load(root))
    assert read == [two.relative_to(root).as_posix()], "what cannot be taken in is looked at each time"


def test_another_program_or_schema_made_it_otherwise(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    again(root)
    monkeypatch.setattr(made, "basis_of", lambda _: "another")
    read: list[str] = []
    real = reading.read_entry
    monkeypatch.setattr(load_room, "read_entry", lambda file, data: read.append(file) or real(file, data))
    again(root)
    assert len(read) == len(list(read_all(root)))
    read.clear()
    again(root)
    assert not read


@pytest.mark.parametrize("card", ["", "one", "AAAA BBBB", "x y"])
def test_what_is_kept_and_damaged_is_thrown_away(card: str, root: Path) -> None:
    again(root)

    def spoil(ledger: Ledger) -> None:
        ledger._ask("UPDATE thing SET card = ?", (card,))
        ledger.write()

    using(f"made 1 {root}", spoil)
    same(again(root), load(root))
    same(again(root), load(root))


def test_without_a_store_it_is_made_each_time(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RANGEBOOK_STORE", "")
    same(again(root), load(root))


class Harmful:
    """What a file of somebody else's would have in it."""

    def __reduce__(self) -> tuple[object, tuple[str]]:
        return print, ("run",)


@pytest.mark.parametrize(
    "data",
    [
        pickle.dumps(Harmful()),
        pickle.dumps(print),
        pickle.dumps(Path("x")),
        b"cos\nsystem\n(S'echo run'\ntR.",
        b"crangebook.book.model\nfields\n.",
        b"crangebook.book.model\nPart.__init__.__globals__\n.",
        packed({"a": 1})[:-3],
        b"",
    ],
)
def test_nothing_that_is_kept_is_code(data: bytes, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(DamagedError):
        unpacked_facts(data, made._MODULES, lambda _: None)
    assert capsys.readouterr().out == ""


def test_what_is_put_aside_is_given_back(root: Path) -> None:
    family = next(iter(load(root).book.families.values()))
    bytes_ = packed(family, lambda value: "entry" if value is family.entry else None, made._PLACES)
    assert family.entry.source.encode()[:200] not in bytes_
    found = unpacked_facts(bytes_, made._MODULES, lambda name: {"entry": family.entry}[name])
    assert found.entry is family.entry and told(found) == told(family)
    assert told(unpacked(packed(family))) == told(family)
