"""JUnit XML, for what shows test results: each entry is a test case, which fails if there is an error in it.

Warnings and hints do not fail an entry; they are told as its output. Source of the form: the xunit XSD ``junit-10.xsd``.
"""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree import ElementTree as Xml

from rangebook.lint.finding import Finding, Severity
from rangebook.lint.linted import Linted
from rangebook.lint.reports.layers import named_layer
from rangebook.words.shown import shown


def write(findings: Sequence[Finding], linted: Linted) -> str:
    """One test suite with a test case for each entry of the book, in the order of the files."""
    by_file: dict[str, list[Finding]] = {entry.file: [] for entry in linted.entries}
    for one in findings:
        by_file.setdefault(one.file, []).append(one)
    # What fails is an entry, however many errors are in it: no viewer expects more failures than tests.
    failing = len({one.file for one in findings if one.severity is Severity.ERROR})
    counts = {"tests": str(len(by_file)), "failures": str(failing), "errors": "0"}
    suites = Xml.Element("testsuites", counts)
    suite = Xml.SubElement(suites, "testsuite", {"name": "rangebook lint", **counts, "skipped": "0"})
    for file, found in by_file.items():
        case = Xml.SubElement(suite, "testcase", {"name": shown(file), "classname": _class(file)})
        for one in found:
            if one.severity is Severity.ERROR:
                failure = Xml.SubElement(case, "failure", {"type": one.rule, "message": shown(one.message)})
                failure.text = _clean(_words(one, linted))
        rest = [one for one in found if one.severity is not Severity.ERROR]
        if rest:
            Xml.SubElement(case, "system-out").text = _clean("\n".join(_words(one, linted) for one in rest))
    Xml.indent(suites)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + Xml.tostring(suites, encoding="unicode") + "\n"


def _words(one: Finding, linted: Linted) -> str:
    return (
        shown(f"{named_layer(one, linted)}{one.file}:{one.line}:{one.column}: {one.severity}: {one.message} [{one.rule}]")
        + f"\n{shown(one.fix)}"
    )


def _class(file: str) -> str:
    """The folder in dots, under which test result viewers group."""
    return shown(file.rpartition("/")[0].replace("/", ".") or "entries")


def _clean(text: str) -> str:
    """The text as it is shown, which has nothing that XML 1.0 cannot hold (https://www.w3.org/TR/xml/, production 2)."""
    return shown(text, lines=True)
