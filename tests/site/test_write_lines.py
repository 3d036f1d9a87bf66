"""An entry of which some lines are put anew by the form: what is read of it afterwards is what was meant, and every other line, comment and
key is as it was. The scripts are run by Node; what they make is read by the reader."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from tests.site.node import evaluate, needs_node

from rangebook.book.load import load, load_texts
from rangebook.lint.examples import base_book
from rangebook.reading.entry import read_entry
from rangebook.schema.fields import fields_at
from rangebook.schema.store import load_schemas
from rangebook.site.data.entry_lines import entry_lines
from rangebook.site.facts.computed import Computed

pytestmark = needs_node
ROOT = Path(__file__).resolve().parents[2]

ENTRY = """---
# The whole family, as the yard knows it.
kind: switch
id: commented
title: Tamblin gate
gearboxes: [Tamblin Short]
positions: [P, R, N, D]
mounts: {boss: {shaft: {shape: round, across_mm: 9.50}}}
parts:
  # the early one
  - number: NB-1   # stamped by hand
    connector: oval-9
    mount: boss
    status: current  # asked in May
    pins: {1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out}
    # metered twice
    contacts:
      # warm
      - {pins: [1, 2], closed: [P, N]}  # clean
      # this one sticks
      - {pins: [3, 4], closed: [R], rated_a: 5.0}
    note: "see # 4"
    sources:
      - {kind: seen}
  # the late one
  - number: NB-2
    connector: oval-9
    mount: boss
    contacts:
    - {pins: [1, 2], ohms: {P: 1.200}}

# plugs follow
plugs:
  early:
    connector: oval-9
    wires:
      1: {circuit: start_feed}
# at the end
applications:
  - {vehicle: Corran Delver, plug: early, came_with: NB-1}
---
Prose.
"""

SCRIPT = """{
  const { entry, number, changes, more } = given;
  const part = entry.parts.find((one) => one.number === number);
  const was = new Map(part.keys.map((one) => [one.key, lines.asTyped(one.value)]));
  const now = new Map(was);
  for (const [key, value] of changes) value === null ? now.delete(key) : now.set(key, lines.asTyped(value));
  const extra = Object.fromEntries(Object.entries(more).map(([key, list]) => [key, list.map(lines.asTyped)]));
  return lines.withPart(entry, number, was, now, given.order, extra);
}"""
ADD = """{
  const typed = (value) => (Array.isArray(value) ? value.map(lines.asTyped) : lines.asTyped(value));
  return lines.withAdded(given.entry, given.added.map(([key, value]) => [key, typed(value)])) ?? null;
}"""


def data(source: str = ENTRY) -> dict[str, Any]:
    files = {**base_book(), "entries/switches/commented.md": source}
    computed = Computed(load_texts({file: text.encode() for file, text in files.items()}))
    assert "commented" in computed.book.families
    return {**entry_lines(computed, computed.book.families["commented"])}


def order() -> list[str]:
    return list(fields_at(load_schemas(), "switch", "parts"))


def edited(number: str, changes: dict[str, Any], more: dict[str, Any] | None = None, source: str = ENTRY) -> str:
    given = {
        "entry": data(source),
        "number": number,
        "changes": [list(one) for one in changes.items()],
        "more": more or {},
        "order": order(),
    }
    return evaluate({"lines": "write/lines.js"}, SCRIPT, given)


def pairs(**facts: Any) -> Any:
    return {"pairs": [[key, value] for key, value in facts.items()]}


def read(text: str) -> Any:
    entry = read_entry("entries/switches/commented.md", text.encode())
    assert not entry.problems, entry.problems
    return entry.front


def lines_of(before: str, after: str) -> tuple[list[str], list[str]]:
    """What is gone, and what is new."""
    old, new = before.split("\n"), after.split("\n")
    return [one for one in old if one not in new], [one for one in new if one not in old]


def test_nothing_changed_is_nothing_changed() -> None:
    assert edited("NB-1", {}) == ENTRY
    windows = ENTRY.replace("\n", "\r\n")
    assert edited("NB-1", {}, source=windows) == windows


def test_a_value_is_another_and_its_comment_stays() -> None:
    text = edited("NB-1", {"status": "discontinued", "number": "NB-10"})
    assert lines_of(ENTRY, text) == (
        ["  - number: NB-1   # stamped by hand", "    status: current  # asked in May"],
        ["  - number: NB-10 # stamped by hand", "    status: discontinued # asked in May"],
    )
    assert read(text)["parts"][0]["status"] == "discontinued" and read(text)["parts"][0]["note"] == "see # 4"


def test_an_item_is_another_and_the_others_keep_their_lines() -> None:
    first, second = pairs(pins=["1", "2"], closed=["P", "N"]), pairs(pins=["3", "4"], closed=["R"], rated_a="7.50")
    text = edited("NB-1", {"contacts": [first, second]})
    assert lines_of(ENTRY, text) == (
        ["      - {pins: [3, 4], closed: [R], rated_a: 5.0}"],
        ["      - {pins: [3, 4], closed: [R], rated_a: 7.50}"],
    )
    third = pairs(pins=["1", "4"], closed=[])
    text = edited("NB-1", {"contacts": [third, pairs(pins=["3", "4"], closed=["R"], rated_a="5.0")]})
    assert [one["pins"] for one in read(text)["parts"][0]["contacts"]] == [["1", "4"], ["3", "4"]]
    assert all(comment in text for comment in ("# warm", "# clean", "# this one sticks", "# metered twice"))
    gone = edited("NB-1", {"contacts": [first]})
    assert "# this one sticks" in gone and len(read(gone)["parts"][0]["contacts"]) == 1


def test_keys_come_and_go() -> None:
    text = edited("NB-1", {"status": None, "condition": "rebuilt"}, {"sources": [pairs(kind="hearsay", detail="counter: yes")]})
    part = read(text)["parts"][0]
    assert (
        "status" not in part
        and part["condition"] == "rebuilt"
        and part["sources"] == [{"kind": "seen"}, {"kind": "hearsay", "detail": "counter: yes"}]
    )
    assert read(text)["parts"][1] == read(ENTRY)["parts"][1] and all(
        one in text for one in ("# the late one", "# plugs follow", "# at the end")
    )
    text = edited(
        "NB-2", {"note": "loose", "contacts": [pairs(pins=["1", "2"], ohms=pairs(P="1.200", N="4.70"))]}, {"sources": [pairs(kind="seen")]}
    )
    part = read(text)["parts"][1]
    assert part["contacts"][0]["ohms"] == {"P": "1.200", "N": "4.70"} and part["note"] == "loose" and part["sources"] == [{"kind": "seen"}]


def test_a_vehicle_and_a_plug_come_in() -> None:
    vehicle, late = (
        pairs(vehicle="Corran Delver 2", plug="late", came_with="NB-2"),
        pairs(late=pairs(connector="oval-9", wires=pairs(**{"2": pairs(circuit="start_out")}))),
    )
    text = evaluate({"lines": "write/lines.js"}, ADD, {"entry": data(), "added": [["plugs", late], ["applications", [vehicle]]]})
    gone, new = lines_of(ENTRY, text)
    assert gone == [] and new[0] == "  late:" and read(text)["applications"][1]["came_with"] == "NB-2"
    assert list(read(text)["plugs"]) == ["early", "late"] and text.index("late:") < text.index("# at the end")
    # Where there is none yet the key comes in where it belongs.
    bare = ENTRY[: ENTRY.index("\n# plugs follow")] + "\n---\nProse.\n"
    text = evaluate({"lines": "write/lines.js"}, ADD, {"entry": data(bare), "added": [["plugs", late], ["applications", [vehicle]]]})
    assert list(read(text)) == ["kind", "id", "title", "gearboxes", "positions", "mounts", "parts", "plugs", "applications"]
    # What is written on one line is not taken apart.
    flow = ENTRY.replace(
        "applications:\n  - {vehicle: Corran Delver, plug: early, came_with: NB-1}", "applications: [{vehicle: Corran Delver}]"
    )
    assert (
        evaluate(
            {"lines": "write/lines.js"},
            ADD,
            {"entry": data(flow), "added": [["applications", [vehicle]]]},
        )
        is None
    )


@pytest.mark.parametrize("key", ["status", "note", "mount", "pins"])
def test_in_every_part_of_the_demo_book(key: str) -> None:
    """One key after the other: what is read is the part with this key another, and the rest of the entry the same."""
    computed = Computed(load(ROOT))
    families = list(computed.book.families.values())
    value = {"status": "withdrawn", "note": "a, b: c", "mount": "elsewhere", "pins": pairs(**{"2": "ground", "1": "display"})}[key]
    script = "{ return given.all.map((given) => SCRIPT_BODY); }".replace("SCRIPT_BODY", f"(() => {SCRIPT})()")
    cases = [
        {"entry": {**entry_lines(computed, family)}, "number": part.number, "changes": [[key, value]], "more": {}, "order": order()}
        for family in families
        for part in family.parts
    ]
    made = iter(evaluate({"lines": "write/lines.js"}, script, {"all": cases}))
    for family in families:
        for number, _ in enumerate(family.parts):
            text = next(made)
            expected = read_entry(family.entry.file, family.entry.source.encode()).front
            assert expected is not None
            expected["parts"][number][key] = {"2": "ground", "1": "display"} if key == "pins" else value
            assert read(text) == expected
