"""Write an invented book of any size, to measure on.

    .venv/bin/python benchmarks/generate.py FOLDER --families 1000

The same figures give the same book, byte for byte. It is clean under the linter. Two families at a time share an old
housing, a newer one and the kit that leads from one to the other, so the whole book has one connector and half a kit to
a family, as a real one has. Each family has a chain of three parts and, to each of them, look-alikes in the same housing:
an ear turned, contacts on other pins, or another output. A family's front matter is some 110 lines.
"""

from __future__ import annotations

import argparse
import random
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

SYLLABLES = ("bre", "dask", "vor", "quil", "thes", "mun", "orl", "gred", "pell", "hask", "iv", "zon", "cath", "lum", "wex", "fro")
LEVERS = (("P", "R", "N", "D"), ("P", "R", "N", "D", "2", "1"), ("P", "R", "N", "D", "3", "2", "1"))
E12 = (10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82)
"""IEC 60063."""
COLOURS = ("RD", "YE", "BN", "WH", "BU", "BK", "GN", "VT", "GY", "OG", "PK", "RDWH", "BUBK", "GNRD")
OLD, NEW = (2, 7), (2, 8)
"""Rows and columns of the old housing and of the newer one."""
SPARE = "not_connected"

SENTENCES = (
    "Look at the plug first: green at a terminal means that water has been in, and a new switch will not last.",
    "The clip on the harness breaks when it is cold. Warm it, or have one at hand.",
    "Set it with the pin in the hole and the lever in N, then tighten crosswise.",
    "If it cranks in R after fitting, it is one detent off. Loosen, turn, try again.",
    "We have seen the shaft worn round at the flats. Then no switch will hold its setting.",
    "The backup lamps are on the same fuse as the heater fan. Check that before anything else.",
    "Meter it on the bench before it goes on. One in twenty from the box was bad.",
    "The bolt by the bulkhead is a two-hand job from below. Take the bracket off, it is quicker.",
    "Do not grease the terminals; the seal swells.",
    "The older ones rattle when shaken. That is the detent spring, and harmless.",
)


@dataclass(frozen=True)
class Shape:
    """What the parts of a family are made from: cavity of the old housing -> circuit, and the lines for contacts and signals."""

    lever: tuple[str, ...]
    output: str
    pins: Mapping[str, str]
    spare: str

    def at(self, circuit: str) -> str:
        """The cavity of a circuit."""
        return next(cavity for cavity, name in self.pins.items() if name == circuit)


def generate(families: int, look_alikes: int = 1, seed: int = 1) -> dict[str, str]:
    """A book: file name relative to the root -> text. ``look_alikes`` is how many each part of a chain has."""
    chance = random.Random(f"rangebook {families} {look_alikes} {seed}")
    names, numbers = _names(chance), _numbers(chance)
    book: dict[str, str] = {}
    for first in range(0, families, 2):
        group = next(names)
        moves = _moves(chance)
        book |= _shared(group, moves, next(numbers), chance)
        for _ in range(min(2, families - first)):
            name = next(names)
            book[f"entries/switches/{name}.md"] = _family(name, group, moves, look_alikes, names, numbers, chance)
    return book


def write(book: Mapping[str, str], root: Path) -> None:
    """Write a book into a folder. Raises ``FileExistsError`` where there is one already."""
    if (root / "entries").exists():
        raise FileExistsError(f"{root / 'entries'} is there already: name another folder, or take it away")
    for folder in ("switches", "connectors", "kits"):
        (root / "entries" / folder).mkdir(parents=True)
    for file, text in book.items():
        (root / file).write_text(text, "utf-8")


def _names(chance: random.Random) -> Iterator[str]:
    """Words that nobody uses, each once."""
    given: set[str] = set()
    while True:
        name = "".join(chance.choices(SYLLABLES, k=4))
        if name not in given:
            given.add(name)
            yield name


def _numbers(chance: random.Random) -> Iterator[str]:
    """Part numbers in several makers' styles, each once whatever the spelling: the six figures differ."""
    count = 100_000 + chance.randrange(1000)
    while True:
        count += chance.randrange(1, 40)
        figures, letters = f"{count:06}", "".join(chance.choices("ACDEFGHKLMNPRTUVWXY", k=2))
        yield chance.choice(
            (
                f"{letters}-{figures}",
                f"{figures[:3]} {figures[3:]} {letters}",
                f"{letters}.{figures[:2]}.{figures[2:]}",
                f"0{figures}/{letters}",
            )
        )


def _cavities(size: tuple[int, int]) -> list[str]:
    return [str(label) for label in range(1, size[0] * size[1] + 1)]


def _moves(chance: random.Random) -> dict[str, str]:
    """Old cavity -> new cavity: in order, some of the new ones left empty."""
    kept = sorted(chance.sample(range(1, NEW[0] * NEW[1] + 1), OLD[0] * OLD[1]))
    return dict(zip(_cavities(OLD), map(str, kept), strict=True))


def _flow(mapping: Mapping[str, object]) -> str:
    return "{" + ", ".join(f"{key}: {value}" for key, value in mapping.items()) + "}"


def _source(chance: random.Random) -> str:
    kind = chance.choice(("seen", "wiring-diagram", "service-manual", "catalogue"))
    on = f"{chance.randrange(2021, 2026)}-{chance.randrange(1, 13):02}-{chance.randrange(1, 29):02}"
    return f'[{{kind: {kind}, detail: "sheet {chance.randrange(1, 90)}", by: {chance.choice(("bench", "counter"))}, on: {on}}}]'


def _entry(lines: Sequence[str], prose: str) -> str:
    return "\n".join(["---", *lines, "---", "", prose, ""])


def _shared(group: str, moves: Mapping[str, str], number: str, chance: random.Random) -> dict[str, str]:
    """The two housings and the kit of a group."""
    book = {}
    for outline, size in (("oval", OLD), ("rectangular", NEW)):
        rows, columns = size
        cavities = _cavities(size)
        name = f"{group}-{outline}"
        lines = [
            *(
                "kind: connector",
                f"id: {name}",
                f"title: {group.capitalize()} {outline} of {len(cavities)}",
                f"outline: {outline}",
                "rows:",
            ),
            *(f"  - [{', '.join(cavities[row * columns : (row + 1) * columns])}]" for row in range(rows)),
            f"terminal: {{style: blade, width_mm: {chance.choice((1.5, 2.8, 6.3))}, on_switch: male}}",
            *("sealed: yes", f"sources: {_source(chance)}"),
        ]
        book[f"entries/connectors/{name}.md"] = _entry(lines, chance.choice(SENTENCES))
    lines = [
        *("kind: kit", f"id: {group}-renewal", f"number: {number}", f"title: Plug renewal, {group.capitalize()} oval to rectangular"),
        *(f"from: {group}-oval", f"to: {group}-rectangular", f"moves: {_flow(moves)}"),
        *("seals: [5, 9, 13]", "blanks: 4", f"sources: {_source(chance)}"),
    ]
    book[f"entries/kits/{group}-renewal.md"] = _entry(lines, chance.choice(SENTENCES))
    return book


def _shape(chance: random.Random) -> Shape:
    """A lever, a kind of output, and where its circuits are in the old housing."""
    output = chance.choice(("ladder", "ladder", "ladder", "code", "lines", "powered"))
    circuits = ["start_feed", "start_out", "backup_feed", "backup_out"]
    circuits += {
        "ladder": ["range_signal", "range_return"],
        "code": ["code_1", "code_2", "code_3", "code_parity", "code_return"],
        "lines": ["common_feed", "park_signal", "reverse_signal", "neutral_signal", "drive_signal"],
        "powered": ["range_signal", "supply", "signal_ground"],
    }[output]
    cavities = chance.sample(_cavities(OLD), len(circuits) + 1)
    pins = dict(sorted(zip(cavities, circuits, strict=False), key=lambda pair: int(pair[0])))
    return Shape(LEVERS[0] if output == "lines" else chance.choice(LEVERS), output, pins, cavities[-1])


def _contacts(shape: Shape, moves: Mapping[str, str], other: bool, chance: random.Random) -> list[str]:
    """The lines of a part's contacts and signals; with ``other`` those of a look-alike whose output is another one."""

    def pair(a: str, b: str) -> str:
        return f"[{moves[shape.at(a)]}, {moves[shape.at(b)]}]"

    lever = shape.lever
    lines = [
        "contacts:",
        f"  - {{pins: {pair('start_feed', 'start_out')}, closed: [P, N]}}",
        f"  - {{pins: {pair('backup_feed', 'backup_out')}, closed: [R]}}",
    ]
    match shape.output:
        case "ladder":
            steps = [E12[step % 12] * 10 ** (1 + step // 12) for step in range(3 if other else 0, 24, 2)]
            ohms = dict(zip(lever, reversed(steps[: len(lever)]), strict=True))
            lines.append(f"  - {{pins: {pair('range_signal', 'range_return')}, ohms: {_flow(ohms)}, tolerance_percent: 5}}")
        case "code":
            words = [_gray(index + (1 if other else 0)) for index in range(len(lever))]
            for line, circuit in enumerate(("code_1", "code_2", "code_3", "code_parity")):
                closed = [position for position, word in zip(lever, words, strict=True) if word[line]]
                lines.append(f"  - {{pins: {pair(circuit, 'code_return')}, closed: [{', '.join(closed)}]}}")
        case "lines":
            named = dict(zip(lever, ("park_signal", "reverse_signal", "neutral_signal", "drive_signal"), strict=True))
            if other:
                named["R"], named["D"] = named["D"], named["R"]
            lines += [f"  - {{pins: {pair('common_feed', circuit)}, closed: [{position}]}}" for position, circuit in named.items()]
        case "powered":
            first = 15 if other else 10
            duty = {position: first + 10 * index for index, position in enumerate(lever)}
            pin, supply, ground = (moves[shape.at(circuit)] for circuit in ("range_signal", "supply", "signal_ground"))
            powered = {"pin": pin, "supply": supply, "ground": ground, "kind": "duty_percent", "values": _flow(duty), "tolerance": 2}
            lines += ["signals:", f"  - {_flow(powered)}"]
    return lines


def _gray(index: int) -> tuple[int, int, int, int]:
    """Three bits of Gray code and an even parity bit."""
    code = index % 8 ^ index % 8 >> 1
    bits = code >> 2 & 1, code >> 1 & 1, code & 1
    return (*bits, sum(bits) % 2)


def _swapped(shape: Shape) -> Shape:
    """The same pins with start and backup circuits in each other's places."""
    other = {"start_feed": "backup_feed", "start_out": "backup_out", "backup_feed": "start_feed", "backup_out": "start_out"}
    return Shape(shape.lever, shape.output, {cavity: other.get(name, name) for cavity, name in shape.pins.items()}, shape.spare)


def _family(
    name: str,
    group: str,
    moves: Mapping[str, str],
    look_alikes: int,
    names: Iterator[str],
    numbers: Iterator[str],
    chance: random.Random,
) -> str:
    title, shape = name.capitalize(), _shape(chance)
    same = {cavity: cavity for cavity in _cavities(OLD)}
    first, second, third = islice(numbers, 3)
    changed = chance.randrange(2003, 2010)
    renewed = changed + chance.randrange(3, 9)
    lines = [
        *("kind: switch", f"id: {name}", f"title: {title} lever switch", "also_called: [inhibitor switch, neutral safety switch]"),
        *(f"gearboxes: [{title} Short, {title} Long]", f"positions: [{', '.join(shape.lever)}]"),
        *_mounts(shape.lever, chance),
        "parts:",
    ]
    chain = (
        (first, "oval", same, False, f"superseded_by: [{{number: {second}, since: {changed}-05, needs: []}}]"),
        (second, "oval", same, True, f"superseded_by: [{{number: {third}, since: {renewed}-02, needs: [{group}-renewal]}}]"),
        (third, "rectangular", moves, True, ""),
    )
    turned = None
    for number, outline, places, spare, link in chain:
        lines += _part(number, f"{group}-{outline}", "plain", shape, places, spare, link, False, chance)
        for index in range(look_alikes):
            # The newest part's first look-alike differs by an ear alone: it gets vehicles of its own below.
            difference = index % 3 if number == third else chance.randrange(3)
            alike = next(numbers)
            if number == third and index == 0:
                turned = alike
            of, mount = (_swapped(shape) if difference == 1 else shape), ("turned-ear" if difference == 0 else "plain")
            lines += _part(alike, f"{group}-{outline}", mount, of, places, spare, "", difference == 2, chance)
    lines += [
        "plugs:",
        *_plug("oval", f"{group}-oval", shape, same, chance),
        *_plug("rectangular", f"{group}-rectangular", shape, moves, chance),
        "applications:",
    ]
    maker, models = next(names).capitalize(), [next(names).capitalize() for _ in range(2)]
    for index, model in enumerate(models):
        gearbox = f"{title} {('Short', 'Long')[index % 2]}"
        start = changed - chance.randrange(2, 6)
        for years, plug, came_with in (
            (f"{start}-{changed - 1}", "oval", first),
            (f"{changed}-{renewed - 1}", "oval", second),
            (f"{renewed}-", "rectangular", turned if turned and index == 1 else third),
        ):
            vehicle = {"vehicle": f"{maker} {model} {2 + index}.{index}", "years": years, "gearbox": gearbox}
            lines.append(f"  - {_flow({**vehicle, 'plug': plug, 'came_with': came_with})}")
    lines += [
        f'fitting: {{set_in: N, method: "pin the lever in N, then tighten crosswise", torque_nm: {chance.randrange(8, 16)}}}',
        "trouble_codes: [P0705, P0706, P0707, P0708]",
        f"sources: {_source(chance)}",
    ]
    return _entry(lines, _prose(title, group, third, chance))


def _mounts(lever: Sequence[str], chance: random.Random) -> list[str]:
    """Two ways of bolting on that differ in where the second ear stands, by more than the slots can give."""
    hub = {"position": "N", "at_deg": chance.randrange(360), "steps_deg": [chance.randrange(15, 21) for _ in lever[1:]]}
    across, at, turn, spacer = (
        chance.randrange(80, 140) / 10,
        chance.randrange(300, 480) / 10,
        chance.randrange(90, 140),
        chance.randrange(0, 6),
    )
    lines = ["mounts:"]
    for name, second in (("plain", turn), ("turned-ear", turn + 25)):
        lines += [f"  {name}:", f"    shaft: {{shape: double-flat, across_mm: {across}}}", f"    hub: {_flow(hub)}", "    bolts:"]
        lines += [
            f"      - {{at_mm: {at}, at_deg: {degrees}, bolt_mm: 6, hole_mm: 6.6, slot_deg: 12, spacer_mm: {spacer}}}"
            for degrees in (0, second)
        ]
    return lines


def _part(
    number: str,
    connector: str,
    mount: str,
    shape: Shape,
    places: Mapping[str, str],
    spare: bool,
    link: str,
    other: bool,
    chance: random.Random,
) -> list[str]:
    """The lines of one part; ``spare`` gives it one pin more, joined to nothing."""
    pins = {**shape.pins, **({shape.spare: SPARE} if spare else {})}
    status = "superseded" if link else "current"
    lines = [f"number: {number}", f"connector: {connector}", f"mount: {mount}", f"status: {status}"]
    lines += [f"pins: {_flow({places[cavity]: circuit for cavity, circuit in pins.items()})}", *_contacts(shape, places, other, chance)]
    lines += [*([link] if link else []), f"sources: {_source(chance)}"]
    return [("  - " if index == 0 else "    ") + line for index, line in enumerate(lines)]


def _plug(name: str, connector: str, shape: Shape, places: Mapping[str, str], chance: random.Random) -> list[str]:
    colours = chance.sample(COLOURS, len(shape.pins))
    lines = [f"  {name}:", f"    connector: {connector}", "    wires:"]
    for (cavity, circuit), colour in zip(shape.pins.items(), colours, strict=True):
        lines.append(f"      {places[cavity]}: {{circuit: {circuit}, colour: {colour}, size_mm2: {chance.choice((0.5, 0.75, 1.0, 1.5))}}}")
    if shape.output == "ladder":
        signal, ground = places[shape.at("range_signal")], places[shape.at("range_return")]
        lines.append(f"    reads: {{pins: [{signal}, {ground}], pull_up_ohms: 1000, volts: 5}}")
    return lines


def _prose(title: str, group: str, newest: str, chance: random.Random) -> str:
    said = chance.sample(SENTENCES, 6)
    return (
        f"## What to look for\n\n{said[0]} {said[1]}\n\n## Setting it\n\n{said[2]}\n\n- {said[3]}\n- {said[4]}\n\n"
        f"The {title} of today is {newest}. Old plugs take [the kit](../kits/{group}-renewal.md). {said[5]}"
    )


def main() -> int:
    """Write a book as the command line says."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").strip().split("\n")[0])
    parser.add_argument("folder", type=Path, help="where to: entries/ is made in it")
    parser.add_argument("--families", type=int, default=100)
    parser.add_argument("--look-alikes", type=int, default=1, help="to each part of a chain (1)")
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    book = generate(args.families, args.look_alikes, args.seed)
    try:
        write(book, args.folder)
    except FileExistsError as error:
        print(error, file=sys.stderr)
        return 2
    print(f"{len(book)} entries in {args.folder / 'entries'}; try: rangebook lint --root {args.folder}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
