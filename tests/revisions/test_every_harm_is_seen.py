"""One line of the demo book changed: what can hurt somebody has to stand under safety, what cannot must not.

The edits are of the kinds that a reviewer has to catch whatever the number of verdicts: how a switch is set and tightened, cautions, what
its maker took back, wires and contacts of the starter and the backup lamps, which plug and part a vehicle has, where kits put wires, and
what the list of circuits asks for. Which kinds these are says issue 18; the edits are our own.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator
from pathlib import Path
from types import MappingProxyType
from typing import Any

import pytest

from rangebook.book.load import Loaded, load
from rangebook.cli.impact import URLS
from rangebook.desk.impact.data import as_data
from rangebook.desk.impact.markdown import as_markdown
from rangebook.desk.impact.text import as_lines
from rangebook.revisions.report import Impact, impact
from rangebook.revisions.states import States, amended, two_states
from rangebook.schema.store import Schemas, load_schemas
from tests.revisions import further_edits

ROOT = Path(__file__).parents[2]

Edit = tuple[str, str, str]
"""Folder and entry; a pattern in one line of it, the first that it is found in; what stands there then."""

LEVER, LADDER, DRUM, LINE, BELT = (
    f"switches/{name}" for name in ("tamblin-lever", "penvose-ladder", "tamblin-drum", "halvik-line", "wexcombe-belt")
)
TRUCK, PAIR, EAR, VAN, STAGE = (
    f"switches/{name}" for name in ("grotham-truck", "harnby-pair", "kestow-ear", "ostrand-van", "tamblin-stage")
)
OVAL_KIT = "kits/oval-13-renewal"

HARMFUL: tuple[Edit, ...] = (
    # What its maker took back is sold again.
    (LADDER, "status: withdrawn", "status: current"),
    (DRUM, "status: withdrawn", "status: superseded"),
    (LADDER, "    status: withdrawn\n", ""),
    # How it is tightened.
    (LEVER, "torque_nm: 11", "torque_nm: 110"),
    (LEVER, "  torque_nm: 11\n", ""),
    (PAIR, r"torque_nm: (\d+)", "torque_nm: 80"),
    (TRUCK, r"torque_nm: (\d+)", "torque_nm: 2"),
    (LEVER, r"hole_mm: 6.4, slot_deg: 18, spacer_mm: 3\}", "hole_mm: 6.4, slot_deg: 18, spacer_mm: 3, torque_nm: 40}"),
    # How it is set.
    (LEVER, "  set_in: N", "  set_in: R"),
    (LEVER, "Lever in N, bolts just loose", "Lever in D, bolts just loose"),
    (PAIR, "set_by: pin", "set_by: line"),
    (PAIR, "set_in: N", "set_in: P"),
    (LEVER, r"position: N, at_deg: 117", "position: R, at_deg: 117"),
    (LEVER, r"at_deg: 117, steps", "at_deg: 97, steps"),
    # What warns.
    (LEVER, r'    - "Chock the wheels and set.*\n', ""),
    (LEVER, "Chock the wheels and set the parking brake before", "Set the parking brake before"),
    (LEVER, r'    - "The plug hangs above.*\n', ""),
    (TRUCK, r'    - "There is no P\. Chock.*\n', ""),
    (OVAL_KIT, r'"2 and 8 left where they were.*\n', '"Nothing can go wrong."\n'),
    ("kits/square-to-ring-16", r'  - "Start wires in ordinary barrels.*\n', ""),
    (PAIR, r'counterfeit_marks: \["no star before the number", ', "counterfeit_marks: ["),
    (PAIR, r"    counterfeit_marks: .*\n", ""),
    # Wires of the starter and the lamps.
    (LEVER, r"1: \{circuit: start_feed, colour: BUOG", "1: {circuit: start_feed, colour: OG"),
    (LEVER, r"1: \{circuit: start_feed, colour: BUOG, size_mm2: 2.5", "1: {circuit: backup_feed, colour: BUOG, size_mm2: 2.5"),
    (LEVER, r"2: \{circuit: start_out, colour: BU, size_mm2: 2.5\}", "2: {circuit: range_signal, colour: BU, size_mm2: 2.5}"),
    (LEVER, r"      2: \{circuit: start_out, colour: BU, size_mm2: 2.5\}\n", ""),
    (LEVER, r"1: \{circuit: start_feed, colour: BUOG, size_mm2: 2.5", "1: {circuit: start_feed, colour: BUOG, size_mm2: 0.5"),
    (LINE, r"2: \{circuit: backup_out, colour: GNBK", "2: {circuit: backup_out, colour: GN"),
    (LINE, r"carries_a: 0\.02", "carries_a: 20"),
    # Pins and contacts.
    (LEVER, r"closed: \[P, N\]", "closed: [P, N, D]"),
    (LADDER, r"closed: \[R\]", "closed: [R, N]"),
    (LADDER, r"\[1, 2\], closed: \[P, N\], rated_a: 12", "[1, 2], closed: [P, N], rated_a: 90"),
    (LEVER, r"pins: \{1: start_feed, 2: start_out, 3: backup_feed", "pins: {1: start_out, 2: start_feed, 3: backup_feed"),
    (LEVER, r"(pins: \{1: start_feed, 2: start_out, 3: backup_feed, 4:) backup_out\}", r"\1 ground}"),
    (LEVER, r"      - \{pins: \[1, 2\], closed: \[P, N\]\}\n", ""),
    (LINE, r"\[6, 4\], closed: \[P, N\], one_way: yes", "[4, 6], closed: [P, N], one_way: yes"),
    (LEVER, r"pins: \[1, 2\], closed: \[P, N\]", "pins: [1, 2], closed: [P, N], overlaps: [R]"),
    # Vehicles.
    (LEVER, r"(Sallow 1.6, years: 1991-1998, .*) plug: early-four, came_with: TB-10263", r"\1 plug: six-wire, came_with: TB-11527"),
    (LEVER, r"(Corran Delver 2.4, years: 2003-2007, .* came_with): TB-11568", r"\1: TB-12340"),
    (LEVER, r"Corran Delver 2.4, years: 2012-2018", "Corran Delver 2.4, years: 2008-2018"),
    (LEVER, r"Ostrand Kelmar 2.2, years: 2004-2007", "Ostrand Kelmar 2.2, years: 2004-"),
    (LEVER, r", to: 2006-04", ""),
    (LEVER, r"lever: \[P, R, N, D\], note", "note"),
    (LEVER, r"optional_cavities: \[7\]", "optional_cavities: [1]"),
    (BELT, r"cranks: \{by: module, in: \[P, N\]", "cranks: {by: module, in: [P, N, D]"),
    # Where wires go, and what positions are.
    (OVAL_KIT, r"moves: \{1: 1, 2: 8", "moves: {1: 8, 2: 1"),
    ("connectors/wedge-14", r"  - \[1, 2, 3, 4, 5, 6, 7\]", "  - [7, 6, 5, 4, 3, 2, 1]"),
    (TRUCK, r"loops: \[\[A3, A6\]\]", "loops: [[A3, A5]]"),
    (VAN, r"means: \{L: 1\}", "means: {L: N}"),
    (LADDER, r"positions: \[P, R, N, D, 2, 1\]", "positions: [P, N, R, D, 2, 1]"),
    # What is let through.
    (LEVER, r"^trouble_codes: (.*)$", 'trouble_codes: \\1\nallow: [{rule: start-path, reason: "known"}]'),
)  # fmt: skip

CIRCUITS: tuple[tuple[str, str, Any], ...] = (
    ("start_out", "safety", False),
    ("backup_out", "safety", False),
    ("start_out", "joined_in", ["P", "N", "D"]),
    ("park_neutral", "joined_in", "any"),
    ("start_out", "feeds", ["ground"]),
    ("backup_out", "danger", "starter_in_gear"),
    ("start_feed", "role", "signal"),
)
"""A circuit of the list, a key, and what it says there in a book's own list. The shipped one holds; it is told all the same."""

HARMLESS: tuple[Edit, ...] = (
    (LEVER, "Set it again, and look at the threads.", "Set it again and look at both threads."),
    (LEVER, "## How it fails", "## What fails"),
    (LEVER, "title: Tamblin lever switch", "title: Tamblin lever switch, all of them"),
    (LEVER, r"also_called: \[range switch, ", "also_called: [PNP switch, range switch, "),
    (LEVER, r"gearboxes: \[Tamblin Short, Tamblin Long\]", "gearboxes: [Tamblin Long, Tamblin Short]"),
    (LEVER, "Two ears, a 3 mm spacer in each.", "Two ears, with a 3 mm spacer in each."),
    (LEVER, r'stamped: \["one bar under the latch"\]', 'stamped: ["one bar under the latch", "TAMBLIN"]'),
    (LEVER, r'    stamped: \["two bars under the latch"\]\n', ""),
    (LEVER, "from a 1996 Tarnby that was broken for parts, rung through", "from a Tarnby of 1996, broken for parts"),
    (LEVER, "by: bench, on: 2018-11-05", "by: bench, on: 2018-11-06"),
    (LEVER, r"(      - \{kind: seen, detail: \"from a 1996)", r"      - {kind: seen, by: bench, on: 2020-02-02}\n\1"),
    (LEVER, 'note: "it has a ladder on 3 and 10 besides; no wire goes there"', 'note: "it has a ladder on 3 and 10, without a wire"'),
    (LEVER, 'by: "box of the Pellworth parts house"', 'by: "box of the Pellworth house"'),
    (LEVER, 'number: "72 63 118"', 'number: "72-63-118"'),
    (LEVER, r"trouble_codes: \[P0705, P0706, P0708\]", "trouble_codes: [P0705, P0706, P0707, P0708]"),
    (LEVER, r"trouble_codes: \[P0705, P0706, P0708\]", "trouble_codes: [P0705]"),
    (LEVER, r"6: \{circuit: park_signal, colour: TQ, size_mm2: 0.5", "6: {circuit: park_signal, colour: TQBK, size_mm2: 0.5"),
    (LEVER, 'note: "to the lock of the ignition key"', 'note: "to the key lock"'),
    (LEVER, r"3: \{circuit: range_signal, colour: VT, size_mm2: 0.5\}", "3: {circuit: range_signal, colour: VTWH, size_mm2: 0.5}"),
    (LEVER, r"(13: \{circuit: forward_signal, colour: TQBK,) size_mm2: 0.35, note: \"to the winch relay\"", r"\1 size_mm2: 0.5"),
    (LEVER, r"1: \{circuit: start_feed, colour: WH, size_mm2: 1.5\}", '1: {circuit: start_feed, colour: WH, size_mm2: 1.5, note: "thick"}'),
    (LEVER, "A van without a position display: no ladder wires.", "A van; it has no position display."),
    (LEVER, r"closed: \[P, N\]", "closed: [N, P]"),
    (LEVER, r"pins: \[1, 2\], closed: \[P, N\]", "pins: [2, 1], closed: [P, N]"),
    (LEVER, r"torque_nm: 11", "torque_nm: 11.0"),
    (LEVER, r"at_mm: 43, at_deg", "at_mm: 43.0, at_deg"),
    (LEVER, r"(    - \"The plug hangs above)", r'    - "Battery off before the plug is pulled."\n\1'),
    (LEVER, r"The plug hangs above the exhaust downpipe\. Let it cool\.", "The plug hangs above the exhaust downpipe: let it cool."),
    (LEVER, r"(outcome: works, note: \"set twice):.*(\"\})", r"\1\2"),
    (LEVER, r"on: 2024-05-13, by: bay 2", "on: 2024-05-14, by: bay 3"),
    (LEVER, r"(  - \{vehicle: Corran Sallow) 1.6(, years: 1991-)(.*\n)", r"\1 1.6\2\3\1 1.8\2\3"),
    (LEVER, r"  - \{vehicle: Corran Pintle 3.2.*\n", ""),
    (LEVER, r"Corran Delver 2.4, years: 2012-2018", "Corran Delver 2.4, years: 2013-2018"),
    (LEVER, r"note: \"the lever ends at D\"", 'note: "its lever ends at D"'),
    (LEVER, r"drive: four-wheel, plug", "drive: all-wheel, plug"),
    (LEVER, r"status: superseded", "status: discontinued"),
    (LEVER, r"since: 1998-10", "since: 1998-11"),
    (LADDER, r"\[5, case\], closed: \[P, R, N, D, 2, 1\]", "[case, 5], closed: [P, R, N, D, 2, 1]"),
    (LADDER, r"stamped: \[\"IVELIN\", \"two stars\"\]", 'stamped: ["two stars"]'),
    (OVAL_KIT, "title: Plug renewal, thirteen-way oval to fourteen-way wedge", "title: Plug renewal, oval to wedge"),
    (OVAL_KIT, "One mat goes in, the others stay on the shelf.", "One mat goes in."),
    (OVAL_KIT, "two bags compared, the map tried on a cut tail with a buzzer", "two bags compared, and tried on a cut tail"),
    ("connectors/wedge-14", "title: Fourteen-way wedge", "title: Wedge with fourteen ways"),
    ("connectors/wedge-14", "Look for it between 1 and 8 first", "Look between 1 and 8 first"),
    (EAR, r"trouble_codes: \[P0705, P0850\]", "trouble_codes: [P0850, P0705]"),
)  # fmt: skip


@pytest.fixture(scope="module")
def demo() -> Loaded:
    return load(ROOT)


def edited(demo: Loaded, edit: Edit) -> States:
    """The demo book and what it is after an edit."""
    name, pattern, there = edit
    file = f"entries/{name}.md"
    source = next(one.source for one in demo.entries if one.file == file)
    text, count = re.subn(pattern, there, source, count=1, flags=re.MULTILINE)
    assert count and text != source, f"{file} has not {pattern!r}"
    states = amended(demo, {file: text.encode()})
    assert not next(one.problems for one in states.new.entries if one.file == file), f"{file} cannot be read after {pattern!r}"
    return states


def to_look_at(report: Impact) -> Iterator[str]:
    """All that other programs find flagged for safety."""
    data = as_data(report, URLS)
    yield from (f"fact {one['entry']} {one['at']}" for one in data["facts"] if one["safety"])
    yield from (f"vehicle {one['vehicle']}" for one in data["applications"] if one["safety"])
    yield from (f"verdict {one['number']}" for one in data["verdicts"] if one["safety"])


def first_heading(report: Impact) -> tuple[str, str]:
    """The first heading of the report for a terminal and of the one for a comment."""
    lines = [text for style, text in as_lines(report, URLS) if style == "head"]
    comment = [line for line in as_markdown(report, URLS).splitlines() if line.startswith("####")]
    return lines[1], comment[0] if comment else ""


@pytest.mark.parametrize("edit", [*HARMFUL, *further_edits.HARMFUL], ids=lambda edit: f"{edit[0].split('/')[1]}: {edit[1][:40]}")
@pytest.mark.slow
def test_what_can_hurt_somebody_comes_first(demo: Loaded, edit: Edit) -> None:
    report = impact(edited(demo, edit), "base", "0", (), ())
    assert list(to_look_at(report))
    assert all("Look at these first: safety" in heading for heading in first_heading(report))


@pytest.mark.parametrize("edit", [*HARMLESS, *further_edits.HARMLESS], ids=lambda edit: f"{edit[0].split('/')[1]}: {edit[1][:40]}")
@pytest.mark.slow
def test_what_hurts_nobody_is_not_cried_about(demo: Loaded, edit: Edit) -> None:
    report = impact(edited(demo, edit), "base", "0", (), ())
    assert list(to_look_at(report)) == []
    assert "Look at these first" not in as_markdown(report, URLS)


def listed(key: str, name: str, value: Any) -> Schemas:
    files = copy.deepcopy(dict(load_schemas(None).files))
    files["circuits"]["circuits"][name][key] = value
    return Schemas(MappingProxyType(files))


@pytest.mark.parametrize(("name", "key", "value"), CIRCUITS)
def test_a_list_of_circuits_that_asks_for_something_else_comes_first(name: str, key: str, value: Any) -> None:
    report = impact(two_states(Path(), [], [], load_schemas(None), listed(key, name, value)), "base", "0", (), ())
    assert list(to_look_at(report)) == [f"fact {name} {key}"]


def test_other_words_for_a_circuit_hurt_nobody() -> None:
    report = impact(two_states(Path(), [], [], load_schemas(None), listed("name", "start_out", "starter")), "base", "0", (), ())
    assert [(one.entry, one.place, one.safety) for one in report.facts] == [("start_out", "name", False)]


def test_there_are_enough_of_them() -> None:
    assert len(HARMFUL) >= 40 and len(HARMLESS) >= 40
    assert len(further_edits.HARMFUL) >= 40 and len(further_edits.HARMLESS) >= 20


def test_a_caution_that_moves_up_into_the_entry_is_not_gone(demo: Loaded) -> None:
    file = "entries/kits/rect-9-from-flat-9.md"
    source = next(one.source for one in demo.entries if one.file == file)
    moved = source.replace("Battery off first. The wire", "The wire").replace("cautions:\n", 'cautions:\n  - "Battery off first."\n', 1)
    report = impact(amended(demo, {file: moved.encode()}), "base", "0", (), ())
    assert list(to_look_at(report)) == [] and any(one.place == "prose" for one in report.facts)
