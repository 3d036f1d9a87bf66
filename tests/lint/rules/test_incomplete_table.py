"""incomplete-table."""


def test_all_missing_positions_are_named_at_the_table(look_at_part):
    (found,) = look_at_part("incomplete-table", "contacts: [{pins: [5, 6], ohms: {P: 9100, N: open}}]")
    assert found.at.startswith("{P: 9100, N: open}") and "lacks R, D, 2, 1" in found.message


def test_signals_are_looked_at_too(look_at_part):
    (found,) = look_at_part("incomplete-table", "signals: [{pin: 5, kind: volts, values: {P: 1, R: 2, N: 3, D: 4, 2: 5}}]")
    assert found.at.startswith("{P: 1") and "pin 5" in found.message and "lacks 1" in found.message


def test_an_empty_table_lacks_everything(look_at_part):
    found = look_at_part("incomplete-table", "contacts: [{pins: [5, 6], ohms: {}}]", "signals: [{pin: 5, values: {}}]")
    assert len(found) == 2 and all("P, R, N, D, 2, 1" in one.message for one in found)


def test_what_is_left_out_altogether_is_let_be(look_at_part):
    assert look_at_part("incomplete-table", "contacts: [{pins: [5, 6]}, {pins: [1, 2], closed: [P]}]", "signals: [{pin: 5}]") == []


def test_open_is_a_reading(look_at_part):
    ohms = "{P: open, R: 3900, N: open, D: 910, 2: 430, 1: 0}"
    assert look_at_part("incomplete-table", f"contacts: [{{pins: [5, 6], ohms: {ohms}}}]") == []


def test_a_strange_position_may_stand_for_the_missing_one(look_at_part):
    ohms = "{P: 9100, R: 3900, N: 1800, D: 910, 2: 430, L: 200}"
    assert look_at_part("incomplete-table", f"contacts: [{{pins: [5, 6], ohms: {ohms}}}]") == []
    assert len(look_at_part("unknown-position", f"contacts: [{{pins: [5, 6], ohms: {ohms}}}]")) == 1
