"""The indexes of a large book in pieces answer as the whole ones do, and a phone loads few of them."""

from __future__ import annotations

import json
import os
import random
import re
import shutil
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from playwright.sync_api import expect
from tests.identifying import odd_book, states_of
from tests.site.conftest import Tab
from tests.site.node import evaluate, needs_node
from tests.site.together import of_the_whole

from generate import generate
from rangebook.book.load import Loaded, load_texts
from rangebook.book.numbers import look, normalise
from rangebook.desk.identify.table import make_table
from rangebook.fitting.fitter import Fitter
from rangebook.site.data import looks, pieces
from rangebook.site.facts.computed import Computed
from rangebook.site.live.serve import listen
from rangebook.site.offline.keeping import choose
from rangebook.site.shared import urls

pytestmark = needs_node

MOST_FOR_A_NUMBER = 60_000
MOST_FOR_A_BEGINNING = 120_000
"""Bytes as gzip sends them (level 6), of a book of 5,000 families; set by whoever asked for the pieces."""

BROWSER = """
  const asked = [];
  globalThis.document = {documentElement: {dataset: given.cut ? {head: "x/data/find/head.json"} : {}}};
  globalThis.fetch = async (url) => {
    const path = `${given.folder}/${String(url).replace(/^x\\//, "")}`;
    const there = fs.existsSync(path);
    if (there) asked.push(String(url).replace(/^x\\//, ""));
    return {ok: there, status: there ? 200 : 404, json: async () => JSON.parse(fs.readFileSync(path, "utf8"))};
  };
  const urls = {numbers: "x/data/numbers.json", names: "x/data/names.json", table: "x/data/identify.json"};
  const open = () => book.bookOf({dataset: {base: "x", ...urls}});
"""

FIND = f"""{{{BROWSER}
  const families = (index, at) => at.map((one) => index.families[one][0]);
  const ofPart = ([id, title, numbers, statuses], at) => [id, title, numbers[at], statuses[at]];
  const told = (index, names, lines, list, text) => {{
    const numbers = search.findNumbers(list, text);
    const named = search.findNames(names, index, text);
    const vehicles = search.findVehicles(lines, text);
    return {{
      ...numbers,
      alike: search.lookAlikes(list, text),
      meant: search.asked(text, list),
      vehicles,
      gearboxes: named.gearboxes.map(([name, of]) => [name, families(index, of)]),
      families: named.families,
      codes: named.codes.map(([code, of, meaning]) => [code, families(index, of), meaning]),
      marks: named.marks.map(([stamped, of]) => [stamped, of.map(([at, part]) => ofPart(index.families[at], part))]),
      connectors: named.connectors,
    }};
  }};
  const found = [];
  for (const text of given.texts) {{
    const one = open();
    const before = asked.length;
    if (!given.cut) {{
      const [index, names] = [await one.index(), await one.names()];
      found.push([told(index, names, search.vehicleLines(names, index), await one.numbers(), text), 0]);
      continue;
    }}
    const list = await one.numbers(text, ...search.restsOf(text));
    const names = await one.namesOf(text);
    found.push([names && told({{families: names.families}}, names.names, names.lines, list, text), asked.slice(before)]);
  }}
  return found;
}}"""


@pytest.fixture
def small_pieces(monkeypatch: pytest.MonkeyPatch) -> None:
    """Everything is large, pieces are small, and words that a dozen have are too common."""
    for name, value in (("LARGE", 0), ("NUMBER_BYTES", 600), ("WORD_BYTES", 600), ("BLOCK_BYTES", 400), ("MOST_CARDS", 12)):
        monkeypatch.setattr(pieces, name, value)
    monkeypatch.setattr(looks, "BLOCK", 2)


def written(loaded: Loaded, folder: Path) -> Path:
    for address, text in of_the_whole(Computed(loaded)):
        (folder / address).parent.mkdir(parents=True, exist_ok=True)
        (folder / address).write_text(text, "utf-8")
    return folder


@pytest.fixture(scope="module")
def invented() -> Loaded:
    return load_texts({name: text.encode() for name, text in generate(40, seed=3).items()})


def what_is_typed(loaded: Loaded, rng: random.Random, count: int) -> list[str]:
    """Numbers, names and pieces of them, in several spellings, some with something wrong in them."""
    book = loaded.book
    whole = [part.number for part in book.parts] + [kit.number for kit in book.kits.values()]
    whole += [other.number for part in book.parts for other in part.also_numbered] + [mark for part in book.parts for mark in part.stamped]
    names = [one.vehicle for family in book.families.values() for one in family.applications] + list(book.by_gearbox)
    names += [family.title for family in book.families.values()] + [one.title for one in book.connectors.values()]
    names += [name for family in book.families.values() for name in (*family.also_called, *family.trouble_codes, family.id)]
    found = ["P070511", "zz", "2004", " ", "1P" + whole[0], "-", "p0705"]
    for _ in range(count):
        text = rng.choice(rng.choice((whole, names)))
        at = rng.randrange(len(text))
        found.append(
            rng.choice(
                (
                    text,
                    normalise(text),
                    look(normalise(text)).lower(),
                    text[at : at + rng.randrange(1, 8)],
                    text[:at],
                    text.replace("0", "O").replace("1", "l"),
                    f"{text[:at]}{rng.choice('x7 -')}{text[at:]}",
                    f"{text} {rng.choice((2003, 2008, 'Short', 'lever'))}",
                    " ".join(rng.sample(text.split(), len(text.split()))),
                )
            )
        )
    return [text for text in dict.fromkeys(found) if text.strip()]


def without_doubles(found: dict[str, Any]) -> dict[str, Any]:
    return {name: sorted(map(json.dumps, value)) if name == "alike" else value for name, value in found.items()}


def searched(folder: Path, texts: list[str], cut: bool) -> list[tuple[Any, list[str]]]:
    modules = {"book": "shared/book.js", "search": "shared/search.js"}
    return evaluate(modules, FIND, {"folder": folder.as_posix(), "texts": texts, "cut": cut})


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.usefixtures("small_pieces")
def test_pieces_find_what_the_whole_index_finds(loaded: Loaded, invented: Loaded, seed: int, tmp_path: Path) -> None:
    for one in (loaded, invented):
        folder = written(one, tmp_path / str(len(one.book.families)))
        texts = what_is_typed(one, random.Random(seed), 250)
        whole, cut = searched(folder, texts, False), searched(folder, texts, True)
        answered = 0
        for text, (wanted, _), (got, _) in zip(texts, whole, cut, strict=True):
            if got is not None:
                answered += 1
                assert without_doubles(got) == without_doubles(wanted), text
        assert answered > len(texts) / 3


@pytest.mark.usefixtures("small_pieces")
def test_a_book_s_own_stock_and_a_family_s_id_are_looked_up_in_pieces(loaded: Loaded, tmp_path: Path) -> None:
    folder = written(loaded, tmp_path)
    code = f"""{{{BROWSER}
      const one = open();
      const shelf = await one.shelf();
      return [[...shelf.known], await one.knows(given.id), await one.knows(`${{given.id}}x`), await one.knows("../uploads/evil"), asked];
    }}"""
    given = {"folder": folder.as_posix(), "cut": True, "id": next(iter(loaded.book.families))}
    *cut, asked = evaluate({"book": "shared/book.js"}, code, given)
    *whole, _ = evaluate({"book": "shared/book.js"}, code, {**given, "cut": False})
    assert cut == whole and cut[1:] == [True, False, False]
    assert not {"data/numbers.json", "data/names.json"} & set(asked)


def test_a_small_book_has_no_pieces_and_a_device_keeps_none(loaded: Loaded, tmp_path: Path) -> None:
    addresses = [address for address, _ in of_the_whole(Computed(loaded))]
    assert not [one for one in addresses if one.startswith((pieces.FOLDER, "data/identify/"))]
    sizes = {"index.html": 1, "data/numbers.json": 1, "data/names.json": 1, "data/identify.json": 1}
    cut = {pieces.HEAD_URL: 1, "data/find/words/0.json": 1, "data/identify/looks.json": 1, "data/identify/block/0.json": 1}
    assert set(choose({**sizes, **cut}, ["head", "looks", "0"], []).paths) == set(sizes)


ASK = f"""{{{BROWSER}
  const found = [];
  for (const [state, vehicle] of given.states) {{
    const one = open();
    const data = await one.table();
    const whole = {{table: narrowing.openTable(data), titles: data.titles, need: async () => false}};
    const before = asked.length;
    let known = given.cut ? pieces.openLooks(await one.looks(), one.looked) : whole;
    for (let turn = 0; ; turn++) {{
      const {{table}} = known;
      try {{
        await known.need(narrowing.familiesOf(table, narrowing.narrow(table, state)).slice(0, 8));
        const narrowed = narrowing.narrow(table, state);
        const shown = new Set(narrowing.familiesOf(table, narrowed).slice(0, 8));
        const said = {{
          left: narrowed.rows,
          shown: narrowing.familiesOf(table, narrowed).slice(0, 8).map((at) => [table.families[at], known.titles[at]]),
          numbers: narrowed.rows.filter((row) => shown.has(table.rows[row].family)).map((row) => table.rows[row].number),
          question: narrowing.nextQuestion(table, state, vehicle, narrowed),
          confirming: narrowing.confirmingQuestion(table, state, vehicle, narrowed),
          mirrored: narrowing.mirrored(table, state, narrowed),
          seats: narrowed.rows.length === 1 ? narrowed.places.get(narrowed.rows[0]).map((at) => table.places[at].seat) : null,
        }};
        found.push([said, asked.slice(before), known === whole]);
        break;
      }} catch (error) {{
        if (!(error instanceof narrowing.NotLoaded)) throw error;
        const families = narrowing.wantedFor(table, state, turn);
        if (families) await known.need(families);
        else known = whole;
      }}
    }}
  }}
  return found;
}}"""


@pytest.mark.usefixtures("small_pieces")
@pytest.mark.parametrize("which", ["demo", "invented", "odd"])
def test_a_table_in_pieces_asks_what_the_whole_one_asks(loaded: Loaded, invented: Loaded, which: str, tmp_path: Path) -> None:
    one = {"demo": loaded, "invented": invented}.get(which)
    if one is None:
        one = replace(loaded, book=odd_book())
    folder = written(one, tmp_path)
    states = states_of(make_table(Fitter(one.book), urls.seat_key), random.Random(4), 25)
    modules = {"book": "shared/book.js", "narrowing": "identify/narrow.js", "pieces": "identify/looks.js"}
    given = {"folder": folder.as_posix(), "states": json.loads(json.dumps(states)), "cut": True}
    cut, whole = evaluate(modules, ASK, given), evaluate(modules, ASK, {**given, "cut": False})
    in_pieces = 0
    for state, (got, _, is_whole), (wanted, _, _) in zip(states, cut, whole, strict=True):
        in_pieces += not is_whole
        assert got == wanted, state
    assert in_pieces > len(states) / 2


LOOKED_FOR = ("TB-10", "TB-1O263", "Delver", "zz top 99", "P0705", "Short", "inhibitor", "0705")


@pytest.mark.browser
@pytest.mark.usefixtures("small_pieces")
def test_the_pages_of_a_large_book_say_what_those_of_a_small_one_say(
    loaded: Loaded, site_dir: Path, tmp_path: Path, site_url: str, open_tab: Callable[..., Tab]
) -> None:
    large = tmp_path / "site"
    shutil.copytree(site_dir, large, copy_function=os.link)
    for address, text in of_the_whole(Computed(loaded)):
        if address.startswith((pieces.FOLDER, "data/identify/")):
            (large / address).parent.mkdir(parents=True, exist_ok=True)
            (large / address).write_text(text, "utf-8")
    for page, base in (("index.html", "."), ("identify/index.html", "..")):
        text = (large / page).read_text("utf-8").replace('<html lang="en"', f'<html lang="en" data-head="{base}/{pieces.HEAD_URL}"')
        (large / page).unlink()
        (large / page).write_text(re.sub(r'<link rel="preload" [^>]*as="fetch"[^>]*>', "", text), "utf-8")
    server = listen(large, 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        tabs = [open_tab(), open_tab()]
        sites = [site_url, f"http://127.0.0.1:{server.server_port}/"]
        number = loaded.book.parts[0].number
        for text in (number, *LOOKED_FOR):
            said = []
            for tab, site in zip(tabs, sites, strict=True):
                tab.page.goto(f"{site}?{urlencode({'q': text})}")
                tab.come_to_rest()
                said.append(tab.page.locator("[data-find-answer]").inner_text())
            assert said[0] == said[1] and said[0], text
        before = len(tabs[1].seen.asked)
        tabs[1].page.goto(sites[1])
        tabs[1].page.locator("#q").press_sequentially(number, delay=20)
        tabs[1].page.locator("[data-find-answer]").get_by_text(number).first.wait_for()
        assert not [one for one in tabs[1].seen.asked[before:] if one.endswith(("data/numbers.json", "data/names.json"))]
        for tab, site in zip(tabs, sites, strict=True):
            tab.page.goto(f"{site}identify/")
        for _ in range(6):
            for tab in tabs:
                tab.come_to_rest()
            asked = tabs[0].page.locator("[data-identify-place]").inner_text()
            # What is shown of a large book is fetched first, and then put together.
            expect(tabs[1].page.locator("[data-identify-place]")).to_have_text(asked, use_inner_text=True)
            for tab in tabs:
                tab.page.locator(".ask [data-answer]").first.click()
        assert not [one for one in tabs[1].seen.asked if one.endswith("data/identify.json")]
        assert not [*tabs[0].seen.complaints, *tabs[1].seen.complaints]
    finally:
        server.shutdown()
        server.server_close()
