"""unknown-position."""


def test_every_place_that_names_a_position_is_looked_at(look):
    found = look(
        "unknown-position",
        """
    kind: switch
    parts:
      - number: TB-20417
        pins: {1: start_feed, 2: start_out, 5: range_signal, 6: range_return, 7: supply}
        contacts:
          - {pins: [1, 2], closed: [P, N, Q1, Q2]}
          - {pins: [5, 6], ohms: {P: 1, R: 2, N: 3, D: 4, 2: 5, 1: 6, Q3: 7}}
        signals: [{pin: 5, values: {P: 1, R: 2, N: 3, D: 4, 2: 5, 1: 6, Q4: 8}}]
        sources: [{kind: seen}]
    mounts: {short-boss: {set_in: Q7}}
    fitting: {set_in: Q5}
    applications: [{vehicle: Corran Delver 2.4, lever: [P, R, N, Q6]}]
""",
    )
    assert [one.at[:2] for one in found] == ["Q1", "Q2", "Q3", "Q4", "Q7", "Q5", "Q6"]
    assert all(one.at[:2] in one.message and "P, R, N, D, 2, 1" in one.message for one in found)


def test_a_lever_with_fewer_positions_is_right(look):
    assert look("unknown-position", "    kind: switch\n    applications: [{vehicle: Corran Delver 2.4, lever: [P, R, N, D]}]\n") == []
