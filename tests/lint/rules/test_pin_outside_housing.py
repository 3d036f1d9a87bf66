"""pin-outside-housing."""


def test_the_finding_stands_at_the_label(lint_example) -> None:
    found = lint_example(
        """
    kind: switch
    parts:
      - number: TB-20417
        connector: oval-9
        mount: short-boss
        pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return, X9: ground}
        contacts:
          - {pins: [1, 2], closed: [P, N]}
          - {pins: [3, 4], closed: [R]}
          - {pins: [5, 6], ohms: {P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}}
          - {pins: [X9, case], closed: [P, R, N, D, 2, 1]}
        sources: [{kind: seen}]
"""
    )
    assert [(one.rule, one.file, one.line, one.column) for one in found] == [
        ("pin-outside-housing", "entries/switches/tamblin-gate.md", 18, 106)
    ]
    assert "X9" in found[0].message and "oval-9" in found[0].message
