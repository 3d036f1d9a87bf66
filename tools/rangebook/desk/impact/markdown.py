"""An impact report as Markdown, fit for a comment on a pull request.

What entries say is text from anybody: it is escaped, so that it neither formats nor addresses anyone. A comment on GitHub holds
65,536 characters; what would not go in is left out, and how much that was is said.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.desk.impact.data import Urls
from rangebook.desk.impact.groups import Group, sections
from rangebook.desk.impact.phrases import (
    alarm_words,
    cause_words,
    circuits_words,
    ends_words,
    finding_words,
    heading_words,
    reason_lines,
    seat_words,
    side_words,
    summary,
)
from rangebook.revisions.report import Impact

MOST = 60_000
"""Characters."""

MOST_SEATS = 8
"""Of the seats on which one part changes alike so many are named."""

MOST_FOLDED = 12_000
"""Characters of one thing that is folded away."""

_PLAIN = {
    **{sign: f"\\{sign}" for sign in "\\`*_{}[]#"},
    "&": "&amp;",
    "<": "&lt;",
    "|": "&#124;",
    "~": "&#126;",
    "$": "&#36;",
}
_ADDRESS = re.compile(r"@(?=\w)|(?<=\\#)(?=\d)|:(?=//)|:(?=[\w+-]+:)|(?<=\bwww)(?=\.)")


def escape(text: str) -> str:
    """Text that shows as itself in the middle of a line: no format, no link, no mention of people or issues."""
    text = "".join(_PLAIN.get(sign, sign) for sign in " ".join(text.split()))
    # A sign before it does not keep these from being taken for a name, an issue, an address or a picture; this does.
    return _ADDRESS.sub(lambda found: f"{found.group()}<!-- -->", text)


def as_markdown(report: Impact, urls: Urls) -> str:
    """The whole report, or as much of it as goes into a comment."""
    lines = [f"### What this changes in the book, against {escape(report.base)}", "", f"**{escape(summary(report))}**", ""]
    length = sum(len(line) + 1 for line in lines)
    blocks = list(_blocks(report, urls))
    for index, block in enumerate(blocks):
        text = "\n".join(block)
        if length + len(text) > MOST:
            lines += ["", f"_{len(blocks) - index} more blocks are left out here; run `rangebook impact` to see all._"]
            break
        lines.append(text)
        length += len(text) + 1
    return "\n".join(lines).rstrip("\n") + "\n"


def _blocks(report: Impact, urls: Urls) -> Iterator[list[str]]:
    """Pieces that stay valid Markdown whichever of them is the last."""
    for one in report.files:
        if one.problems:
            yield [
                f"- :x: {escape(one.file)} cannot be read as it is, so what it said is not known any more",
                *(f"  - line {problem.mark.line}: {escape(problem.message)}; {escape(problem.fix)}" for problem in one.problems[:5]),
            ]
    if report.schema_changed:
        yield ["", "The schema changed, so every entry was checked anew."]
    if report.circuits:
        yield ["", "#### :warning: Start and backup circuits that read otherwise", ""]
        for change in report.circuits:
            yield [
                f"- {change.what} **{escape(change.name)}** ({escape(change.family)})",
                f"  - was: {escape(circuits_words(change.old))}",
                f"  - now: {escape(circuits_words(change.new))}",
            ]
    for section in sections(report):
        if section.folded:
            continue
        sign = ":warning: " if section.groups[0].first.safety else ""
        yield ["", f"#### {sign}{heading_words(section.heading)}", ""]
        yield from (list(_group(group)) for group in section.groups)
    if report.gone:
        yield ["", "#### :warning: Published numbers that are gone", ""]
        for gone in report.gone:
            yield [f"- **{escape(gone.number)}** ({escape(gone.entry)}): {escape(gone.advice)}"]
    if report.chains:
        yield ["", "#### Chain ends that changed", "", "| part | was | now |", "| --- | --- | --- |"]
        for chain in report.chains:
            was, now = (escape(ends_words(ends, chain.broken)) for ends in (chain.old, chain.new))
            yield [f"| {escape(chain.number)} ({escape(chain.family)}) | {was} | {now} |"]
    for title, findings in (("Findings that came", report.came), ("Findings that went", report.went)):
        if findings:
            yield ["", f"#### {title}", ""]
            yield from ([f"- {escape(finding_words(one))}"] for one in findings)
    for section in sections(report):
        if section.folded:
            yield list(_folded(heading_words(section.heading), [list(_group(group)) for group in section.groups]))
    if report.pages:
        pages = [
            [f"- {escape(urls[page.kind](page.id))} \u2013 {escape('; '.join(map(cause_words, page.why[:3])))}"] for page in report.pages
        ]
        yield list(_folded("Pages touched", pages))


def _folded(title: str, items: list[list[str]]) -> Iterator[str]:
    yield from ("", f"<details><summary>{title}: {len(items)}</summary>", "")
    length = 0
    for index, lines in enumerate(items):
        length += sum(len(line) + 1 for line in lines)
        if length > MOST_FOLDED:
            yield f"- and {len(items) - index} more"
            break
        yield from lines
    yield from ("", "</details>")


def _group(group: Group) -> Iterator[str]:
    first = group.first
    old, new = escape(side_words(first.old)), escape(side_words(first.new))
    yield f"- **{escape(first.number)}** ({escape(first.part_family)}): {old} \u2192 **{new}**"
    for why in first.safety:
        yield f"  - :warning: {escape(alarm_words(why))}"
    for when, text in reason_lines(first):
        yield f"  - {when}: {escape(text)}"
    for change in group.changes[:MOST_SEATS]:
        yield f"  - on {escape(seat_words(change))}"
    if len(group.changes) > MOST_SEATS:
        yield f"  - and on {len(group.changes) - MOST_SEATS} more"
