"""Files made to hang the linter: as large as a file may be, each full of one thing. Each is read, linted and told about in bounded time."""

from __future__ import annotations

import random
import resource
import sys
from collections.abc import Callable, Iterator

import pytest

from rangebook.lint.examples import base_book
from rangebook.reading.files import MAX_BYTES
from rangebook.reading.front_matter import MAX_FRONT
from tests.lint.fuzz.trial import try_file

SECONDS = 12.0
"""Of processor, for the worst of them; on an idle machine of 2026 it is two."""

MEBIBYTES = 400
"""By so much at most the process may grow over all of them."""

PROSE = MAX_BYTES - 4000

KIT = base_book()["entries/kits/oval-9-renewal.md"]
SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
LABELS = [a + b + c for a in SIGNS[:30] for b in SIGNS for c in SIGNS]
POSITIONS = ["P", "R", "N", "D", *(f"X{number}" for number in range(20))]


def many(piece: Callable[[int], str] | str, between: str = ", ", room: int = MAX_FRONT - 2000) -> str:
    """As many pieces as a file has room for."""

    def pieces() -> Iterator[str]:
        size = number = 0
        while size < room:
            made = piece if isinstance(piece, str) else piece(number)
            size += len(made) + len(between)
            number += 1
            yield made

    return between.join(list(pieces())[:-1])


def switch(**keys: str) -> str:
    front = {"positions": "[P, R, N, D]", "parts": "[{number: A1}]", **keys}
    return "---\nkind: switch\nid: fuzz\ntitle: a\n" + "".join(f"{key}: {value}\n" for key, value in front.items()) + "---\n"


def part(**keys: str) -> str:
    return "[{number: A1, connector: oval-13, " + ", ".join(f"{key}: {value}" for key, value in keys.items()) + "}]"


def start_pins() -> str:
    return "{" + ", ".join(f"{label}: {'start_feed' if number % 2 else 'start_out'}" for number, label in enumerate(LABELS[:128])) + "}"


def tangle(pieces: str, count: int) -> str:
    chance = random.Random(1)
    return (
        "[" + ", ".join(f"{{pins: [{chance.choice(LABELS[:128])}, {chance.choice(LABELS[:128])}], {pieces}}}" for _ in range(count)) + "]"
    )


def slots() -> str:
    bolts = ", ".join(f"{{at_mm: 30, at_deg: {angle * 45}, bolt_mm: 6, hole_mm: 6.5, slot_deg: 60, spacer_mm: 1}}" for angle in range(8))
    mounts = ", ".join(f"m{number}: {{shaft: {{shape: round, across_mm: 9}}, bolts: [{bolts}]}}" for number in range(30))
    facts = "connector: oval-13, pins: {}, contacts: []"
    parts = ", ".join(f"{{number: A{n}, mount: m{n}, {facts}, superseded_by: [{{number: A{n + 1}, needs: []}}]}}" for n in range(29))
    vehicles = ", ".join(f"{{vehicle: a{number}, plug: p, came_with: A{number}}}" for number in range(29))
    plug = "{p: {connector: oval-13, wires: {1: {}}}}"
    return switch(
        mounts=f"{{{mounts}}}", parts=f"[{parts}, {{number: A29, mount: m29, {facts}}}]", plugs=plug, applications=f"[{vehicles}]"
    )


FILES: dict[str, Callable[[], str]] = {
    "contacts": lambda: switch(parts=part(contacts="[" + many("{pins: [1, 2], closed: [P]}") + "]")),
    "pins": lambda: switch(parts=part(pins="{" + many(lambda n: f"{LABELS[n]}: ground") + "}")),
    "start pins in a tangle": lambda: switch(parts=part(pins=start_pins(), contacts=tangle("closed: [P, D]", 256))),
    "start pins in a tangle of resistors": lambda: switch(
        positions=f"[{', '.join(POSITIONS)}]",
        parts=part(pins=start_pins(), contacts=tangle("ohms: {" + ", ".join(f"{one}: 5" for one in POSITIONS) + "}", 150)),
    ),
    "slots": slots,
    "positions": lambda: switch(positions="[" + many(lambda n: LABELS[n].upper()) + "]"),
    "one position": lambda: switch(positions="[" + many("P") + "]"),
    "closed": lambda: switch(parts=part(contacts="[{pins: [1, 2], closed: [" + many("P") + "]}]")),
    "parts in a chain": lambda: switch(
        parts="[" + ", ".join(f"{{number: A{n}, superseded_by: [{{number: A{(n + 1) % 500}, since: 2001}}]}}" for n in range(500)) + "]"
    ),
    "parts in many rings": lambda: switch(
        parts="["
        + ", ".join(
            f"{{number: A{n}, superseded_by: [{', '.join(f'{{number: A{(n + k) % 150}}}' for k in range(32))}]}}" for n in range(150)
        )
        + "]"
    ),
    "unknown numbers": lambda: switch(applications="[" + many(lambda n: f"{{vehicle: a, came_with: Q{n}77}}") + "]"),
    "unknown circuits": lambda: switch(parts=part(pins="{" + many(lambda n: f"{LABELS[n]}: zz{n}") + "}")),
    "the same vehicle": lambda: switch(applications="[" + many("{vehicle: a, years: 2000-, plug: p}") + "]"),
    "unknown keys": lambda: switch(**{"note: a\nparts": "[{number: A1}]\n" + many(lambda n: f"k{n}: 1", "\n")}),
    "unknown keys in quotes": lambda: switch(**{"note: a\nparts": "[{number: A1}]\n" + many(lambda n: f'"k{n}": "1"', "\n")}),
    "words that are none": lambda: switch(parts="[" + many(lambda n: f"{{number: A{n}, status: xx}}") + "]"),
    "allowances": lambda: KIT.replace("sources:", "allow: [" + many(lambda n: f"{{rule: zz{n}, reason: aa}}") + "]\nsources:"),
    "the same key": lambda: "---\nkind: kit\n" + many("a: 1", "\n") + "\n---\n",
    "brackets": lambda: "---\nkind: kit\nnote: " + many("[", "") + "\n---\n",
    "dashes": lambda: "---\na:\n" + many("-", " ") + "\n---\n",
    "steps": lambda: "---\n" + "".join(" " * depth + "a:\n" for depth in range(600)) + "---\n",
    "quotes": lambda: "---\nkind: kit\n" + many('n: "a', "\n") + "\n---\n",
    "hyphens": lambda: "---\nkind: connector\nid: fuzz\ntitle: a\noutline: oval\nrows: [[" + many("-") + "]]\n---\n",
    "figures": lambda: switch(fitting="{torque_nm: " + many("9", "") + "}"),
    "words": lambda: KIT.replace("title: ", "title: " + many("a", " ")),
    "tags in front matter": lambda: KIT.replace("title: ", "title: " + many("<a", " ")),
    "spaces": lambda: KIT + many(" ", "", PROSE) + "x",
    "spaces at line ends": lambda: KIT + many(" ", "\n", PROSE),
    "comments": lambda: "---\nkind: kit\nseals: [6]\n" + many("# TODO", "\n") + "\nnumber: A\n---\n",
    "tabs": lambda: "---\nkind: kit\n" + many("a:\tb", "\n") + "\n---\n",
    "dashed lines": lambda: many("---", "\n", PROSE),
    "NUL": lambda: "---\nkind: kit\n" + many("\0", "", PROSE),
    **{
        f"prose of {words!r}": lambda words=words: KIT + many(words, "", PROSE)
        for words in (
            "<",
            "<a ",
            "<a b=",
            "[",
            "](",
            "](a(",
            "[a](x",
            "\n[x]: y",
            "`",
            "```\n",
            "~~~\n```\n",
            "{on",
            "\nkind: x\n",
            "A1 ",
            "TB-2O417 ",
        )
    },
    "links": lambda: KIT + many(lambda n: f"[a](zz{n}.md)", room=PROSE),
}


@pytest.mark.parametrize("name", FILES)
def test_it_is_told_about_in_bounded_time_and_memory(name: str) -> None:
    data = FILES[name]().encode("utf-8")[:MAX_BYTES]
    before = _peak()
    found = try_file(data, "entries/switches/fuzz.md" if b"kind: switch" in data[:300] else "entries/kits/fuzz.md", limit=SECONDS)
    assert found or name == "spaces", "whatever is in it, something is to be said"
    assert _peak() - before < MEBIBYTES


def _peak() -> float:
    """Mebibytes. Linux counts in KiB, macOS in bytes."""
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return used / (1024 * 1024 if sys.platform == "darwin" else 1024)


def test_what_is_larger_is_not_read_at_all() -> None:
    (found,) = try_file(b"---\nkind: kit\n" + b"a" * MAX_BYTES, "entries/kits/fuzz.md")
    assert found.rule == "unreadable-file" and "1 MiB" in found.message


def test_front_matter_that_is_longer_is_not_parsed() -> None:
    (found,) = try_file(b"---\nkind: kit\n" + b"a" * MAX_FRONT + b"\n---\n", "entries/kits/fuzz.md")
    assert found.rule == "front-matter" and "256 KiB" in found.message
