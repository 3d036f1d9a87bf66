"""layers-contradict, on the example book with a layer `ours` over it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from rangebook.book.load import load_texts
from rangebook.lint.examples import example_book
from rangebook.reading.stacked import Stacked
from tests.lint.layering import FAMILY, SEEN, over
from tests.lint.seeding.operators.entering import operator
from tests.lint.seeding.sowing import Ground, Seed

RULE = "layers-contradict"


@operator("a layer that says another status", RULE)
def _(ground: Ground) -> Iterator[Seed]:
    for source in ground.of("switch"):
        number, status = source.entry.front["parts"][0]["number"], source.entry.front["parts"][0].get("status")
        other = "discontinued" if status != "discontinued" else "current"
        text = f"---\nkind: switch\nid: {source.entry.stem}\nparts:\n  - number: {number}\n    status: {other}\n---\n"
        if status:
            both = Stacked.of([(0, "shared", source.text.encode()), (1, "ours", text.encode())])
            yield Seed("another status", {source.file: both}, frozenset({(source.file, 6)}))


@pytest.mark.parametrize(
    "upper",
    [
        "title: Another title\n",
        "positions: [P, R, N, D, 1, 2]\n",
        "parts: [{number: tb 20417, status: current}]\n",
        "parts: [{number: TB-20417, contacts: [{pins: [1, 2], closed: [P, N, D]}]}]\n",
        "parts: [{number: TB-20417, pins: {7: ground}}]\n",
        "parts: [{number: TB-20417, connectors: {main: oval-9}}]\n",
        "mounts: {short-boss: {shaft: {across_mm: 9}}}\n",
        "plugs: {six-wire: {wires: {7: {circuit: ground}}}}\n",
        "plugs: {six-wire: {connector: oval-13}}\n",
        "applications: [{vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, came_with: TB-20455}]\n",
        "fitting: {torque_nm: 12}\n",
        # What is left out says something: the switch cranks, there is no jumper, the lever is the family's.
        "plugs: {six-wire: {cranks: {by: module}}}\n",
        "plugs: {six-wire: {loops: [[1, 2]]}}\n",
        "means: {2: L}\n",
        "parts: [{number: TB-20417, goes_with: [TB-20455]}]\n",
        "applications: [{vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, lever: [P, R, N, D]}]\n",
        # A source that is none, or is for something else.
        "parts: [{number: TB-20417, status: current, sources: [{kind: hearsay}]}]\n",
        f"parts: [{{number: TB-20417, status: current}}]\n{SEEN}\n",
        "parts: [{number: TB-20417, status: current, sources: [{kind: seen, for: [pins]}]}]\n",
        "fitting: {torque_nm: 12}\nsources: [{kind: seen, for: [plugs]}]\n",
    ],
)
def test_without_a_source_it_is_an_error(upper: str) -> None:
    found = [one for one in over(upper) if one.rule == RULE]
    assert [(one.file, one.layer, str(one.severity)) for one in found] == [(FAMILY, 1, "error")], found
    assert found[0].line >= 4 and "ours" in found[0].message and "shared" in found[0].message


@pytest.mark.parametrize("key", ["pins: {2: range_signal}", "pins: {1: {circuit: ground}}"])
def test_no_source_takes_a_safety_circuit_from_a_pin(key: str) -> None:
    found = [one for one in over(f"parts:\n  - number: TB-20417\n    {key}\n    {SEEN}\n") if one.rule in (RULE, "schema")]
    assert [one.rule for one in found][:1] in ([RULE], ["schema"])


def test_no_source_takes_a_safety_circuit_from_a_wire() -> None:
    (found,) = [one for one in over(f"plugs: {{six-wire: {{wires: {{2: {{circuit: range_signal}}}}}}}}\n{SEEN}\n") if one.rule == RULE]
    assert "start_out" in found.message and "shared" in found.fix


@pytest.mark.parametrize(
    "upper",
    [
        "",
        "also_called: [the gate]\ngearboxes: [Tamblin Long]\ntrouble_codes: [P0708]\n",
        "parts: [{number: TB-20417, status: superseded, stamped: [K4], note: ours is grey}]\n",
        "applications: [{vehicle: Corran Delver 2.4, years: 2007-2012, gearbox: Tamblin Short, note: the tow bar hides it}]\n",
        "plugs: {six-wire: {wires: {1: {size_mm2: 1.0}}}}\n",
        "mounts: {short-boss: {note: mind the boss}}\n",
    ],
)
def test_what_is_added_or_said_again_is_nothing(upper: str) -> None:
    assert [one for one in over(upper) if one.rule.startswith("layers-")] == []


def test_a_pin_that_is_left_out_stays() -> None:
    texts = dict(example_book(""))
    above = b"---\nkind: switch\nid: tamblin-gate\nplugs: {six-wire: {wires: {1: {circuit: start_feed}}}}\n---\n"
    texts[FAMILY] = Stacked.of([(0, "shared", texts[FAMILY]), (1, "ours", above)])
    assert list(load_texts(texts).book.families["tamblin-gate"].plugs["six-wire"].wires) == ["1", "2", "3", "4", "5", "6"]
