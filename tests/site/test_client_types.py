"""The browser's code by what its developers check it with: TypeScript, which reads the types out of comments, and Biome. Both are run as a
developer runs them, by the scripts of ``package.json``. What Python writes for the browser is held to the same types, over every key.

They need Node and what ``npm ci`` puts into ``node_modules/``; nothing of the book does.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest
from tests.lint.layering import FAMILY
from tests.site.together import of_the_whole, together

from generate import generate
from rangebook.book.load import Loaded, load_texts
from rangebook.lint.examples import base_book
from rangebook.reading.stacked import Stacked
from rangebook.site.data import pieces
from rangebook.site.data.every import of_a_family
from rangebook.site.facts.computed import Computed
from rangebook.site.offline.write import about
from rangebook.site.shared.compact import compact

ROOT = Path(__file__).resolve().parents[2]
TOOLS = ROOT / "node_modules" / ".bin"
TYPES = ROOT / "tools/rangebook/site/client/types/data.d.ts"

pytestmark = pytest.mark.skipif(
    shutil.which("node") is None or not (TOOLS / "tsc").exists() or not (TOOLS / "biome").exists(),
    reason="needs Node and `npm ci`, which only those who change the browser's code have to have",
)

WRITTEN = (
    ("data/numbers.json", "NumberIndex"),
    ("data/names.json", "NameIndex"),
    ("data/kits.json", "Kits"),
    ("data/identify.json", "IdentifyData"),
    ("data/write.json", "WriteData"),
    ("data/answers/", "Answers"),
    ("data/compare/", "Compared"),
    ("data/lines/", "EntryLines"),
    ("data/proof/", "Proofs"),
    ("data/lever/", "Levers"),
    ("data/find/head.json", "IndexHead"),
    ("data/find/shelf.json", "ShelfPiece"),
    ("data/find/numbers/", "NumberPiece"),
    ("data/find/words/", "WordPiece"),
    ("data/find/names/", "NameBlock"),
    ("data/identify/looks.json", "IdentifyLooks"),
    ("data/identify/block/", "IdentifyBlock"),
)
"""Beginning of an address -> its type. ``data/photos.json`` is read by no script of a page."""

ONCE = ("data/answers/", "data/compare/", "data/lever/", "data/proof/")
"""Files that say once what they say several times."""


def run(*command: str, folder: Path = ROOT) -> str:
    """What a tool has to say; an empty text where it is content."""
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=300, env={**os.environ, "NO_COLOR": "1"})
    return "" if done.returncode == 0 else done.stdout + done.stderr


def type_of(address: str) -> str | None:
    """The type of what is written to an address, if a script of a page loads it."""
    return next((name for start, name in WRITTEN if address.startswith(start)), None)


def typed(data: list[tuple[str, str]], folder: Path) -> str:
    """What TypeScript has against data, each ``(type, JSON)``; a key that a type does not have counts as one."""
    lines = [f'import type * as data from "{TYPES.with_suffix("").with_suffix(".js").as_posix()}";']
    lines += [f"export const data{at}: data.{name} = {text};" for at, (name, text) in enumerate(data)]
    (folder / "written.ts").write_text("\n".join(lines), "utf-8")
    options = ("--strict", "--noEmit", "--target", "es2023", "--module", "es2022", "--moduleResolution", "bundler", "--types", "")
    return run(str(TOOLS / "tsc"), *options, "written.ts", folder=folder)


def written(loaded: Loaded) -> list[tuple[str, str]]:
    """Every file of a book that a script of a page loads, as its type and its text; the indexes whole and in pieces."""
    computed = Computed(loaded)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pieces, "LARGE", 0)
        of_all = list(of_the_whole(computed))
    files = [*of_all, *(one for family in loaded.book.families.values() for one in of_a_family(computed, family))]
    # A type says what a page has once a file is put together.
    texts = ((address, compact(together(json.loads(text))) if address.startswith(ONCE) else text) for address, text in files)
    found = [(name, text) for address, text in texts if (name := type_of(address))]
    return [*found, ("EditionFile", compact({**about(computed.edition), "digest": "0123456789abcdef"}))]


@pytest.fixture(scope="module")
def generated() -> Loaded:
    return load_texts({path: text.encode() for path, text in generate(24, seed=5).items()})


@pytest.fixture(scope="module")
def needing() -> Loaded:
    """A book in which something has to be bought beside a kit: bolts, and a blanking plug that is in no bag."""
    texts = dict(base_book())
    for file, old, new in (
        ("entries/switches/tamblin-gate.md", "needs: [oval-9-renewal]", "needs: [oval-9-renewal, {item: new bolts, count: 2}]"),
        ("entries/kits/oval-9-renewal.md", "seals: [4, 6]\nblanks: 2", "seals: [9]\nblanks: 2"),
    ):
        assert old in texts[file]
        texts[file] = texts[file].replace(old, new)
    return load_texts({file: text.encode() for file, text in texts.items()})


@pytest.fixture(scope="module")
def layered() -> Loaded:
    """A book that lies over another one."""
    texts: dict[str, bytes] = {file: text.encode() for file, text in base_book().items()}
    above = b"---\nkind: switch\nid: tamblin-gate\n---\n\nA note of our own.\n"
    texts[FAMILY] = Stacked.of([(0, "shared", texts[FAMILY]), (1, "ours", above)])
    found = load_texts(texts)
    return replace(found, book=replace(found.book, layers=("shared", "ours")))


def test_no_script_has_an_error_of_types() -> None:
    assert run("npm", "run", "--silent", "types") == ""


def test_no_script_has_a_finding_of_the_linter() -> None:
    assert run("npm", "run", "--silent", "lint") == ""


@pytest.fixture(scope="module")
def of_the_demo(loaded: Loaded) -> list[tuple[str, str]]:
    return written(loaded)


def test_every_kind_of_file_has_a_type(of_the_demo: list[tuple[str, str]]) -> None:
    assert {name for name, _ in of_the_demo} == {*(name for _, name in WRITTEN), "EditionFile"}


def test_what_python_writes_is_what_the_types_say(
    of_the_demo: list[tuple[str, str]], generated: Loaded, needing: Loaded, layered: Loaded, tmp_path: Path
) -> None:
    data = of_the_demo + written(generated) + written(needing) + written(layered)
    assert typed(data, tmp_path) == ""
    keys: set[str] = set()
    for _, text in data:
        json.loads(text, object_pairs_hook=lambda pairs: keys.update(key for key, _ in pairs))
    optional = set(re.findall(r'([\w$-]+)"?\?:', TYPES.read_text("utf-8")))
    assert len(optional) > 20
    assert not optional - keys, "a type has a key that is never written"


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("EditionFile", {"mark": "m", "date": None, "words": "w"}),
        ("EditionFile", {"mark": "m", "date": None, "words": "w", "digest": "d", "more": 1}),
        ("EditionFile", {"mark": "m", "date": 1, "words": "w", "digest": "d"}),
        ("Answers", {"edition": "e", "family": {"id": "i", "title": "t", "url": "u", "more": 1}, "parts": {}, "seats": {}, "settings": {}}),
    ],
)
def test_a_key_too_few_or_too_many_is_seen(name: str, data: dict[str, object], tmp_path: Path) -> None:
    assert typed([(name, json.dumps(data))], tmp_path) != ""
