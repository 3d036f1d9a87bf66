"""An impact report as Markdown, fit for a comment on a pull request.

What entries say is text from anybody: it is escaped, so that it neither formats nor addresses anyone. A comment on GitHub holds
65,536 characters; what would not go in is left out, and how much that was is said.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.desk.impact.data import Urls
from rangebook.desk.impact.groups import Group, Heading, sections
from rangebook.desk.impact.phrases import (
    alarm_words,
    cause_words,
    circuits_of_words,
    circuits_words,
    ends_words,
    fact_words,
    finding_words,
    heading_words,
    problem_line,
    reason_lines,
    seat_words,
    side_words,
    summary,
    then_words,
    vehicle_words,
)
from rangebook.revisions.report import Impact
from rangebook.words.catalogue import say
from rangebook.words.shown import shown

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
    text = "".join(_PLAIN.get(sign, sign) for sign in shown(" ".join(text.split())))
    # A sign before it does not keep these from being taken for a name, an issue, an address or a picture; this does.
    return _ADDRESS.sub(lambda found: f"{found.group()}<!-- -->", text)


def as_markdown(report: Impact, urls: Urls) -> str:
    """The whole report, or as much of it as goes into a comment."""
    lines = [f"### {say('impact.head_comment', base=escape(report.base))}", "", f"**{escape(summary(report))}**", ""]
    length = sum(len(line) + 1 for line in lines)
    blocks = list(_blocks(report, urls))
    for index, block in enumerate(blocks):
        text = "\n".join(block)
        if length + len(text) > MOST:
            lines += ["", f"_{say('impact.left_out', count=len(blocks) - index)}_"]
            break
        lines.append(text)
        length += len(text) + 1
    return "\n".join(lines).rstrip("\n") + "\n"


def _blocks(report: Impact, urls: Urls) -> Iterator[list[str]]:
    """Pieces that stay valid Markdown whichever of them is the last."""
    for one in report.files:
        if one.problems:
            yield [
                f"- :x: {say('impact.broken_file', file=escape(one.file))}",
                *(f"  - {escape(problem_line(problem))}" for problem in one.problems[:5]),
            ]
    if report.schema_changed:
        yield ["", say("impact.schema")]
    if report.first:
        yield ["", f"#### :warning: {heading_words(Heading.SAFETY)}", ""]
        yield from ([f"- :warning: {escape(line)}"] for _, lines in _changed(report, safety=True) for line in lines)
    for section in sections(report):
        if section.heading is Heading.SAFETY:
            yield from (list(_group(group)) for group in section.groups)
    if report.circuits:
        yield ["", f"#### :warning: {say('impact.circuits')}", ""]
        for change in report.circuits:
            bold = f"**{escape(change.name)}**"
            yield [
                f"- {circuits_of_words(change.what, bold, escape(change.family))}",
                f"  - {then_words('was', escape(circuits_words(change.old)))}",
                f"  - {then_words('now', escape(circuits_words(change.new)))}",
            ]
    for title, lines in _changed(report, safety=False):
        yield ["", f"#### {title}", ""]
        yield from ([f"- {escape(line)}"] for line in lines)
    for section in sections(report):
        if section.folded or section.heading is Heading.SAFETY:
            continue
        yield ["", f"#### {heading_words(section.heading)}", ""]
        yield from (list(_group(group)) for group in section.groups)
    if report.gone:
        yield ["", f"#### :warning: {say('impact.gone')}", ""]
        for gone in report.gone:
            yield [f"- **{escape(gone.number)}** ({escape(gone.entry)}): {escape(say('impact.gone_advice', kind=gone.kind))}"]
    if report.chains:
        columns = f"| {say('impact.column_part')} | {say('impact.column_was')} | {say('impact.column_now')} |"
        yield ["", f"#### {say('impact.chains')}", "", columns, "| --- | --- | --- |"]
        for chain in report.chains:
            was, now = (escape(ends_words(ends, chain.broken)) for ends in (chain.old, chain.new))
            yield [f"| {escape(chain.number)} ({escape(chain.family)}) | {was} | {now} |"]
    for title, findings, layers in (
        (say("impact.came"), report.came, report.layers[1]),
        (say("impact.went"), report.went, report.layers[0]),
    ):
        if findings:
            yield ["", f"#### {title}", ""]
            yield from ([f"- {escape(finding_words(one, layers))}"] for one in findings)
    for section in sections(report):
        if section.folded:
            yield list(_folded(heading_words(section.heading), [list(_group(group)) for group in section.groups]))
    if report.pages:
        pages = [
            [f"- {escape(urls[page.kind](page.id))} \u2013 {escape('; '.join(map(cause_words, page.why[:3])))}"] for page in report.pages
        ]
        yield list(_folded(say("impact.pages"), pages))


def _changed(report: Impact, safety: bool) -> Iterator[tuple[str, list[str]]]:
    """Vehicles and facts that are to be looked at first, or those that are not, each with its heading."""
    vehicles: list[str] = [vehicle_words(one) for one in report.vehicles if one.safety is safety]
    facts: list[str] = [fact_words(one) for one in report.facts if one.safety is safety]
    yield from ((title, lines) for title, lines in ((say("impact.vehicles"), vehicles), (say("impact.facts"), facts)) if lines)


def _folded(title: str, items: list[list[str]]) -> Iterator[str]:
    yield from ("", f"<details><summary>{title}: {len(items)}</summary>", "")
    length = 0
    for index, lines in enumerate(items):
        length += sum(len(line) + 1 for line in lines)
        if length > MOST_FOLDED:
            yield f"- {say('impact.more', count=len(items) - index)}"
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
        yield f"  - {then_words(when, escape(text))}"
    for change in group.changes[:MOST_SEATS]:
        yield f"  - {say('impact.on_seat', seat=escape(seat_words(change)))}"
    if len(group.changes) > MOST_SEATS:
        yield f"  - {say('impact.more_seats', count=len(group.changes) - MOST_SEATS)}"
