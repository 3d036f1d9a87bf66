"""needless-quotes. Which quotes do nothing is tested in tests/lint/fixing."""

import json

import pytest

from tests.lint.marking import found_at_marks


def test_each_is_found_where_it_begins():
    found_at_marks(
        "needless-quotes",
        """
    kind: switch
    positions: [»"P", »'R', "N", D, "2", "1"]
    parts:
      - number: »"TB-20417"
        »"connector": oval-9
        stamped: ["Q1"]
        sources: [{kind: »"seen", detail: "bench"}]
      - number: "0417"
        connector: oval-13
        sources: [{kind: seen}]
    applications: []
    fitting: {set_in: N, torque_nm: »"9"}
""",
    )


@pytest.mark.parametrize("kind", ["kit", "connector"])
def test_an_entry_written_as_json_is_left_alone(look, lint_example, kind):
    name, front = {
        "kit": ("kits/b", {"kind": "kit", "id": "b", "number": "TW-2", "title": "b", "from": "oval-9", "to": "oval-13", "moves": {}}),
        "connector": ("connectors/b", {"kind": "connector", "id": "b", "title": "b", "outline": "oval", "rows": [["1", "2"]]}),
    }[kind]
    assert look("needless-quotes", {f"entries/{name}.md": f"---\n{json.dumps(front, indent=1)}\n---\n"}) == []
