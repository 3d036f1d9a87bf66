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
from tests.identifying import odd_book, seen_from_the_wrong_side, states_of
from tests.oracles.vin import check_digit, model_year

import rangebook.site
from generate import generate
from rangebook.book.load import Loaded, load_texts
from rangebook.desk.identify.answers import flag_of, read_flags
from rangebook.desk.identify.data import as_data
from rangebook.desk.identify.narrow import mirrored, narrow
from rangebook.desk.identify.questions import confirming_question, next_question
from rangebook.desk.identify.table import Table, make_table
from rangebook.fitting.fitter import Fitter

CLIENT = Path(rangebook.site.__file__).parent / "client"

CLIENT_URL = "https://client.invalid/"
"""Where a script that imports others is taken from; nothing of it leaves the test."""
WAYS_TO_READ_A_VIN = {"length", "letter", "character", "check_digit", "year_code", "certain", "either", "later"}

ANSWER = """
async ([source, data, states]) => {
  const {openTable, narrow, nextQuestion, confirmingQuestion, mirrored} = await import(source);
  const table = openTable(data);
  return states.map(([state, vehicle]) => {
    const narrowed = narrow(table, state);
    return {
      rows: narrowed.rows,
      places: [...narrowed.places],
      aside: [...narrowed.aside],
      mirrored: mirrored(table, state, narrowed),
      question: nextQuestion(table, state, vehicle),
      confirming: confirmingQuestion(table, state, vehicle),
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
    confirming = confirming_question(table, state, vehicle)
    return plainly(
        {
            "rows": narrowed.rows,
            "places": list(narrowed.places.items()),
            "aside": list(narrowed.aside.items()),
            "mirrored": [asdict(one) for one in mirrored(table, state, narrowed)],
            "question": question and asdict(question),
            "confirming": confirming and asdict(confirming),
        }
    )


def agree(blank: Page, table: Table, states: list[tuple[dict[str, Any], bool]]) -> None:
    said = blank.evaluate(ANSWER, [module("identify/narrow.js"), plainly(as_data(table)), plainly(states)])
    for (state, vehicle), browser_says in zip(states, said, strict=True):
        assert plainly(browser_says) == by_python(table, state, vehicle), state


def test_on_the_demo_book(blank: Page, loaded: Loaded, fitter: Fitter) -> None:
    table = make_table(fitter)
    states = states_of(table, random.Random(1), 60)
    assert len(states) > 150
    states += seen_from_the_wrong_side(table)
    assert any(mirrored(table, state, narrow(table, state)) for state, _ in states)
    agree(blank, table, states)


def test_on_an_invented_book(blank: Page) -> None:
    texts = {name: text.encode() for name, text in generate(24, seed=5).items()}
    table = make_table(Fitter(load_texts(texts).book))
    agree(blank, table, states_of(table, random.Random(2), 40))


def test_on_a_book_with_all_that_is_odd(blank: Page) -> None:
    table = make_table(Fitter(odd_book()))
    agree(blank, table, states_of(table, random.Random(3), 150))


def test_an_address_and_the_flags_of_the_command_line_are_one(blank: Page, fitter: Fitter) -> None:
    for table, seed in ((make_table(fitter), 5), (make_table(Fitter(odd_book())), 6)):
        states = [state for state, _ in states_of(table, random.Random(seed), 40) if state]
        read = blank.evaluate(
            "async ([source, states]) => { const {fromQuery, toQuery} = await import(source);"
            " return states.map((state) => [fromQuery(`?${toQuery(state)}`), [...new URLSearchParams(toQuery(state))]]); }",
            [module("identify/address.js"), plainly(states)],
        )
        assert len(states) > 60
        for state, (back, query) in zip(states, read, strict=True):
            flags = [f"{name}={text}" for name, text in query]
            assert plainly(read_flags(table, flags)) == back == plainly(state), flags
            assert [flag_of(name, value) for name, value in state.items()] == flags


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
