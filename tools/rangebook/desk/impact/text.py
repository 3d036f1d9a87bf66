"""An impact report for a terminal, line by line."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.desk.impact.data import Urls
from rangebook.desk.impact.groups import Group, Heading, Section, sections
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
from rangebook.reading.finding import Finding
from rangebook.revisions.report import FileChange, Impact
from rangebook.words.catalogue import say

Line = tuple[str, str]
"""A style (``head``, a verdict, a severity, ``why``, ``plain`` or ``caution``) and a line of text."""

MOST_SEATS = 6
"""Of the seats on which one part changes alike so many are named; the JSON has all."""


def as_lines(report: Impact, urls: Urls) -> Iterator[Line]:
    """The whole report."""
    yield "head", say("impact.head", base=report.base)
    yield "plain", summary(report)
    if report.is_empty:
        return
    for one in report.files:
        yield from _file(one)
    if report.schema_changed:
        yield "caution", say("impact.schema")
    listed = list(sections(report))
    first = [section for section in listed if section.heading is Heading.SAFETY]
    if report.first:
        yield from _heading(heading_words(Heading.SAFETY))
        yield from _changes(report, safety=True)
        for section in first:
            yield from _groups(section)
    if report.circuits:
        yield from _heading(say("impact.circuits"))
        for change in report.circuits:
            yield "caution", f"  {circuits_of_words(change.what, change.name, change.family)}"
            yield "why", f"    {then_words('was', circuits_words(change.old))}"
            yield "why", f"    {then_words('now', circuits_words(change.new))}"
    yield from _changes(report, safety=False)
    for section in listed:
        if section not in first:
            yield from _heading(heading_words(section.heading))
            yield from _groups(section)
    if report.gone:
        yield from _heading(say("impact.gone"))
        for gone in report.gone:
            yield "caution", f"  {gone.number} ({gone.entry})"
            yield "why", f"    {say('impact.gone_advice', kind=gone.kind)}"
    if report.chains:
        yield from _heading(say("impact.chains"))
        for chain in report.chains:
            yield "plain", f"  {chain.number} ({chain.family})"
            yield "why", f"    {then_words('was', ends_words(chain.old, chain.broken))}"
            yield "why", f"    {then_words('now', ends_words(chain.new, chain.broken))}"
    for title, findings, layers in (
        (say("impact.came"), report.came, report.layers[1]),
        (say("impact.went"), report.went, report.layers[0]),
    ):
        if findings:
            yield from _heading(title)
            yield from _findings(findings, layers)
    yield from _heading(say("impact.pages"))
    for page in report.pages:
        yield "plain", f"  {urls[page.kind](page.id)}  {'; '.join(map(cause_words, page.why[:3]))}{'; ...' if len(page.why) > 3 else ''}"


def _changes(report: Impact, safety: bool) -> Iterator[Line]:
    """Vehicles and facts, either those to be looked at first, under their heading, or all others under headings of their own."""
    vehicles = [vehicle_words(one) for one in report.vehicles if one.safety is safety]
    facts = [fact_words(one) for one in report.facts if one.safety is safety]
    for title, lines in ((say("impact.vehicles"), vehicles), (say("impact.facts"), facts)):
        if lines and not safety:
            yield from _heading(title)
        for line in lines:
            yield "caution" if safety else "plain", f"  {'! ' if safety else ''}{line}"


def _groups(section: Section) -> Iterator[Line]:
    for group in section.groups:
        yield from _group(group, section.folded)


def _heading(title: str) -> Iterator[Line]:
    yield "plain", ""
    yield "head", title


def _file(change: FileChange) -> Iterator[Line]:
    text = say("impact.file", file=change.file, how=change.how, was_broken=change.was_broken, broken=bool(change.problems))
    yield "error" if change.problems else "plain", f"  {text}"
    for problem in change.problems[:5]:
        yield "why", f"    {problem_line(problem)}"


def _group(group: Group, folded: bool) -> Iterator[Line]:
    first = group.first
    style = str(first.new.kind) if first.new.kind else "error"
    yield style, f"  {first.number} ({first.part_family}): {side_words(first.old)} -> {side_words(first.new)}"
    for why in first.safety:
        yield "caution", f"    ! {alarm_words(why)}"
    lines = list(reason_lines(first))
    now = [line for line in lines if line[0] == "now"]
    for when, text in (now or lines) if folded else lines:
        yield "why", f"    {then_words(when, text)}"
    for change in group.changes[:MOST_SEATS]:
        yield "plain", f"    {say('impact.on_seat', seat=seat_words(change))}"
    if len(group.changes) > MOST_SEATS:
        yield "plain", f"    {say('impact.more_seats', count=len(group.changes) - MOST_SEATS)}"


def _findings(findings: tuple[Finding, ...], layers: tuple[str, ...]) -> Iterator[Line]:
    for one in findings:
        yield str(one.severity), f"  {finding_words(one, layers)}"
