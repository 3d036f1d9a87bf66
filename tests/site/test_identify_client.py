"""The browser narrows and asks as Python does: both get the same states, and have to say the same."""

from __future__ import annotations

import base64
import json
import random
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from faker import Faker
from playwright.sync_api import Browser, Page, Route
from tests.making import MOUNT, application, book, connector, family, part, plug
from tests.oracles.vin import check_digit, model_year

import rangebook.site
from generate import generate
from rangebook.book.load import Loaded, load_texts
from rangebook.desk.identify.data import as_data
from rangebook.desk.identify.narrow import OTHER, mirrored, narrow
from rangebook.desk.identify.questions import next_question
from rangebook.desk.identify.table import Table, make_table
from rangebook.fitting.fitter import Fitter

CLIENT = Path(rangebook.site.__file__).parent / "client"

CLIENT_URL = "https://client.invalid/"
"""Where a script that imports others is taken from; nothing of it leaves the test."""
WAYS_TO_READ_A_VIN = {"length", "letter", "character", "check_digit", "year_code", "certain", "either", "later"}

ANSWER = """
async ([source, data, states]) => {
  const {openTable, narrow, nextQuestion, mirrored} = await import(source);
  const table = openTable(data);
  return states.map(([state, vehicle]) => {
    const narrowed = narrow(table, state);
    return {
      rows: narrowed.rows,
      places: [...narrowed.places],
      aside: [...narrowed.aside],
      mirrored: mirrored(table, state, narrowed),
      question: nextQuestion(table, state, vehicle),
    };
  });
}
"""


def module(name: str) -> str:
    """A module of the client, as an address that needs no server."""
    return "data:text/javascript;base64," + base64.b64encode((CLIENT / name).read_bytes()).decode()


def from_the_client(route: Route) -> None:
    """A script of the client, for a page that is nowhere."""
    path = CLIENT / route.request.url.removeprefix(CLIENT_URL)
    route.fulfill(path=path, headers={"Content-Type": "text/javascript", "Access-Control-Allow-Origin": "*"})


@pytest.fixture(scope="module")
def blank(browser: Browser) -> Page:
    return browser.new_page()


def plainly(value: Any) -> Any:
    """As it comes back from the browser."""
    return json.loads(json.dumps(value))


def by_python(table: Table, state: dict[str, Any], vehicle: bool) -> dict[str, Any]:
    narrowed = narrow(table, state)
    question = next_question(table, state, vehicle)
    return plainly(
        {
            "rows": narrowed.rows,
            "places": list(narrowed.places.items()),
            "aside": list(narrowed.aside.items()),
            "mirrored": [asdict(one) for one in mirrored(table, state, narrowed)],
            "question": question and asdict(question),
        }
    )


def states_of(table: Table, chance: random.Random, walks: int) -> list[tuple[dict[str, Any], bool]]:
    """Random walks along the questions, with answers true and false, patterns in part and in mirror image, and "can't tell"."""
    found: list[tuple[dict[str, Any], bool]] = []
    for _ in range(walks):
        state: dict[str, Any] = {}
        vehicle = chance.random() < 0.7
        while question := next_question(table, state, vehicle):
            found.append((dict(state), vehicle))
            if question.kind == "cavities":
                face = table.faces[table.face_at[question.face or ""]]
                marked = [(label, chance.choice(["yes", "no", ""])) for label in face.cavities]
                rows = [table.rows[at] for at in narrow(table, state).rows if table.rows[at].pins]
                if rows and chance.random() < 0.7:
                    row = chance.choice(rows)
                    pattern = row.pins or ""
                    if chance.random() < 0.5:
                        pattern = pattern[::-1]
                    marked = [(label, "yes" if has == "1" else "no") for label, has in zip(face.cavities, pattern, strict=False)]
                value: Any = {"face": face.id, **{side: [label for label, what in marked if what == side] for side in ("yes", "no")}}
            else:
                value = chance.choice([None, OTHER if question.kind == "choice" else None, *(value for value, _ in question.answers)])
                if question.id == "year" and isinstance(value, int) and chance.random() < 0.5:
                    value = [value, value + 30]
            state[question.id] = value
        found.append((dict(state), vehicle))
    return found


def agree(blank: Page, table: Table, states: list[tuple[dict[str, Any], bool]]) -> None:
    said = blank.evaluate(ANSWER, [module("identify/narrow.js"), plainly(as_data(table)), plainly(states)])
    for (state, vehicle), browser_says in zip(states, said, strict=True):
        assert plainly(browser_says) == by_python(table, state, vehicle), state


def test_on_the_demo_book(blank: Page, loaded: Loaded, fitter: Fitter) -> None:
    table = make_table(fitter)
    states = states_of(table, random.Random(1), 60)
    assert len(states) > 150
    assert any(mirrored(table, state, narrow(table, state)) for state, _ in states)
    agree(blank, table, states)


def test_on_an_invented_book(blank: Page) -> None:
    texts = {name: text.encode() for name, text in generate(24, seed=5).items()}
    table = make_table(Fitter(load_texts(texts).book))
    agree(blank, table, states_of(table, random.Random(2), 40))


def test_on_a_book_with_all_that_is_odd(blank: Page) -> None:
    """Rows of unlike length, places without a cavity, optional wires, facts left out, marks, sizes within each other's tolerance."""
    odd = [["1", "2", "3", "4"], ["-", "A", "B"], ["5"]]
    shaft = {
        name: {**MOUNT, "shaft": {"shape": "square", "across_mm": size}} for name, size in (("a", 9.5), ("b", 9.6), ("c", 9.7), ("d", 14))
    }
    table = make_table(
        Fitter(
            book(
                {**connector("c", 1), "rows": odd},
                {**connector("cc", 1), "rows": odd},
                connector("q", 5),
                family(
                    "f",
                    [
                        part("A-1", pins={"1": "ground", "A": "ground"}, mount="a", stamped=["{mark}", "äöü €"]),
                        part("A-2", connector="cc", pins={"1": "ground", "B": "ground", "5": "ground"}, mount="b", stamped=["$& $1"]),
                        part("A-3", connector="q", mount="c"),
                        part("A-4", connector="q", pins={"2": "ground"}, mount="d"),
                        part("A-5", connector=None, mount=None),
                        part("A-6", connector="nowhere", mount="d", stamped=["äöü €"]),
                    ],
                    mounts={**shaft, "vague": {"note": "?"}},
                    gearboxes=["Tamblin Short", "Tamblin Stage"],
                    plugs={"p": plug("1234", of="c"), "s": plug(["1", "A", "B", "5", "3", "4"], of="c")},
                    applications=[
                        application("p", "A-1", optional_cavities=["3", "4"]),
                        application("s", "A-2", vehicle="Corran Ünder", years="2010-", optional_cavities=["A", "B", "5", "3", "4"]),
                        {"vehicle": "Corran Zug", "gearbox": "Tamblin Stage", "plug": "s", "came_with": "A-2"},
                        {"vehicle": "Corran Yawl", "years": "1999", "plug": "s", "came_with": "A-2"},
                    ],
                ),
                family("g", [part("G-1", connector="q", pins={"1": "ground", "2": "ground"}, mount=None)], gearboxes=["Åby 2"]),
            )
        )
    )
    agree(blank, table, states_of(table, random.Random(3), 150))


def test_what_was_sent_by_somebody_else_and_fits_nothing(blank: Page, fitter: Fitter) -> None:
    table = make_table(fitter)
    states: list[tuple[dict[str, Any], bool]] = [
        ({"outline": "triangular"}, True),
        ({"pins": {"face": "nowhere", "yes": ["1"], "no": []}}, True),
        ({"pins": {"face": table.faces[0].id, "yes": ["99"], "no": []}}, True),
        ({"stamped:nobody's mark": True, "vehicle": "nobody's car"}, True),
        ({"gearbox": None, "wires": 400}, False),
    ]
    agree(blank, table, states)


def test_the_year_in_a_vin(blank: Page) -> None:
    chance = random.Random(4)
    fake = Faker()
    fake.seed_instance(4)
    texts = [
        "",
        "1" * 17,
        "1" * 16,
        "1" * 18,
        "IOQ" + "1" * 14,
        "*" * 17,
        "ä" * 17,
        "\U0001f697" * 17,
        " 1-1 " + "1" * 15,
        "1" * 8 + "X" + "1" * 8,
    ]
    texts += [fake.vin() for _ in range(200)]
    texts += ["".join(chance.choices("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", k=17)) for _ in range(50)]
    for text in list(texts[-250:]):
        if not set(text) & set("IOQ"):
            texts.append(text[:8] + check_digit(text) + text[9:])
    asked = [[text, newest] for text in texts for newest in (None, 2027)]
    blank.route(f"{CLIENT_URL}**", from_the_client)
    said = blank.evaluate(
        "async ([source, asked]) => { const {modelYear} = await import(source);"
        " return asked.map(([text, newest]) => modelYear(text, newest)); }",
        [f"{CLIENT_URL}shared/vin.js", asked],
    )
    assert {one["found"] for one in said} == WAYS_TO_READ_A_VIN
    for (text, newest), one in zip(asked, said, strict=True):
        wanted = model_year(str(text), newest)
        assert (one["vin"], one["years"], one["found"]) == (wanted.vin, list(wanted.years), wanted.found), text
        assert all(figure in one["why"] for figure in wanted.figures) and "{" not in one["why"], text
