"""The browser reads numbers and matches readings as Python does: both get the same, and have to say the same."""

from __future__ import annotations

import json
import random
import re
from collections import Counter
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page
from tests.electrics.test_diagnosis import random_model
from tests.electrics.test_proof import called, model, pins_of
from tests.fitting.reckoning import POSITIONS

import rangebook.site
from rangebook.book.load import Loaded
from rangebook.desk.proof_sheets import Sheet, cell_token, explanation_data, sheet_of, sheets, tables
from rangebook.desk.prove import explain, explained_data, parse_ohms, reading_rules, units_asked
from rangebook.electrics.cells import Cell, Common, Row, Spans, likely, settled
from rangebook.electrics.diagnosis import Taken
from rangebook.electrics.diagnosis import told as diagnosed
from rangebook.electrics.faults import Explanation
from rangebook.electrics.insulation import OTHERS
from rangebook.electrics.relation import JOINED, OPEN, Relation
from rangebook.electrics.relation import PathKind as Way
from rangebook.electrics.together import ALONE
from rangebook.fitting.fitter import Fitter
from rangebook.site.data.proof import proofs
from rangebook.site.facts.computed import Computed
from rangebook.site.model.proving import FAULT_KINDS

CLIENT = Path(rangebook.site.__file__).parent / "client" / "prove" / "match.js"
INFINITE = "inf"
OF_LADDER = ("drift", "shunted", "step_open", "step_wrong")
MATCHED = "match.explain(sheet, taken.map(([line, at, ohms]) => [line, at, ohms === 'inf' ? Infinity : ohms]), rules)"


@pytest.fixture(scope="module")
def blank(browser: Browser) -> Page:
    page = browser.new_page()
    rules = f"window.rules = {json.dumps(reading_rules())};"
    # One script of the two: what the second takes from the first it has there.
    source = "\n".join(
        re.sub(r"^import .*$", "", one.read_text("utf-8"), flags=re.MULTILINE)
        for one in (CLIENT.with_name("together.js"), CLIENT, CLIENT.with_name("readings.js"))
    )
    page.add_script_tag(
        type="module", content=f"{source}\n{rules}\nwindow.match = {{ parseOhms, explain, expected, unitsAsked, asText, fromText }};"
    )
    page.wait_for_function("() => window.match")
    return page


def known_of(sheet: Sheet) -> list[tuple[Explanation, tuple[Row, ...]]]:
    """The good part and each fault, with what is read on each line."""
    lines = range(len(sheet.faults.lines))
    faults = [one for one in sheet.faults.faults if one.shown]
    rows = [tuple(one.changed.get(line, sheet.faults.good[line]) for line in lines) for one in faults]
    return [(Explanation("good"), sheet.faults.good), *zip((one.explanation for one in faults), rows, strict=True)]


def shows(cell: Cell, factor: float = 1.5, siemens: float = 1e-3) -> float:
    """What a meter would show of a cell."""
    if isinstance(cell, Common):
        cell = settled(cell, Spans((factor, factor), (siemens, siemens)))
    return 0.3 if (ohms := likely(cell)) is None else ohms


def meter(rng: random.Random, nominal: float | None, tolerance: float) -> float:
    """A reading near what is expected, at its bounds or far off; the bounds of the tolerance are where the two could differ."""
    choices = [0.0, 0.3, 0.999999, 1.0, 1.5, 999_999.0, 1e6, 1_000_001.0, float("inf"), rng.uniform(0, 20_000)]
    if nominal:
        choices += [nominal * (1 + sign * part * tolerance / 100) for sign in (-1, 1) for part in (0, 0.5, 1, 1 + 1e-9, 1 + 1e-6, 1.1)] * 3
    return rng.choice(choices)


def test_random_readings_say_the_same_in_both(blank: Page, loaded: Loaded, fitter: Fitter) -> None:
    """Every part of the demo book, on the bench: one set of readings, of a ladder two, most of them of a planted fault with some noise."""
    rng = random.Random(12)
    computed = Computed(loaded, fitter)
    asked, wanted, told = [], [], set()
    planted: Counter[str] = Counter()
    for family in loaded.book.families.values():
        data = json.loads(json.dumps(proofs(computed, family)))
        for part in family.parts:
            bench, sheet = sheets(fitter, part)[0], data["parts"][part.key]["sheets"][0]
            cells = [(line, at) for line in range(len(sheet["lines"])) for at in range(len(sheet["positions"]))]
            if not cells:
                continue
            ladder = any(one.ohms is not None for one in part.contacts or ())
            for of_ladder in (False, True) if ladder else (False,):
                every = [one for one in known_of(bench) if one[0].kind == "good" or one[1] != bench.faults.good]
                # Each kind in turn, as far as a part can have it.
                kind = min(sorted({one.kind for one, _ in every if not of_ladder or one.kind in OF_LADDER}), key=lambda one: planted[one])
                planted[kind] += 1
                _, rows = rng.choice([one for one in every if one[0].kind == kind])
                taken = []
                whole = kind == "good" or rng.random() < 0.2
                for line, at in cells if whole else rng.sample(cells, rng.randint(1, len(cells))):
                    one = rows[line][at]
                    if one is not None and (whole or rng.random() < 0.99):
                        ohms = shows(one) * (1 + rng.uniform(-0.5, 0.5) * 0.02)
                    else:
                        good = bench.faults.good[line][at]
                        ohms = meter(rng, good.ohms if good else None, good.tolerance_percent or 10 if good else 10)
                    if kind != "good" and sheet["lines"][line][1] == OTHERS and one == OPEN and rng.random() < 0.1:
                        ohms = rng.choice([0.0, 300.0, 4e5])
                    taken.append((line, at, ohms))
                insulated = [line for line, _ in sheet["insulation"]]
                explained = diagnosed(bench.faults, family.positions, insulated, [Taken(*one) for one in taken])
                follow = explained.next
                at_line = follow and next((n for n, one in enumerate(sheet["lines"]) if one[:2] == [follow.a, follow.b]), None)
                found = [
                    [explanation_data(one) for one in explained.told],
                    None if at_line is None else [at_line, sheet["positions"].index(follow.position)],
                ]
                asked.append([sheet, [[line, at, INFINITE if ohms == float("inf") else ohms] for line, at, ohms in taken]])
                wanted.append(found)
                told.update(each["kind"] for one in found[0] for each in (one, *one.get("of", ())))
    said = blank.evaluate(
        "(asked) => { const data = ({ kind, ends, of }) => of ? { kind, of: of.map(data) } : { kind, about: ends };"
        f"return asked.map(([sheet, taken]) => {{ const found = {MATCHED}; return [found.told.map(data), found.next]; }}); }}",
        asked,
    )
    assert said == wanted
    assert told >= {"good", "not_proved", "pair", *FAULT_KINDS}, "and every kind of fault came up"
    assert any(not one for one, _ in wanted) and any(len(one) > 1 for one, _ in wanted)


def test_two_faults_say_the_same_in_both(blank: Page, loaded: Loaded, fitter: Fitter) -> None:
    """Two faults that do not lie apart are reckoned anew in both: for parts of the demo book, at a plug too, and for random ones, with
    ladders and diodes and with pins of which nothing is stated. Some readings are left out, some are off."""
    rng = random.Random(29)
    places = [sheet for part in loaded.book.parts[::3] for sheet in sheets(fitter, part)[:2]]
    for seed in range(20):
        _, node, part = random_model(700 + seed)
        if seed % 3 == 0 and "closed" in node["contacts"][0]:
            (part,) = model({**node, "contacts": [{**node["contacts"][0], "one_way": True}, *node["contacts"][1:]]})
        if seed % 4 == 1:
            (part,) = model({**node, "contacts": [{"pins": node["contacts"][0]["pins"]}, *node["contacts"][1:]]})
        places.append(sheet_of(part, pins_of(part), POSITIONS, called(part)))
    asked, wanted, kinds = [], [], set()
    for sheet in places:
        faults, positions = sheet.faults, sheet.proof.positions
        able = [one for one in faults.faults if one.kind not in ALONE]
        if len(able) < 2:
            continue
        two = rng.sample(able, 2)
        cells = [(line, at) for line in range(len(faults.lines)) for at in range(len(positions)) if rng.random() < 0.8]
        taken = [Taken(line, at, shows(faults.net.cell(two, line, at)) * (1 + rng.uniform(-0.01, 0.01))) for line, at in cells]
        insulated = [line for line, (_, b) in enumerate(faults.lines) if b == OTHERS]
        found = diagnosed(faults, positions, insulated, taken)
        follow = found.next and [faults.lines.index((found.next.a, found.next.b)), positions.index(found.next.position)]
        wanted.append([[explanation_data(one) for one in found.told], follow])
        shown = [[line, at, INFINITE if ohms == float("inf") else ohms] for line, at, ohms in taken]
        lines = [[a, b, "", []] for a, b in faults.lines]
        asked.append(
            [{**tables(faults), "lines": lines, "positions": list(positions), "insulation": [[line, ""] for line in insulated]}, shown]
        )
        kinds |= {of.kind for one in found.told for of in one.of}
    said = blank.evaluate(
        "(asked) => { const data = ({ kind, ends, of }) => of ? { kind, of: of.map(data) } : { kind, about: ends };"
        f"return asked.map(([sheet, taken]) => {{ const found = {MATCHED}; return [found.told.map(data), found.next]; }}); }}",
        json.loads(json.dumps(asked)),
    )
    assert said == wanted
    assert len(kinds) > 10


def test_the_command_line_tells_the_same(blank: Page, loaded: Loaded, fitter: Fitter) -> None:
    """A planted fault on every third part, on the bench and at its first plug: `prove --json` with the readings as typed, and the page."""
    rng = random.Random(17)
    computed = Computed(loaded, fitter)
    asked, wanted = [], []
    for part in loaded.book.parts[::3]:
        data = json.loads(json.dumps(proofs(computed, loaded.book.families[part.family])))["parts"][part.key]["sheets"]
        for own, sheet in list(zip(sheets(fitter, part), data, strict=True))[:2]:
            hard = [one for one in known_of(own) if one[0].kind in ("good", "stuck_open", "stuck_closed", "burnt", "step_wrong", "swapped")]
            _, rows = rng.choice(hard) if hard else (None, ())
            texts, taken = [], []
            for line, row in enumerate(rows):
                for at, cell in enumerate(row):
                    if cell is None or rng.random() < 0.3:
                        continue
                    ohms = shows(cell)
                    a, b, *_ = sheet["lines"][line]
                    texts.append(f"{a}-{b} {sheet['positions'][at]} {'OL' if ohms == float('inf') else f'{ohms:.6f} ohm'}")
                    taken.append([line, at, INFINITE if ohms == float("inf") else round(ohms, 6)])
            if taken:
                found = explained_data(explain(fitter, part.number, texts, sheet["plugs"][0] if sheet["plugs"] else ""))
                follow = found["next"]
                line = next((n for n, one in enumerate(sheet["lines"]) if follow and one[:2] == [follow["a"], follow["b"]]), None)
                wanted.append([found["told"], None if line is None else [line, sheet["positions"].index(follow["position"])]])
                asked.append([sheet, taken])
    said = blank.evaluate(
        "(asked) => { const data = ({ kind, ends, of }) => of ? { kind, of: of.map(data) } : { kind, about: ends };"
        f"return asked.map(([sheet, taken]) => {{ const found = {MATCHED}; return [found.told.map(data), found.next]; }}); }}",
        asked,
    )
    assert said == wanted
    assert len({one["kind"] for told, _ in wanted for one in told}) > 8


def test_a_figure_without_its_unit_is_asked_for_in_both(blank: Page) -> None:
    cells = [Relation(Way.OHMS, ohms, 5) for ohms in (150, 680, 2200, 4700, 2e6)] + [JOINED, OPEN, None]
    rng = random.Random(3)
    texts = ["4.7", "4,7", "0.68", "2", "2.2", "", "OL", "4.7k", "4.7 ohm", ".", *(f"{rng.uniform(0, 9):.2f}" for _ in range(60))]
    asked = [[text, cell_token(cell)] for text in texts for cell in cells]
    said = blank.evaluate("(asked) => asked.map(([text, cell]) => match.unitsAsked(text, cell, rules))", asked)
    assert said == [list(units_asked(text, cell)) for text in texts for cell in cells]


def test_readings_go_into_a_link_and_come_back(blank: Page) -> None:
    sheet = {"lines": [["1", "X.2", "", []], ["1", "others", "", []]], "positions": ["P", "R"]}
    typed = {"0/0": "4.7 ohm", "0/1": "OL", "1/1": "2M"}
    text, back = blank.evaluate(
        "([sheet, typed]) => { const text = match.asText(sheet, typed); return [text, match.fromText(sheet, text)]; }", [sheet, typed]
    )
    assert text == "1-X.2 P 4.7 ohm;1-X.2 R OL;1-others R 2M" and back == typed
    assert blank.evaluate("([sheet, text]) => match.fromText(sheet, text)", [sheet, "1-9 P 3;1-X.2 Q 3;x;X.2-1 P 3"]) == {"0/0": "3"}


def test_numbers_as_people_write_them(blank: Page) -> None:
    texts = [
        "0.3",
        "4.3k",
        "4,3k",
        "4.3K",
        "2M",
        "2 M",
        "2m",
        "1,200",
        "1,200k",
        "12,5",
        "1.200",
        "OL",
        "ol",
        "0L",
        "open",
        "∞",
        "",
        " ",
        ".",
    ]
    texts += [
        ",",
        "k",
        "5k5",
        "-3",
        "1e3",
        "0x10",
        "٣",
        "300 ohm",
        "4.7kΩ",
        "4.7kΩ",
        "1.2.3",
        "4.",
        ".5",
        ",5",
        "9" * 13,
        "inf",
        "Infinity",
    ]
    rng = random.Random(5)
    texts += ["".join(rng.choices("0123456789.,kKMmOL Ωohm", k=rng.randint(1, 7))) for _ in range(3000)]
    wanted = [parse_ohms(text) for text in texts]
    said = blank.evaluate(
        "(texts) => texts.map((text) => { const one = match.parseOhms(text, rules); return one === Infinity ? 'inf' : one; })", texts
    )
    assert said == [INFINITE if one == float("inf") else one for one in wanted]
    # From memory, common practice: k is a thousand and M a million; a small m is a thousandth.
    assert [parse_ohms(text) for text in ("4.3k", "4,3 k", "2M", "OL")] == [4300, 4300, 2e6, float("inf")]
    assert [parse_ohms(text) for text in ("2m", "1,200", "-3", "1e3", "")] == [None] * 5


def test_a_fault_that_shows_is_never_called_good(blank: Page, loaded: Loaded, fitter: Fitter) -> None:
    """With all readings of the sheet taken, no planted fault of one contact that the bench can show passes as good; and a good part
    does. The readings are those of a faulty part, taken from the signature of all its pairs, not from the file."""
    computed = Computed(loaded, fitter)
    asked, kinds = [], []
    for family in loaded.book.families.values():
        data = json.loads(json.dumps(proofs(computed, family)))
        for part in family.parts:
            bench, sheet = sheets(fitter, part)[0], data["parts"][part.key]["sheets"][0]
            for explanation, rows in known_of(bench):
                if explanation.kind not in ("good", "stuck_open", "stuck_closed"):
                    continue
                taken = [
                    [line, at, one.ohms if one.path is Way.OHMS else 0.1 if one == JOINED else INFINITE]
                    for line, row in enumerate(rows)
                    for at, one in enumerate(row)
                    if one is not None
                ]
                asked.append([sheet, taken])
                kinds.append((part.number, explanation))
    said = blank.evaluate(
        f"(asked) => asked.map(([sheet, taken]) => {MATCHED}.told.some(({{ kind }}) => kind === 'good'))",
        asked,
    )
    for (number, explanation), good in zip(kinds, said, strict=True):
        if explanation.kind == "good":
            assert good, number
        else:
            contacts = [one for one in loaded.book.part(number).contacts if (one.a, one.b) == explanation.about]
            # A contact that is known in every position and fails is seen; where it is not stated, nothing can be said. What a meter shows
            # across a diode goes by the meter: of that the sheet's notes tell.
            if contacts and all((one.closed is not None or one.ohms is not None) and not one.one_way for one in contacts):
                assert not good, (number, explanation)
