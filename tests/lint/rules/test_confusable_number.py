"""confusable-number."""

import pytest

from rangebook.lint.examples import example_book

KIT = "entries/kits/oval-9-renewal.md"
PARTS = """
    kind: switch
    parts:
      - {number: TB-20417, status: superseded, superseded_by: [{number: %s}], sources: [{kind: seen}]}
      - {number: TB-20455, status: current, sources: [{kind: seen}]}
      - {number: 0571 03, status: current, sources: [{kind: seen}]}
      - {number: 1E5, status: current, sources: [{kind: seen}]}
"""


def _book(prose):
    book = {name: text.decode() for name, text in example_book(PARTS % "TB-20455").items()}
    head, front, _ = book[KIT].split("---\n", 2)
    return {**book, KIT: f"{head}---\n{front}---\n{prose}"}


@pytest.mark.parametrize(
    ("number", "known"),
    [
        ("TB-2O455", "TB-20455"),
        ("tb z0455", "TB-20455"),
        ("T8-20455", "TB-20455"),
        ("TB-204S5", "TB-20455"),
        ("O571 03", "0571 03"),
        ("IE5", "1E5"),
    ],
)
def test_each_pair_in_a_reference(look, number, known):
    (found,) = look("confusable-number", PARTS % number)
    assert found.at.startswith(number) and found.fix == f"write {known}"


@pytest.mark.parametrize("number", ["TB-20455", "tb20455", "TB-ZO455", "TB-20456", "TB-Q0455"])
def test_known_numbers_and_other_differences_are_let_be(look, number):
    assert look("confusable-number", PARTS % number) == []


@pytest.mark.parametrize(
    ("words", "number"),
    [
        ("Not the TB-2O455 but the other.", "TB-2O455"),
        ("(TB2O455)", "TB2O455"),
        ("The TB-ZO455 has it.", None),  # two letters for two figures
        ("The TW-77O6 has it.", "TW-77O6"),
        ("the O571 03, and", "O571 03"),
        ("the 057I.03.", "057I.03"),
        ("a TB-20 4S5\nwas", "TB-20 4S5"),
        ("it says TB-\n2O455.", None),
        ("**T8-20455**", "T8-20455"),
    ],
)
def test_in_the_prose_it_is_found_where_it_stands(look, words, number):
    found = look("confusable-number", _book(f"First.\n\n{words}\n"))
    assert [one.at.startswith(number) for one in found] == ([] if number is None else [True])
    assert all(f"speaks of {number}," in one.message for one in found)


@pytest.mark.parametrize(
    "words", ["TB-20455 or tb 20455", "IE5 is short enough to be anything", "since 1991, 05 71 07, 12:30", "the 0571 03", ""]
)
def test_in_the_prose_let_be(look, words):
    assert look("confusable-number", _book(words + "\n")) == []


def test_the_one_character_is_named(look):
    (found,) = look("confusable-number", PARTS % "TB-2O455")
    assert "TB-20455 has the figure 0 where this has the letter O" in found.message


def test_a_number_that_an_unread_entry_may_have_is_let_be(look):
    other = "\nand\n\n    # entries/switches/other.md\n    ---\n    kind: switch\n    parts: [{number: TB-2O455}\n    ---\n"
    assert look("confusable-number", PARTS % "TB-2O455" + other) == []
    book = {**_book("A TB-2O455.\n"), "entries/switches/other.md": "---\nparts: [{number: TB-2O455}\n---\n"}
    assert look("confusable-number", book) == []


def test_reference_and_unknown_part_do_not_both_speak(lint_example):
    found = lint_example(PARTS % "TB-2O455")
    assert {one.rule for one in found} & {"confusable-number", "unknown-part"} == {"confusable-number"}


def test_long_prose_is_gone_through_to_its_end(look):
    (found,) = look("confusable-number", _book("TB 20 455 " * 20000 + "TB 20 4S5"))
    assert found.at == "TB 20 4S5"


@pytest.mark.parametrize(
    ("number", "known", "has"),
    [
        ("TB-2O455", "TB-20455", "the figure 0 where this has the letter O"),
        ("tb-zo4ss", "TB-20455", "the figure 2 where this has the letter Z"),
        ("l E5", "1E5", "the figure 1 where this has the letter L"),
        ("IE5", "1E5", "the figure 1 where this has the letter I"),
        ("TW-77O6", "TW-7706", None),
    ],
)
def test_a_new_number_beside_one_that_looks_the_same_is_refused(look, number, known, has):
    more = f"      - {{number: {number}, status: current, sources: [{{kind: seen}}]}}\n"
    (found,) = look("confusable-number", (PARTS % "TB-20455").rstrip(" ") + more)
    assert known in found.message and number in found.message
    assert has is None or has in found.message
    assert has is None or found.at.startswith(number)


def test_numbers_that_differ_otherwise_stand_beside_each_other(look):
    more = "      - {number: TB-20456, status: current, sources: [{kind: seen}]}\n      - {number: TB-2045S, sources: [{kind: seen}]}\n"
    found = look("confusable-number", (PARTS % "TB-20455").rstrip(" ") + more)
    assert [one.at[:8] for one in found] == ["TB-2045S"]
