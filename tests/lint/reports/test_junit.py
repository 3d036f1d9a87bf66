"""JUnit XML against the xunit XSD.

Source: junit-10.xsd, from the source archive of pytest 8.3.5; see schemas/ORIGIN.md.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from lxml import etree

from rangebook.lint.finding import Finding, Severity
from rangebook.lint.reports import junit

XSD = etree.XMLSchema(etree.parse(Path(__file__).parent / "schemas" / "junit-10.xsd"))


@pytest.fixture
def root(findings, loaded) -> etree._Element:
    return etree.fromstring(junit.write(findings, loaded).encode("utf-8"))


def test_it_passes_the_published_schema(root) -> None:
    XSD.assertValid(root)


def test_the_schema_would_refuse_a_case_without_a_name(root) -> None:
    del root.find(".//testcase").attrib["name"]
    assert not XSD.validate(root)


def test_one_case_for_each_entry(root, loaded) -> None:
    assert [case.get("name") for case in root.iter("testcase")] == [entry.file for entry in loaded.entries]
    assert {case.get("classname") for case in root.iter("testcase")} == {"entries.connectors", "entries.kits", "entries.switches"}


def test_only_errors_fail_a_case(root) -> None:
    suite = root.find("testsuite")
    assert (suite.get("tests"), suite.get("failures"), suite.get("errors")) == ("4", "1", "0")
    (failure,) = root.iter("failure")
    assert failure.getparent().get("name") == "entries/kits/oval-9-renewal.md"
    assert failure.get("type") == "kit-moves" and failure.get("message") == '100 % wrong: <1, 2> & "3"'
    assert failure.text.startswith("entries/kits/oval-9-renewal.md:8:10: error: ") and failure.text.endswith("try again")


def test_warnings_and_hints_are_told_as_output(root) -> None:
    (told,) = root.iter("system-out")
    assert told.getparent().get("name") == "entries/switches/tamblin-gate.md"
    assert "two bolts at 0° and 150°" in told.text and "[no-seat]" in told.text


def test_two_errors_in_one_entry_are_one_failing_case(findings, loaded) -> None:
    root = etree.fromstring(junit.write([findings[0], findings[0]], loaded).encode("utf-8"))
    XSD.assertValid(root)
    assert root.find("testsuite").get("failures") == "1" and len(list(root.iter("failure"))) == 2


@pytest.mark.parametrize("sign", ["\x00", "\x1b", "\ufffe", "\udc80"])
def test_what_xml_cannot_hold_does_not_spoil_the_report(sign: str, loaded) -> None:
    # Source: XML 1.0, production 2 (Char).
    odd = Finding("entries/x.md", 1, 1, "unreadable-file", Severity.ERROR, f"a sign {sign} here", "delete it")
    root = etree.fromstring(junit.write([odd], loaded).encode("utf-8"))
    XSD.assertValid(root)
    assert root.find(".//failure").get("message") == f"a sign \\u{{{ord(sign):X}}} here"
