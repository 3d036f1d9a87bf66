"""Random edits of a book's files, such as people make and such as go wrong: each from a seed, so that a failure can be had again."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from pathlib import PurePath

Files = dict[str, bytes]
Edit = Callable[[Files, random.Random], None]

FEW = ("tamblin-drum", "tamblin-lever", "tamblin-stage", "penvose-ladder", "ostrand-column", "harnby-flat")
"""Families among which parts stand in for each other. All others are there for every twelfth seed only: judging them whole takes long."""

LETTERS = ("P", "R", "N", "D", "2", "1")


def some_of(files: Files, seed: int) -> Files:
    """What of the demo book is edited with a seed: all of it, or all but the switches that are not of :data:`FEW`."""
    return {file: data for file, data in files.items() if seed % 12 == 11 or "switches" not in file or PurePath(file).stem in FEW}


def edited(files: Files, seed: int, edits: int = 1) -> Files:
    """The files after some random edits."""
    chance = random.Random(seed)
    made = dict(files)
    for _ in range(edits):
        chance.choice(EDITS)(made, chance)
    return made


def _pick(files: Files, chance: random.Random, folder: str = "") -> str:
    return chance.choice(sorted(file for file in files if f"entries/{folder}" in file))


def _sub(pattern: str, make: Callable[[re.Match[str], random.Random], str], folder: str = "switches") -> Edit:
    """An edit that changes one of the places that match."""

    def edit(files: Files, chance: random.Random) -> None:
        file = _pick(files, chance, folder)
        text = files[file].decode()
        found = list(re.finditer(pattern, text))
        if found:
            one = chance.choice(found)
            files[file] = (text[: one.start()] + make(one, chance) + text[one.end() :]).encode()

    return edit


def _closed(_: re.Match[str], chance: random.Random) -> str:
    return f"closed: [{', '.join(chance.sample(LETTERS, chance.randrange(0, 4)))}]"


def _swap_pins(found: re.Match[str], chance: random.Random) -> str:
    pairs = [pair.split(": ") for pair in found.group(1).split(", ")]
    if len(pairs) > 1:
        one, other = chance.sample(range(len(pairs)), 2)
        pairs[one][1], pairs[other][1] = pairs[other][1], pairs[one][1]
    return "pins: {" + ", ".join(": ".join(pair) for pair in pairs) + "}"


def _other_connector(found: re.Match[str], chance: random.Random) -> str:
    return found.group(1) + chance.choice(("oval-13", "wedge-14", "ring-16", "rect-14", "nowhere"))


def _drop_line(files: Files, chance: random.Random) -> None:
    file = _pick(files, chance)
    lines = files[file].decode().split("\n")
    del lines[chance.randrange(len(lines))]
    files[file] = "\n".join(lines).encode()


def _remove(files: Files, chance: random.Random) -> None:
    del files[_pick(files, chance)]


def _copy(files: Files, chance: random.Random) -> None:
    """A second family like one that there is: other numbers and id, or the very same ones."""
    file = _pick(files, chance, "switches")
    text = files[file].decode()
    if chance.random() < 0.7:
        text = re.sub(r"^id: (.*)$", r"id: \1-two", text, flags=re.MULTILINE)
        text = re.sub(r"((?:number|came_with): )([^,\s}]+)", r"\1ZZ\2", text)
    files[file.replace(".md", "-two.md")] = text.encode()


def _break(files: Files, chance: random.Random) -> None:
    file = _pick(files, chance)
    files[file] = files[file].replace(b"kind:", chance.choice((b"kind: [", b"knid:", b"\xff")), 1)


def _rename(files: Files, chance: random.Random) -> None:
    file = _pick(files, chance)
    files[file.replace(".md", "-moved.md")] = files.pop(file)


def _prose(files: Files, chance: random.Random) -> None:
    files[_pick(files, chance)] += b"\nA sentence more.\n"


def _windows_lines(files: Files, chance: random.Random) -> None:
    file = _pick(files, chance)
    files[file] = files[file].replace(b"\n", b"\r\n")


def _mixed_lines(files: Files, chance: random.Random) -> None:
    file = _pick(files, chance)
    files[file] = files[file].replace(b"\n", b"\r\n", 2)


EDITS: tuple[Edit, ...] = (
    _sub(r"closed: \[[^]]*\]", _closed),
    _sub(r"closed: \[[^]]*\]", _closed),
    _sub(r"pins: \{([^}]*)\}", _swap_pins),
    _sub(r"pins: \{([^}]*)\}", _swap_pins),
    _sub(r"(connector: )\S+", _other_connector),
    _sub(r"mount: \S+", lambda found, chance: chance.choice(("mount: open-ears", "mount: boss", found.group()))),
    _sub(r"(\w: )(\d{3,4})\b", lambda found, chance: found.group(1) + str(int(found.group(2)) * chance.choice((2, 3)))),
    _sub(r"at_mm: \d+", lambda found, chance: f"at_mm: {chance.randrange(20, 60)}"),
    _sub(r"spacer_mm: \d", lambda found, chance: f"spacer_mm: {chance.randrange(0, 7)}"),
    _sub(r"circuit: \w+", lambda found, chance: chance.choice(("circuit: start_out", "circuit: backup_feed", "circuit: ground"))),
    _sub(r"positions: \[.*\]", lambda found, chance: chance.choice(("positions: [P, R, N, D]", "positions: [P, R, N, D, 2, 1]"))),
    _sub(r"\n    contacts:(\n      - .*)+", lambda found, chance: ""),
    _sub(r"\n    pins: .*", lambda found, chance: ""),
    _sub(r"(superseded_by:\n\s+- number: )(\S+)", lambda found, chance: found.group(1) + chance.choice(("TB-51149", "TB-2319", "NO-1"))),
    _sub(r"needs: \[[^]]*\]", lambda found, chance: "needs: []"),
    _sub(r"status: \w+", lambda found, chance: f"status: {chance.choice(('current', 'discontinued', 'superseded'))}"),
    _sub(r"came_with: [^,}\s]+", lambda found, chance: f"came_with: {chance.choice(('TB-51149', 'TB-2319', 'NO-1'))}"),
    _sub(r"  - \{vehicle: .*\n", lambda found, chance: ""),
    _sub(r"optional_cavities: \[[^]]*\]", lambda found, chance: "optional_cavities: []"),
    _sub(r"title: .*", lambda found, chance: found.group() + " b", "connectors"),
    _sub(r"mates: \[.*\]", lambda found, chance: "mates: []", "connectors"),
    _sub(r"sealed: yes", lambda found, chance: "sealed: no", "connectors"),
    _sub(r"outline: \w+", lambda found, chance: f"outline: {found.group()[9:]}\nmates: [ring-16, oval-13]", "connectors"),
    _sub(r"(\d): (\d)", lambda found, chance: f"{found.group(1)}: {chance.randrange(1, 9)}", "kits"),
    _sub(r"seals: \[.*\]", lambda found, chance: "seals: [4]", "kits"),
    _sub(r"(to: )\S+", _other_connector, "kits"),
    _drop_line,
    _drop_line,
    _remove,
    _copy,
    _break,
    _rename,
    _prose,
    _windows_lines,
    _mixed_lines,
)
