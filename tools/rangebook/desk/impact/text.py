"""An impact report for a terminal, line by line."""

from __future__ import annotations

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
from rangebook.revisions.report import FileChange, FindingData, Impact

Line = tuple[str, str]
"""A style (``head``, a verdict, a severity, ``why``, ``plain`` or ``caution``) and a line of text."""

MOST_SEATS = 6
"""Of the seats on which one part changes alike so many are named; the JSON has all."""


def as_lines(report: Impact, urls: Urls) -> Iterator[Line]:
    """The whole report."""
    yield "head", f"The book as it is now, against {report.base}"
    yield "plain", summary(report)
    if report.is_empty:
        return
    for one in report.files:
        yield from _file(one)
    if report.schema_changed:
        yield "caution", "The schema changed, so every entry was checked anew."
    if report.circuits:
        yield from _heading("Start and backup circuits that read otherwise")
        for change in report.circuits:
            yield "caution", f"  {change.what} {change.name} ({change.family})"
            yield "why", f"    was: {circuits_words(change.old)}"
            yield "why", f"    now: {circuits_words(change.new)}"
    for section in sections(report):
        yield from _heading(heading_words(section.heading))
        for group in section.groups:
            yield from _group(group, section.folded)
    if report.gone:
        yield from _heading("Published numbers that are gone")
        for gone in report.gone:
            yield "caution", f"  {gone.number} ({gone.entry})"
            yield "why", f"    {gone.advice}"
    if report.chains:
        yield from _heading("Chain ends that changed")
        for chain in report.chains:
            yield "plain", f"  {chain.number} ({chain.family})"
            yield "why", f"    was: {ends_words(chain.old, chain.broken)}"
            yield "why", f"    now: {ends_words(chain.new, chain.broken)}"
    for title, findings in (("Findings that came", report.came), ("Findings that went", report.went)):
        if findings:
            yield from _heading(title)
            yield from _findings(findings)
    yield from _heading("Pages touched")
    for page in report.pages:
        yield "plain", f"  {urls[page.kind](page.id)}  {'; '.join(map(cause_words, page.why[:3]))}{'; ...' if len(page.why) > 3 else ''}"


def _heading(title: str) -> Iterator[Line]:
    yield "plain", ""
    yield "head", title


def _file(change: FileChange) -> Iterator[Line]:
    how = change.how + (", could not be read before" if change.was_broken else "")
    if not change.problems:
        yield "plain", f"  {change.file}: {how}"
        return
    yield "error", f"  {change.file}: {how}; it cannot be read as it is, so what it said is not known any more"
    for problem in change.problems[:5]:
        yield "why", f"    line {problem.mark.line}: {problem.message}; {problem.fix}"


def _group(group: Group, folded: bool) -> Iterator[Line]:
    first = group.first
    style = str(first.new.kind) if first.new.kind else "error"
    yield style, f"  {first.number} ({first.part_family}): {side_words(first.old)} -> {side_words(first.new)}"
    for why in first.safety:
        yield "caution", f"    ! {alarm_words(why)}"
    lines = list(reason_lines(first))
    now = [line for line in lines if line[0] == "now"]
    for when, text in (now or lines) if folded else lines:
        yield "why", f"    {when}: {text}"
    for change in group.changes[:MOST_SEATS]:
        yield "plain", f"    on {seat_words(change)}"
    if len(group.changes) > MOST_SEATS:
        yield "plain", f"    and on {len(group.changes) - MOST_SEATS} more"


def _findings(findings: tuple[FindingData, ...]) -> Iterator[Line]:
    for one in findings:
        yield one["severity"], f"  {finding_words(one)}"
