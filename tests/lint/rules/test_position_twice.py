"""position-twice."""


def test_every_list_of_positions_is_looked_at(look):
    found = look(
        "position-twice",
        """
    kind: switch
    positions: [P, R, N, D, 2, 1, P]
    parts: [{number: TB-20417, contacts: [{pins: [1, 2], closed: [N, P, N]}], sources: [{kind: seen}]}]
    applications: [{vehicle: Corran Delver 2.4, lever: [P, R, N, D, D, D]}]
""",
    )
    assert [one.at for one in found] == ["P]", "N]}], sources: [{kind: seen}]}]", "D, D]}]", "D]}]"]


def test_two_contacts_may_close_in_the_same_position(look_at_part):
    assert look_at_part("position-twice", "contacts: [{pins: [1, 2], closed: [P]}, {pins: [3, 4], closed: [P]}]") == []
