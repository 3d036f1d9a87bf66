"""One part, metered on the bench, written down in each of the three ways: the form, `rangebook new`, a spreadsheet.

The part is of the demo book's scenario and not in it. What a person would do is done by a :class:`Hand`, which counts it.
"""

from __future__ import annotations

import re
import shlex
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Locator, Page

FAMILY, NUMBER, HOUSING, MOUNT = "tamblin-lever", "TB-12447", "wedge-14", "short-boss"
PINS = {"1": "start_feed", "8": "start_out", "2": "backup_feed", "9": "backup_out"}
CONTACTS = ((("1", "8"), ("P", "N")), (("2", "9"), ("R",)))
DETAIL, BY, ON = "new in box, metered in every position", "bench", "2026-03-02"


@dataclass
class Hand:
    """What was done: signs typed, taps and choices made (a choice from a list is two taps), and things to make up one's mind about."""

    signs: int = 0
    taps: int = 0
    decisions: int = 0
    pause: float = 0.0
    """Seconds between two signs, for a run at a person's pace."""

    def type(self, place: Locator, text: str) -> None:
        """Type into a field."""
        self.signs += len(text)
        self.taps += 1
        self.decisions += 1
        if self.pause and place.get_attribute("type") != "date":
            place.click()
            place.press_sequentially(text, delay=self.pause * 1000)
        else:
            place.fill(text)

    def choose(self, place: Locator, value: str) -> None:
        """Choose from a list."""
        self.taps += 2
        self.decisions += 1
        place.select_option(value)

    def tap(self, place: Locator) -> None:
        """Tap a button, a box or a cavity."""
        self.taps += 1
        self.decisions += 1
        place.click()

    def line(self, text: str) -> list[str]:
        """Type a command; each word is something to make up one's mind about."""
        words = shlex.split(text)
        self.signs += len(text) + 1
        self.decisions += len(words)
        return words

    def file(self, path: Path, text: str) -> None:
        """Type a file; each line is something to make up one's mind about."""
        self.signs += len(text)
        self.decisions += text.count("\n")
        path.write_text(text, "utf-8")


def by_form(page: Page, hand: Hand, folder: Path) -> str:
    """Fill in the form as it stands and save it; gives the text to paste below ``parts:``."""
    label = page.get_by_label
    hand.choose(label("Family", exact=True), FAMILY)
    hand.type(label("Part number, as it is printed"), NUMBER)
    hand.choose(label("Status"), "current")
    hand.choose(label("Its housing"), HOUSING)
    hand.choose(label("How it bolts on"), MOUNT)
    face = page.get_by_role("group", name=re.compile("carries a pin"))
    for cavity, circuit in PINS.items():
        hand.tap(face.locator(f"[data-cavity='{cavity}']"))
        hand.choose(label(f"Pin {cavity} is for", exact=True), circuit)
    hand.tap(page.get_by_role("button", name="All the others carry no pin"))
    for (a, b), closed in CONTACTS:
        hand.tap(page.get_by_role("button", name="Add a contact"))
        item = page.locator(".write__item").last
        hand.choose(item.get_by_label("Between"), a)
        hand.choose(item.get_by_label("and", exact=True), b)
        hand.choose(item.get_by_label("This contact"), "closed")
        for position in closed:
            hand.tap(item.get_by_label(position, exact=True))
    hand.choose(label("How do you know?"), "seen")
    hand.type(label("Which sheet, or how it was measured"), DETAIL)
    hand.type(label("Who looked"), BY)
    hand.type(label("The day"), ON)
    page.get_by_text("Nothing is missing that an entry has to have.").wait_for()
    with page.expect_download() as waiting:
        hand.tap(page.get_by_role("link", name="Save as a file"))
    path = folder / waiting.value.suggested_filename
    waiting.value.save_as(path)
    return path.read_text("utf-8")


def paste(entry: Path, text: str, hand: Hand) -> None:
    """On the line below ``parts:``, as the form says."""
    hand.taps += 3
    hand.decisions += 1
    before = entry.read_text("utf-8")
    assert before.count("\nparts:\n") == 1
    entry.write_text(before.replace("\nparts:\n", f"\nparts:\n{text}", 1), "utf-8")


def by_new(hand: Hand) -> list[str]:
    """The command's words."""
    pins = ", ".join(f"{cavity}={circuit}" for cavity, circuit in PINS.items())
    contacts = "".join(f' --contacts "pins: [{a}, {b}], closed: [{", ".join(closed)}]"' for (a, b), closed in CONTACTS)
    source = f"--sources \"kind: seen, detail: '{DETAIL}', by: {BY}, on: {ON}\""
    what = f"--number {NUMBER} --connector {HOUSING} --mount {MOUNT} --status current"
    return hand.line(f'new switch --in {FAMILY} {what} --pins "{pins}"{contacts} {source}')


def by_spreadsheet(hand: Hand, folder: Path) -> list[str]:
    """The command's words. The list is what the shop has anyway and is not counted; how to read it is. It knows nothing of what closes
    inside."""
    pins = "; ".join(f"{cavity}={circuit}" for cavity, circuit in PINS.items())
    (folder / "stock.csv").write_text(f"Part No.,Family,Housing,Bolts on,Pins\n{NUMBER},{FAMILY},{HOUSING},{MOUNT},{pins}\n", "utf-8")
    mapping = (
        "columns:\n  number: Part No.\n  family: Family\n  connector: Housing\n  mount: Bolts on\n  pins: Pins\n"
        f'fixed: {{status: current}}\nsource: {{kind: seen, detail: "{DETAIL}", by: {BY}, on: {ON}}}\n'
    )
    hand.file(folder / "stock.yaml", mapping)
    words = hand.line("import stock.csv --map stock.yaml")
    return [words[0], str(folder / words[1]), words[2], str(folder / words[3])]
