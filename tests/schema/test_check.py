"""The schema says what is a number, and words what is wrong."""

from __future__ import annotations

import jsonschema
import pytest

from rangebook.reading.entry import read_entry
from rangebook.schema.check import Checker
from rangebook.schema.store import FILES, KINDS, load_schemas
from rangebook.words.problems import problem_fix, problem_words

SCHEMAS = load_schemas()
CHECKER = Checker(SCHEMAS)
KIT = "kind: kit\nid: a\nnumber: 0123\ntitle: NO\nfrom: b\nto: c\nmoves: {1: 2}\n"
SWITCH = "kind: switch\nid: a\ntitle: x\npositions: [P, R, N, D, 3, 2, 1]\nparts:\n  - number: 1e5\n"


def check(front: str, file: str = "entries/kits/a.md"):
    entry = read_entry(file, f"---\n{front}---\n".encode())
    assert entry.problems == []
    return entry.front, CHECKER.check(entry)


def test_the_schema_files_are_themselves_valid() -> None:
    # JSON Schema 2020-12, by its own meta-schema in the jsonschema library.
    for name in FILES[:-1]:
        jsonschema.Draft202012Validator.check_schema(SCHEMAS.files[name])


def test_numbers_are_numbers_only_where_the_schema_says_so() -> None:
    front, problems = check(KIT + "seals: [4, 9]\nblanks: 2\n")
    assert problems == []
    assert (front["number"], front["title"], front["moves"], front["seals"], front["blanks"]) == ("0123", "NO", {"1": "2"}, [4, 9], 2)


def test_positions_and_part_numbers_come_through_unharmed() -> None:
    text = SWITCH + "    contacts: [{pins: [1, 02], ohms: {P: 1.5e3, 3: open, 2: 330}}]\n"
    front, problems = check(text, "entries/switches/a.md")
    assert problems == []
    assert front["positions"] == ["P", "R", "N", "D", "3", "2", "1"]
    assert front["parts"][0]["number"] == "1e5"
    assert front["parts"][0]["contacts"][0] == {"pins": ["1", "02"], "ohms": {"P": 1500.0, "3": "open", "2": 330}}


@pytest.mark.parametrize(("typed", "value"), [("yes", True), ("no", False), ("true", True), ("false", False)])
def test_yes_and_no_are_truth_values_where_the_schema_says_so(typed: str, value: bool) -> None:
    front, problems = check(
        f"kind: connector\nid: a\ntitle: {typed}\noutline: oval\nrows: [[1]]\nsealed: {typed}\n", "entries/connectors/a.md"
    )
    assert problems == [] and front["sealed"] is value and front["title"] == typed


@pytest.mark.parametrize("typed", ["0123", "1_000", ".5", "0x10", "1:30", "12k", "''", "1e999", "nan", "inf", "--3"])
def test_what_is_not_a_number_is_not_taken_for_one(typed: str) -> None:
    _, problems = check(SWITCH + f"    contacts: [{{pins: [1, 2], ohms: {{P: {typed}}}}}]\n", "entries/switches/a.md")
    assert [problem.rule for problem in problems] == ["schema"]
    assert "ohms" in problem_words(problems[0])


WORDED = [
    ("a typo in a key", KIT + "seels: [6]\n", (9, 1), "`seels`", "did you mean `seals`?"),
    ("a typo in a value", "kind: connector\nid: a\ntitle: x\noutline: ovall\nrows: [[1]]\n", (5, 10), "`ovall`", "did you mean `oval`?"),
    ("a kind that is not there", "kind: swich\nid: a\n", (2, 7), "`swich`", "did you mean `kind: switch`?"),
    ("no kind", "id: a\n", (2, 1), "`kind` is missing", "add `kind: kit`"),
    ("a key that is missing", KIT.replace("to: c\n", ""), (2, 1), "`to` is missing", "add `to:`"),
    ("a word for a number", KIT + "blanks: two\n", (9, 9), "`two`", "a whole number"),
    ("a number below its bound", KIT + "blanks: -1\n", (9, 9), "-1", "a whole number"),
    ("nothing", KIT.replace("title: NO", "title:"), (5, 7), "nothing", "a few words"),
    ("a list for a mapping", KIT.replace("{1: 2}", "[1, 2]"), (8, 8), "several values", "old cavity to new"),
    (
        "both at once",
        SWITCH + "    contacts: [{pins: [1, 2], closed: [P], ohms: {P: 1}}]\n",
        (8, 16),
        "both `closed` and `ohms`",
        "two contacts",
    ),
    ("a bad cavity as key", KIT.replace("{1: 2}", "{1-a: 2}"), (8, 8), "`1-a`", "a cavity label"),
    ("deep inside", SWITCH + "    superseded_by: [{number: b, needs: [{kit: x, sael: 3}]}]\n", (8, 50), "`sael`", "did you mean `seal`?"),
]


@pytest.mark.parametrize(("front", "place", "says", "hint"), [one[1:] for one in WORDED], ids=[one[0] for one in WORDED])
def test_errors_say_where_what_and_how(front: str, place: tuple[int, int], says: str, hint: str) -> None:
    _, problems = check(front)
    assert [tuple(problem.mark) for problem in problems] == [place]
    assert says in problem_words(problems[0]) and hint in problem_fix(problems[0])


def test_an_error_speaks_of_the_kind_at_hand_only() -> None:
    _, problems = check("kind: connector\nid: a\ntitle: x\noutline: oval\nrows: [[1]]\nparts: []\n", "entries/connectors/a.md")
    (problem,) = problems
    assert "in this connector" in problem_words(problem) and "`mates`" in problem_fix(problem)


def test_the_quick_check_and_the_thorough_one_agree() -> None:
    # Two implementations of JSON Schema: jsonschema-rs says yes or no, jsonschema words it.
    for front in [KIT, *(one[1] for one in WORDED)]:
        entry = read_entry("entries/kits/a.md", f"---\n{front}---\n".encode())
        kind = entry.front.get("kind")
        if kind in KINDS:
            of_kind = CHECKER._kinds[kind]
            of_kind.convert(entry.front)
            assert of_kind.validator.is_valid(entry.front) is CHECKER._tellers[kind].is_valid(entry.front)


def test_a_book_may_override_a_schema_file(tmp_path) -> None:
    (tmp_path / "schema").mkdir()
    (tmp_path / "schema" / "circuits.json").write_text('{"circuits": {"horn": {"role": "output", "name": "horn"}}}')
    schemas = load_schemas(tmp_path)
    assert list(schemas.circuits) == ["horn"]
    assert schemas.of("kit") == SCHEMAS.of("kit")


@pytest.mark.parametrize(("pin", "is_one"), [("case", True), ("lamp.1", True), ("7", True), ("main.case", False), ("CASE", False)])
def test_the_metal_of_the_housing_is_of_no_connector(pin: str, is_one: bool) -> None:
    _, problems = check(SWITCH + f"    contacts: [{{pins: [1, {pin}]}}]\n", "entries/switches/a.md")
    assert (problems == []) is is_one
