"""Proving a part with a meter, as a person asks for it."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from tests.making import application, book, connector, family, part, plug

from rangebook.book.load import load
from rangebook.cli import main
from rangebook.desk.fit import NotInBook
from rangebook.desk.notes import said_of
from rangebook.desk.proof_sheets import ProvedAt, places, sheet_of
from rangebook.desk.prove import ReadingError, apart, as_data, explain, explanation_words, parse_reading, proof_lines, prove, units_asked
from rangebook.electrics.relation import JOINED, OPEN, PathKind, Relation
from rangebook.fitting.fitter import Fitter

ROOT = Path(__file__).parents[2]
PINS = {"1": "start_feed", "2": "start_out", "3": "range_signal", "4": "range_return", "5": "code_1"}
CONTACTS = [
    {"pins": ["1", "2"], "closed": ["P", "N"]},
    {"pins": ["3", "4"], "ohms": {"P": 1000, "R": 2000, "N": 3000, "D": 4000}, "tolerance_percent": 5},
    {"pins": ["5", "case"], "closed": ["R"]},
]


@pytest.fixture
def fitter() -> Fitter:
    other = [*CONTACTS[:1], {**CONTACTS[1], "ohms": {"P": 1000, "R": 2000, "N": 3000, "D": 8000}}, CONTACTS[2]]
    return Fitter(
        book(
            connector("c", 6),
            family(
                "f",
                [part("A-1", pins=PINS, contacts=CONTACTS), part("B-1", pins={**PINS, "6": "not_connected"}, contacts=other)],
                plugs={"p": plug({key: PINS[key] for key in "1234"}, reads={"pins": ["3", "4"], "pull_up_ohms": 1000, "volts": 5})},
                applications=[application("p", "A-1")],
            ),
        )
    )


def bench(fitter: Fitter) -> ProvedAt:
    return next(places(fitter, fitter.book.parts[0]))


def test_everything_that_proves_a_part(fitter: Fitter) -> None:
    found = prove(fitter, "a1")
    assert [(one.a, one.b) for one in found.bench.probes] == [("1", "2"), ("3", "4"), ("5", "case")]
    ((_, at_plug),) = found.at_plug
    assert [(one.a, one.b) for one in at_plug.probes] == [("1", "2"), ("3", "4")], "cavity 5 carries no wire"
    ((_, windows),) = found.windows
    # Ohm's law: 1000 ohm against a pull-up of 1000 ohm halves the 5 V.
    assert windows["P"].nominal == pytest.approx(2.5) and windows["P"].low < 2.5 < windows["P"].high
    text = "\n".join(line for _, line in proof_lines(found))
    assert "1000 Ω ±5%" in text and "2.50 V" in text and "common practice" in text
    assert "2 - others: tie 1, 3, 4, 5 and case together" in text and re.search(r"2 - others +closed +open +closed +open", text)
    assert "cannot be proved from here" in text and "P and N have the same code" in text


def test_two_look_alikes(fitter: Fitter, capsys: pytest.CaptureFixture) -> None:
    one, two, telling = apart(fitter, "A-1", "B-1")
    assert (one.number, two.number, telling.a, telling.b, list(telling.readings)) == ("A-1", "B-1", "3", "4", ["D"])


@pytest.mark.parametrize(
    ("text", "ohms"),
    [
        ("1-2 P 0.3", 0.3),
        ("1-2 P=0.3 ohm", 0.3),
        ("3-4 R 2.0k", 2000),
        ("3 - 4 R 2M", 2e6),
        ("5-case R open", float("inf")),
        ("1-2 N OL", float("inf")),
    ],
)
def test_readings_as_people_write_them(fitter: Fitter, text: str, ohms: float) -> None:
    assert parse_reading(text, bench(fitter)).ohms == pytest.approx(ohms)


@pytest.mark.parametrize(
    ("text", "says"),
    [("1-2 0.3", "not a reading"), ("1-9 P 0.3", "no pin 9"), ("1-2 X 0.3", "no position X"), ("1-2 P 1.2.3", "not a number")],
)
def test_readings_that_cannot_be_understood(fitter: Fitter, text: str, says: str) -> None:
    with pytest.raises(ReadingError, match=says):
        parse_reading(text, bench(fitter))


def test_which_fault_explains_the_readings(fitter: Fitter) -> None:
    found = explain(fitter, "A-1", ["1-2 P 0.2", "1-2 R open", "1-2 N 0.2", "1-2 D 0.3", "3-4 P 1.01k"]).found
    assert found.told == (), "closed in D, open in R: no single fault of one contact, for stuck closed would show in R"
    found = explain(fitter, "A-1", [f"1-2 {at} 0.2" for at in "PRND"] + ["3-4 R 1990"]).found
    assert [explanation_words(one) for one in found.told] == ["the contact 1 - 2 does not open, or the two are shorted"]


def test_good_is_said_only_with_the_insulation_read(fitter: Fitter, capsys: pytest.CaptureFixture) -> None:
    contacts = ["1-2 P 0.2", "1-2 R OL", "1-2 N 0.2", "1-2 D OL", "5-case P OL", "5-case R 0.3", "5-case N OL", "5-case D OL"]
    contacts += [f"3-4 {at} {ohms}" for at, ohms in CONTACTS[1]["ohms"].items()]
    tied = {"P": "0.2", "R": "OL", "N": "0.2", "D": "OL"}
    found = explain(fitter, "A-1", contacts).found
    assert [one.kind for one in found.told] == ["not_proved"] and "insulation of 2 is not read" in explanation_words(found.told[0])
    found = explain(fitter, "A-1", [*contacts, *(f"2-others {at} {ohms}" for at, ohms in tied.items())]).found
    assert [one.kind for one in found.told] == ["good"]
    found = explain(fitter, "A-1", [*contacts, *(f"2-others {at} {ohms}" for at, ohms in {**tied, "D": "300k"}.items())]).found
    assert [explanation_words(one) for one in found.told] == [
        "2 has a path to another pin or to the housing where it must have none: not good, do not fit it"
    ]
    with pytest.raises(ReadingError, match="on A-1 that is 2"):
        explain(fitter, "A-1", ["3-others P OL"])


def test_nothing_comes_before_the_first_position(fitter: Fitter) -> None:
    """P has to read 1000 ohms and R 2000: 4400 ohms in P is no position that the switch could be in."""
    found = explain(fitter, "A-1", ["3-4 P 4400"]).found
    assert found.told and "detent" not in {one.kind for one in found.told}
    found = explain(fitter, "A-1", ["3-4 P 4400", "3-4 R 2000", "3-4 N 3000", "3-4 D 4000"]).found
    assert [explanation_words(one) for one in found.told] == ["the resistance 3 - 4 is wrong in P alone"]
    assert found.next is None


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("4.7", ("4.7 ohm", "4.7k")),
        ("4,7", ("4,7 ohm", "4,7k")),
        ("4.7k", ()),
        ("4.7 ohm", ()),
        ("4700", ()),
        ("0.0047", ("0.0047 ohm", "0.0047M")),
        ("37", ()),
        ("OL", ()),
    ],
)
def test_a_figure_without_its_unit_is_asked_for(text: str, units: tuple[str, ...]) -> None:
    """4.7 on a meter whose k is overlooked, where 4.7 k should be read. 37 is neither: 37 k is eight times too much."""
    assert units_asked(text, Relation(PathKind.OHMS, 4700, 5)) == units
    assert units_asked(text, OPEN) == units_asked(text, JOINED) == units_asked(text, None) == ()


def test_a_figure_without_its_unit_on_the_command_line(fitter: Fitter) -> None:
    with pytest.raises(ReadingError, match=r"2\.1 ohm or 2\.1k"):
        explain(fitter, "A-1", ["3-4 R 2.1"])
    assert explain(fitter, "A-1", ["3-4 R 2.1k"]).found.told[0].kind != "good"
    assert {one.kind for one in explain(fitter, "A-1", ["3-4 R 2.1 ohm"]).found.told} >= {"step_wrong"}


def test_at_the_plug_of_the_vehicle(fitter: Fitter) -> None:
    """Cavity 5 has no wire there: nothing of it can be read."""
    assert {one.kind for one in explain(fitter, "A-1", ["1-2 P OL", "1-2 N OL"], "p").found.told} >= {"stuck_open"}
    with pytest.raises(ReadingError, match="no pin 5"):
        explain(fitter, "A-1", ["5-case P OL"], "p")
    with pytest.raises(ReadingError, match="it goes on p"):
        explain(fitter, "A-1", ["1-2 P OL"], "q")


@pytest.mark.parametrize("seat", ["p", "f/p", "f/p/A-1"])
def test_the_sheet_of_one_seat(fitter: Fitter, seat: str) -> None:
    """By any of its names, in words and as data; what is no seat of the part is refused, as one of another family is."""
    lines = [text for _, text in proof_lines(prove(fitter, "A-1", seat))]
    (sheet,) = as_data(fitter, "A-1", seat)["sheets"]
    assert sheet["plugs"] == ["p"] and any("plug p" in line for line in lines)
    assert len(as_data(fitter, "A-1")["sheets"]) > 1
    for other in ("g/p", "f/p/A-9"):
        with pytest.raises(ReadingError, match="it goes on p"):
            as_data(fitter, "A-1", other)


def test_notes_of_a_fault() -> None:
    """By the beginnings of words; tables are none, and what names other parts alone is not said of this one."""
    prose = """The track wears in D.

## Wet ones

Water gets **in** at the [seal](x.md).

| burnt | P |
|---|---|

B-1 burns.

Green lid.
"""
    made = book(connector("c", 6), family("f", [part("A-1", pins=PINS, contacts=CONTACTS), part("B-1", pins=PINS)]))
    own = replace(made.families["f"], entry=replace(made.families["f"].entry, prose=prose))
    one, other = own.parts
    assert [(note.head, note.text) for note in said_of(own, one, {"leakage"})] == [("Wet ones", "Water gets in at the seal.")]
    assert [note.text for note in said_of(own, one, {"burnt"})] == ["The track wears in D."]
    assert [note.text for note in said_of(own, other, {"burnt"})] == ["The track wears in D.", "B-1 burns."]
    assert said_of(own, one, {"leads"}) == []


def test_what_to_read_next(fitter: Fitter) -> None:
    """P reads 4400 ohms for 1000: a step that is wrong, or all drifted to 4.4 times. Any other position of the ladder tells."""
    found = explain(fitter, "A-1", ["3-4 P 4400"]).found
    assert [one.kind for one in found.told] == ["step_wrong", "drift"]
    assert (found.next.a, found.next.b) == ("3", "4") and found.next.position in "RND"
    found = explain(fitter, "A-1", ["3-4 P 4400", "3-4 R 8800"]).found
    assert [one.kind for one in found.told] == ["drift"]


def test_another_switch_than_it_is_taken_for(fitter: Fitter) -> None:
    """B-1 reads 8000 ohms in D and is otherwise as A-1: a step that is wrong, or that one. Nothing that is read here tells them apart."""
    found = explain(fitter, "A-1", ["3-4 P 1000", "3-4 R 2000", "3-4 N 3000", "3-4 D 8000"]).found
    assert [(one.kind, one.about) for one in found.told] == [("step_wrong", ("3", "4", "D")), ("wrong", ("B-1",))]


def test_the_leads_of_the_meter(fitter: Fitter) -> None:
    dead = ["1-2 P OL", "1-2 N OL", "3-4 P OL", "3-4 R OL", "5-case R OL"]
    assert [one.kind for one in explain(fitter, "A-1", dead).found.told] == ["leads_open"]
    worn = explain(fitter, "A-1", ["1-2 P 1.4", "1-2 N 1.4", "5-case R 2 ohm", "3-4 P 1002"]).found
    assert [one.kind for one in worn.told] == ["leads"]


def test_two_faults_of_one_contact_or_bundle(fitter: Fitter) -> None:
    """The ladder open in P and 9 kilohms in D."""
    found = explain(fitter, "A-1", ["3-4 P OL", "3-4 R 2000", "3-4 N 3000", "3-4 D 9k", "1-2 P 0.1", "5-case R 0.1"]).found
    assert [
        {(of.kind, of.about[2:]) for of in one.of} for one in found.told if {of.kind for of in one.of} == {"step_open", "step_wrong"}
    ] == [{("step_open", ("P",)), ("step_wrong", ("D",))}]


def test_two_faults_that_lie_apart(fitter: Fitter) -> None:
    found = explain(fitter, "A-1", ["1-2 P OL", "1-2 R OL", "1-2 N 0.2", "1-2 D OL", "5-case P 0.1", "5-case R 0.1", "3-4 P 1000"]).found
    assert [explanation_words(one) for one in found.told] == [
        "both: the contact 5 - case does not open, or the two are shorted; the contact 1 - 2 does not close in P alone: burnt there"
    ]


def test_as_json(capsys: pytest.CaptureFixture) -> None:
    assert main(["prove", "TB-12415", "--read", "1-8 P 0.3", "--read", "1-8 R 0.2", "--json", "--root", str(ROOT)]) == 0
    found = json.loads(capsys.readouterr().out)
    assert {"kind": "stuck_closed", "about": ["1", "8"]} in found["told"] and found["next"]["position"] not in ("P", "R")
    assert main(["prove", "TB-12415", "--json", "--root", str(ROOT)]) == 0
    (bench, *_) = json.loads(capsys.readouterr().out)["sheets"]
    assert bench["plugs"] == [] and len(bench["good"]) == len(bench["lines"])


def test_the_command(capsys: pytest.CaptureFixture) -> None:
    assert main(["prove", "LV/640/02", "--root", str(ROOT)]) == 0
    out = capsys.readouterr().out
    assert "0110" in out and "even parity" in out and "crank in gear" in out
    assert main(["prove", "TB-12415", "TB-12340", "--root", str(ROOT)]) == 0
    assert "Look at the pins: TB-12415 has 4, 5, 11 and 12" in capsys.readouterr().out
    assert main(["prove", "TB-12415", "--read", "1-8 P 0.3", "--read", "1-8 R 0.2", "--root", str(ROOT)]) == 0
    assert "does not open" in capsys.readouterr().out
    assert main(["prove", "nothing", "--root", str(ROOT)]) == 1
    assert main(["prove", "TB-12415", "--read", "x", "--root", str(ROOT)]) == 2


def test_a_number_that_is_not_there(fitter: Fitter) -> None:
    with pytest.raises(NotInBook):
        prove(fitter, "Z")


@pytest.mark.slow
def test_a_look_alike_that_cannot_be_on_the_vehicle_is_not_told_there() -> None:
    """On the bench it can lie as any other; at the plug of a vehicle on which it does not bolt, or does not plug in, it cannot be."""
    fitter, here, elsewhere = Fitter(load(ROOT).book), 0, 0
    for own in fitter.book.parts[::3]:
        bench, *at_plugs = places(fitter, own)
        elsewhere += len(bench.others)
        for at in at_plugs:
            for other in at.others:
                checked = fitter.verdict(at.seats[0], fitter.book.part(other.number)).checked
                assert not any(one.check in ("mount", "mating") and one.outcome == "against" for one in checked), (own.number, other.number)
            here += len(bench.others) - len(at.others)
    assert here and elsewhere, "and some were left out"


@pytest.mark.slow
def test_the_wrong_switch_can_be_one_of_another_family() -> None:
    """Whatever bolts on and plugs in can have been put there: each is told where it reads otherwise than a good part."""
    fitter, told = Fitter(load(ROOT).book), 0
    for own in fitter.book.parts[:30]:
        for at in list(places(fitter, own))[1:]:
            strangers = [one.number for one in at.others if fitter.book.part(one.number).family != own.family]
            if not strangers:
                continue
            faults = sheet_of(at.part, at.pin_of, at.positions, at.circuits, at.seats, at.others).faults.faults
            wrong = {one.about[0] for one in faults if one.kind == "wrong" and one.changed}
            assert wrong <= {one.number for one in at.others}
            told += len(wrong.intersection(strangers))
    assert told > 5
