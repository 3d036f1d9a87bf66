"""Quotes that do nothing, and quotes that are lacking."""

from __future__ import annotations

import pytest
import yaml

SWITCH = """---
kind: "switch"
id: 'tamblin-gate'
"title": "Tamblin"
positions: ["P", "R", "N", "D", "2", '1']
parts:
  - number: "TB-1"
    "connector": "oval-9"
    stamped: ["Q1"]
    pins: {"1": "start_feed", "A2": 'start_out'}
    contacts:
      - {pins: ["1", "case"], "closed": ["P", "N"], "ohms":{"P": "9100"}}
    superseded_by: [{number: "0123", since: "2013", note: "word"}]
    sources: [{kind: "seen", "on": "2020-02-04"}]
---
"""

SWITCH_WITHOUT = """---
kind: switch
id: tamblin-gate
title: "Tamblin"
positions: [P, R, "N", D, "2", '1']
parts:
  - number: TB-1
    connector: oval-9
    stamped: ["Q1"]
    pins: {"1": start_feed, A2: start_out}
    contacts:
      - {pins: ["1", case], closed: [P, "N"], "ohms":{P: 9100}}
    superseded_by: [{number: "0123", since: "2013", note: "word"}]
    sources: [{kind: seen, "on": "2020-02-04"}]
---
"""


def test_only_what_every_reader_takes_for_the_same_loses_its_quotes(mend) -> None:
    mended, by = mend(SWITCH, "needless-quotes")
    assert mended == SWITCH_WITHOUT and set(by) == {"needless-quotes"}


def test_another_reader_of_yaml_sees_the_same_text() -> None:
    """PyYAML's own safe loader, which resolves YAML 1.1: what was text stays text. 9100 is a number in the schema."""
    before, after = (yaml.safe_load(text.split("---\n")[1]) for text in (SWITCH, SWITCH_WITHOUT))
    contact = before["parts"][0]["contacts"][0]
    assert contact["ohms"].pop("P") == "9100" and after["parts"][0]["contacts"][0]["ohms"].pop("P") == 9100
    assert before == after


@pytest.mark.parametrize(
    "text",
    [
        '---\n{"kind": "kit", "id": "oval-9-renewal"}\n---\n',
        '---\nkind: kit\nnumber: "A1\\x42"\n---\n',
        '---\nkind: kit\nnote: "A1"\n---\n',
    ],
)
def test_what_keeps_its_quotes(mend, text: str) -> None:
    assert mend(text, "needless-quotes", kind="kit") == (text, [])


CONNECTOR = """---
kind: connector
id: oval-13
title: a, -, b
outline: oval
rows:
  - [-, 1, -]
  - [2, -,-, 3]   # [-, 4]
  - [ - , 5,  -  ]
  - ["-", 6-7]
sealed: yes
note: "[-, 1]"
---
[-, 1]
"""


def test_a_bare_hyphen_in_the_rows(mend) -> None:
    wanted = (
        CONNECTOR.replace("- [-, 1, -]", '- ["-", 1, "-"]')
        .replace("[2, -,-, 3]", '[2, "-","-", 3]')
        .replace("[ - , 5,  -  ]", '[ "-" , 5,  "-"  ]')
    )
    assert mend(CONNECTOR, "needed-quotes", kind="connector") == (wanted, ["needed-quotes"] * 6)
    yaml.safe_load(wanted.split("---\n")[1])  # what others could not read before
    with pytest.raises(yaml.YAMLError):
        yaml.load(CONNECTOR.split("---\n")[1], yaml.SafeLoader)


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("title: Plug renewal: old to new", 'title: "Plug renewal: old to new"'),
        ("note: see here:", 'note: "see here:"'),
        ("note: @ the bench", 'note: "@ the bench"'),
        ("note: 10 % off: measured", 'note: "10 % off: measured"'),
    ],
)
def test_words_that_yaml_takes_for_something_else(mend, line: str, wanted: str) -> None:
    text = f"---\nkind: kit\n{line}\nblanks: 1\n---\nTwo: words.\n"
    assert mend(text, "unquoted-text", kind="kit") == (text.replace(line, wanted), ["unquoted-text"])


@pytest.mark.parametrize(
    "line",
    [
        'title: Plug "old": new',  # which quotes are meant
        "title: Plug: old # new",  # what is a comment
        "moves: 1: 1",  # no free text
        "title: [old: new",
        "title: &a b: c",
        "  title: a\n title: b: c",
    ],
)
def test_a_slip_that_may_mean_several_things_is_left_alone(mend, line: str) -> None:
    text = f"---\nkind: kit\n{line}\n---\n"
    assert mend(text, "unquoted-text", kind="kit") == (text, [])


def test_two_slips_are_mended_one_after_the_other(mend) -> None:
    text = "---\nkind: kit\ntitle: a: b\nnote: c: d\n---\n"
    mended, by = mend(text, kind="kit")
    assert mended == '---\nkind: kit\ntitle: "a: b"\nnote: "c: d"\n---\n' and by == ["unquoted-text"] * 2
