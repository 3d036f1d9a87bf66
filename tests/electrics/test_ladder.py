"""A ladder as the module reads it."""

from __future__ import annotations

import itertools
import random
import shutil
import subprocess

import eseries
import networkx as nx
import numpy as np
import pytest

from rangebook.book.model import Contact, Part, Reads
from rangebook.electrics.bundles import Span, bundles_of, spans
from rangebook.electrics.ladder import MARGIN, decode, volts, window_of
from rangebook.electrics.relation import CLOSED_OHMS

READS = Reads(("5", "6"), 1000, 5)
LADDER = {"P": 9100, "R": 3900, "N": 1800, "D": 910, "2": 430, "1": 200}


def windows(ohms: dict[str, float], percent: float = 5):
    return {at: window_of(Span(value, value * (1 - percent / 100), value * (1 + percent / 100)), READS) for at, value in ohms.items()}


def test_the_voltage_divider() -> None:
    # Ohm's law: 1 kohm against 1 kohm halves the voltage.
    assert volts(1000, READS) == pytest.approx(2.5)
    assert volts(0, READS) == 0
    assert volts(float("inf"), READS) == 5
    assert volts(9100, READS) == pytest.approx(5 * 9100 / 10100)


def test_the_ladder_of_the_examples_uses_preferred_values() -> None:
    # IEC 60063, by PyPI's eseries.
    for ohms in LADDER.values():
        assert eseries.find_nearest(eseries.E24, ohms) == pytest.approx(ohms)


def test_equal_ladders_read_alike_with_room() -> None:
    found = decode(windows(LADDER), windows(LADDER))
    assert found.mistaken == {} and found.margin > 0.1


def test_a_ladder_that_differs_but_reads_alike() -> None:
    other = {at: ohms * 1.12 for at, ohms in LADDER.items()}
    found = decode(windows(LADDER), windows(other))
    assert found.mistaken == {} and 0 < found.margin < decode(windows(LADDER), windows(LADDER)).margin


def test_a_ladder_one_detent_off_is_named() -> None:
    shifted = dict(zip(LADDER, [*list(LADDER.values())[1:], 68], strict=True))
    found = decode(windows(LADDER), windows(shifted))
    assert found.mistaken["P"] == "R" and found.mistaken["N"] == "D"
    assert "P" in found.sure and found.margin <= 0


def test_right_at_nominal_but_not_at_the_worst_of_the_tolerances() -> None:
    close = {"P": 1000, "R": 1300}
    found = decode(windows(close, 1), windows({"P": 1100, "R": 1300}, 10))
    assert found.mistaken == {"P": "R", "R": "P"} or found.mistaken.get("P") == "R"
    assert "P" not in found.sure


def test_short_and_open_are_readings_too() -> None:
    closed, opened = (window_of(Span(ohms, ohms, ohms), READS) for ohms in (0.0, float("inf")))
    assert closed.nominal == 0 and opened.nominal == 5


def test_against_random_resistors_within_the_tolerances() -> None:
    """What decodes with room left must decode whatever the resistors really are, by the nearest of the original's readings."""
    rng = random.Random(7)
    room = no_room = 0
    for _ in range(400):
        picked = rng.sample([68, 150, 330, 470, 620, 820, 1100, 1500, 2000, 3300, 4300, 9100], 5)
        ours = dict(zip("PRND2", picked, strict=True))
        theirs = {at: ohms * rng.uniform(0.75, 1.3) for at, ohms in ours.items()}
        found = decode(windows(ours, 5), windows(theirs, 8))
        wrong = set()
        for _ in range(60):
            real = {at: volts(ohms * rng.uniform(0.95, 1.05), READS) for at, ohms in ours.items()}
            for at, ohms in theirs.items():
                read = volts(ohms * rng.choice([0.92, 1.08, rng.uniform(0.92, 1.08)]), READS)
                if min(real, key=lambda one: abs(real[one] - read)) != at:
                    wrong.add(at)
        assert wrong <= set(found.mistaken)
        room += not found.mistaken
        no_room += bool(found.mistaken)
    assert room > 20 and no_room > 20


# Whole networks ---------------------------------------------------------------------------------------------------------

INSIDE = ("5", "6", "7", "8")


def network_part(rng: random.Random, at: str = "P"):
    """A part with resistors and joins between four pins in one position, and the resistors with their tolerances."""
    contacts, resistors = [], []
    for index in range(rng.randint(2, 6)):
        a, b = rng.sample(INSIDE, 2)
        ohms = rng.choice([0.4, 68.0, 150.0, 470.0, 1100.0, 2000.0, 9100.0])
        percent = rng.choice([1.0, 5.0, 10.0, 20.0])
        contacts.append(Contact(a, b, None, {at: ohms}, percent, ("contacts", index)))
        if ohms >= CLOSED_OHMS:
            resistors.append((a, b, ohms, percent))
    joins = [(one.a, one.b) for one in contacts if one.ohms[at] < CLOSED_OHMS]
    part = Part(
        "X-1", "X1", "x", None, None, None, (), dict.fromkeys(INSIDE, "display"), tuple(contacts), (), (), None, (), ("parts", "X-1")
    )
    return part, joins, resistors


def ohms_between(joins, resistors, a: str, b: str) -> float:
    """By numpy's pseudo-inverse of the Laplacian (Klein and Randic, J. Math. Chem. 12 (1993) 81-95), joins by networkx."""
    merge, reach = nx.Graph(joins), nx.Graph([*joins, *((one[0], one[1]) for one in resistors)])
    for graph in (merge, reach):
        graph.add_nodes_from(INSIDE)
    of = {node: min(group) for group in nx.connected_components(merge) for node in group}
    if of[a] == of[b] or not nx.has_path(reach, a, b):
        return 0.0 if of[a] == of[b] else float("inf")
    nodes = sorted(set(of.values()))
    laplacian = np.zeros((len(nodes), len(nodes)))
    for one, other, ohms in resistors:
        step = np.zeros(len(nodes))
        step[nodes.index(of[one])] += 1
        step[nodes.index(of[other])] -= 1
        laplacian += np.outer(step, step) / ohms
    ends = np.zeros(len(nodes))
    ends[nodes.index(of[a])], ends[nodes.index(of[b])] = 1, -1
    return float(ends @ np.linalg.pinv(laplacian, hermitian=True) @ ends)


def test_the_worst_of_the_tolerances_by_every_corner() -> None:
    """Each resistor at its low or its high end, in every combination: none reads beyond the span, and two of them are its ends."""
    between = 0
    for seed in range(400):
        part, joins, resistors = network_part(random.Random(30_000 + seed))
        (span,) = spans(part, "5", "6", ("P",)) if {"5", "6"} <= bundles_of(part).listed else (None,)
        if span is None:
            continue
        corners = [
            ohms_between(
                joins,
                [(a, b, ohms * (1 + sign * percent / 100)) for sign, (a, b, ohms, percent) in zip(signs, resistors, strict=True)],
                "5",
                "6",
            )
            for signs in itertools.product((-1, 1), repeat=len(resistors))
        ]
        nominal = ohms_between(joins, [one[:3] for one in resistors], "5", "6")
        assert (span.nominal, span.low, span.high) == pytest.approx((nominal, min(corners), max(corners)), rel=1e-7), seed
        between += 0 < nominal < float("inf")
    assert between > 150


def test_decoding_against_every_corner_of_both_parts() -> None:
    """What leaves the margin at the worst of both parts' tolerances does so in every corner, and what does not fails in one."""
    rng = random.Random(11)
    right = wrong = 0
    for _ in range(300):
        ours = dict(zip("PRND", rng.sample([150, 330, 620, 1100, 1500, 2000, 4300, 9100], 4), strict=True))
        theirs = {at: ohms * rng.uniform(0.9, 1.1) for at, ohms in ours.items()}
        percents = rng.choice([1, 5, 10]), rng.choice([1, 5, 10, 20])
        found = decode(windows(ours, percents[0]), windows(theirs, percents[1]))
        nominal = {at: volts(ohms, READS) for at, ohms in ours.items()}
        bad = set()
        for at, other in itertools.permutations(ours, 2):
            for signs in itertools.product((-1, 1), repeat=3):
                factors = [1 + sign * percent / 100 for sign, percent in zip(signs, (percents[0], percents[0], percents[1]), strict=True)]
                own, next_one, read = (
                    volts(ohms * factor, READS) for ohms, factor in zip((ours[at], ours[other], theirs[at]), factors, strict=True)
                )
                towards = 1 if nominal[other] > nominal[at] else -1
                left = towards * ((own + next_one) / 2 - read)
                if left < MARGIN * abs(nominal[other] - nominal[at]):
                    bad.add(at)
        assert set(found.scant) == bad | found.sure, (ours, theirs, percents)
        right += not bad
        wrong += bool(bad)
    assert right > 40 and wrong > 40


@pytest.mark.skipif(shutil.which("ngspice") is None, reason="needs Debian's ngspice: apt-get install ngspice")
def test_networks_with_powered_outputs_in_ngspice(tmp_path) -> None:
    """Debian's ngspice in batch mode: the module's pull-up on 5 against 6, and beside the network an output that is driven from a supply
    of its own against 6, with a load at the module. What is read of the ladder does not go by the output, and is what is reckoned."""
    lines, wanted = ["ladders beside powered outputs"], []
    for seed in range(200):
        rng = random.Random(40_000 + seed)
        part, joins, resistors = network_part(rng)
        if not {"5", "6"} <= bundles_of(part).listed:
            continue
        (span,) = spans(part, "5", "6", ("P",))
        merge = nx.Graph(joins)
        merge.add_nodes_from(INSIDE)
        of = {node: min(group) for group in nx.connected_components(merge) for node in group}
        for number, (a, b, ohms, _) in enumerate(resistors):
            if of[a] != of[b]:
                lines.append(f"R{seed}x{number} {seed}n{of[a]} {seed}n{of[b]} {ohms}")
        lines += [
            f"V{seed}g {seed}n{of['6']} 0 0",
            f"V{seed}m {seed}m 0 {READS.volts}",
            f"R{seed}m {seed}m {seed}n{of['5']} {READS.pull_up_ohms}",
            f"V{seed}s {seed}s {seed}n{of['6']} {rng.uniform(0.5, 12):.3f}",  # the output, as it stands in this position
            f"R{seed}o {seed}s {seed}o 100",
            f"R{seed}l {seed}o {seed}n{of['6']} 4700",
            *(f"R{seed}f{node} {seed}n{node} 0 1e15" for node in set(of.values())),  # no node without a path to ground
        ]
        wanted.append((f"{seed}n{of['5']}", window_of(span, READS).nominal))
    assert len(wanted) > 100
    lines += [".options gmin=1e-15", ".control", "set numdgt=10", "op"]
    lines += [f"print v({node})" for node, _ in wanted] + [".endc", ".end"]
    netlist = tmp_path / "powered.cir"
    netlist.write_text("\n".join(lines) + "\n")
    done = subprocess.run(["ngspice", "-b", str(netlist)], capture_output=True, text=True, timeout=120, check=False)
    read = dict(line.split(" = ") for line in done.stdout.splitlines() if line.startswith("v("))
    assert len(read) == len(wanted), done.stdout[-500:] + done.stderr[-500:]
    for node, reckoned in wanted:
        assert float(read[f"v({node})"]) == pytest.approx(reckoned, rel=1e-6, abs=1e-8), node
