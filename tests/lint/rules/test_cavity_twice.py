"""cavity-twice."""


def test_each_repetition_is_found_where_it_stands(look):
    found = look("cavity-twice", '    kind: connector\n    rows:\n      - [1, 2, 3, 1, "-"]\n      - ["-", 5, 6, 7, 8, 2, 2, 4]\n')
    assert [one.at for one in found] == ['1, "-"]', "2, 2, 4]", "2, 4]"]
    assert "number 1 in row 1" in found[0].message and "number 2 in row 1" in found[1].message


def test_places_without_a_cavity_and_other_letters_are_let_be(look):
    assert look("cavity-twice", '    kind: connector\n    rows: [["-", 1, 2, 3, 4, "-"], [5, 6, 7, 8, a, A]]\n') == []
