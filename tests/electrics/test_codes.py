"""Range codes."""

from __future__ import annotations

from itertools import combinations

import pytest
from scipy.spatial.distance import hamming as scipy_hamming
from sympy.combinatorics.graycode import GrayCode
from tests.making import book, connector, family, part

from rangebook.electrics.codes import code_table, hamming, single_faults

POSITIONS = ("P", "R", "N", "D", "4", "3", "2", "1")


def switch(words: list[str], parity: bool = False, to: str = "case", positions=POSITIONS):
    """A part whose lines are grounded where the word has a 1."""
    names = [f"code_{number}" for number in range(1, len(words[0]) + 1)]
    if parity:
        names[-1] = "code_parity"
    pins = {str(number): name for number, name in enumerate(names, 1)} | ({"9": "code_return"} if to == "9" else {})
    contacts = [
        {"pins": [str(line + 1), to], "closed": [at for at, word in zip(positions, words, strict=False) if word[line] == "1"]}
        for line in range(len(names))
    ]
    return book(connector("c", 9), family("f", [part("A", pins=pins, contacts=contacts)], positions=list(positions))).parts[0]


GRAY = list(GrayCode(3).generate_gray())
EVEN = [word + str(word.count("1") % 2) for word in GRAY]


def test_the_gray_code_of_the_patent() -> None:
    # F. Gray, US 2,632,058 (number from memory), by sympy.combinatorics.graycode.
    assert GRAY == ["000", "001", "011", "010", "110", "111", "101", "100"]


@pytest.mark.parametrize("to", ["case", "9"])
def test_words_by_position_from_contacts_to_ground(to: str) -> None:
    table = code_table(switch(GRAY, to=to), POSITIONS)
    assert ["".join(map(str, table.words[at])) for at in POSITIONS] == GRAY
    assert table.alike == [] and table.distance == 1 and table.parity is None


def test_gray_codes_are_one_bit_apart_all_the_way_round() -> None:
    table = code_table(switch(GRAY), POSITIONS)
    words = [table.words[at] for at in POSITIONS]
    assert all(hamming(a, b) == 1 for a, b in zip(words, words[1:] + words[:1], strict=True))
    for a, b in combinations(words, 2):  # scipy.spatial.distance.hamming
        assert hamming(a, b) == round(scipy_hamming(a, b) * len(a))


def test_with_an_even_parity_line_every_single_fault_is_noticed() -> None:
    table = code_table(switch(EVEN, parity=True), POSITIONS)
    assert table.lines[-1] == "code_parity" and table.parity == "even" and table.distance == 2
    assert not any(fault.misleads for fault in single_faults(table))


def test_without_it_none_is() -> None:
    faults = single_faults(code_table(switch(GRAY), POSITIONS))
    changed = [fault for fault in faults if fault.believed != fault.position]
    assert len(changed) == 24 and all(fault.misleads for fault in changed)


def test_a_fault_tells_what_the_module_believes() -> None:
    table = code_table(switch(["00", "01", "11"], positions=("P", "R", "N")), ("P", "R", "N"))
    believed = {(one.line, one.shorted, one.position): one.believed for one in single_faults(table)}
    assert believed["code_2", True, "P"] == "R"
    assert believed["code_1", True, "P"] is None  # 10 is no position's word
    assert believed["code_1", False, "P"] == "P"  # it was open already


def test_words_that_are_alike_are_named() -> None:
    assert code_table(switch(["00", "01", "00"], positions=("P", "R", "N")), ("P", "R", "N")).alike == [("P", "N")]


def test_no_lines_no_table_and_unknown_bits_stay_unknown() -> None:
    made = book(
        connector("c", 2),
        family("f", [part("A", pins={"1": "ground"}, contacts=[]), part("B", pins={"1": "code_1"}, contacts=[{"pins": ["1", "case"]}])]),
    )
    assert code_table(made.parts[0], ("P", "R")) is None
    table = code_table(made.parts[1], ("P", "R"))
    assert table.words == {"P": (None,), "R": (None,)} and table.distance is None and not table.known
    with pytest.raises(ValueError, match="not every bit"):
        single_faults(table)
