"""SARIF against its published schema.

Source: the JSON schema of OASIS SARIF 2.1.0 (rtm.5), from the npm package @microsoft/jest-sarif; see schemas/ORIGIN.md.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft4Validator

from rangebook.lint.finding import Finding, Severity
from rangebook.lint.registry import all_rules
from rangebook.lint.reports import sarif

SCHEMA = json.loads((Path(__file__).parent / "schemas" / "sarif-2.1.0-rtm.5.json").read_text("utf-8"))
VALIDATOR = Draft4Validator(SCHEMA, format_checker=Draft4Validator.FORMAT_CHECKER)


@pytest.fixture
def log(findings, loaded) -> dict[str, Any]:
    return json.loads(sarif.write(findings, loaded))


def test_it_passes_the_published_schema(log: dict[str, Any]) -> None:
    assert [error.message for error in VALIDATOR.iter_errors(log)] == []


def test_the_schema_would_refuse_a_level_of_our_own(log: dict[str, Any]) -> None:
    log["runs"][0]["results"][0]["level"] = "hint"
    assert not VALIDATOR.is_valid(log)


def test_nothing_found_is_a_run_with_no_results(loaded) -> None:
    log = json.loads(sarif.write([], loaded))
    assert VALIDATOR.is_valid(log) and log["runs"][0]["results"] == []


def test_each_finding_stands_at_its_line_and_column(log: dict[str, Any], findings) -> None:
    results = log["runs"][0]["results"]
    places = [result["locations"][0]["physicalLocation"] for result in results]
    assert [(place["artifactLocation"]["uri"], *place["region"].values()) for place in places] == [
        (one.file, one.line, one.column) for one in findings
    ]
    assert [result["level"] for result in results] == ["error", "warning", "note"]
    for one, result in zip(findings, results, strict=True):
        assert one.message in result["message"]["text"] and one.fix in result["message"]["text"]


def test_columns_count_characters(log: dict[str, Any]) -> None:
    assert log["runs"][0]["columnKind"] == "unicodeCodePoints"


def test_the_tool_lists_every_rule_with_the_page_from_its_docstring(log: dict[str, Any]) -> None:
    driver = log["runs"][0]["tool"]["driver"]
    assert driver["name"] == "rangebook"
    assert [rule["id"] for rule in driver["rules"]] == list(all_rules())
    for told, rule in zip(driver["rules"], all_rules().values(), strict=True):
        assert rule.checks in told["help"]["text"] and rule.why in told["help"]["text"] and rule.mended in told["help"]["text"]


def test_the_index_of_a_result_leads_to_its_rule(log: dict[str, Any]) -> None:
    run = log["runs"][0]
    for result in run["results"]:
        assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == result["ruleId"]


def test_a_file_name_is_written_as_a_uri(loaded) -> None:
    odd = Finding("entries/kits/a b#é.md", 1, 1, "kit-moves", Severity.ERROR, "found this", "mend it")
    log = json.loads(sarif.write([odd], loaded))
    uri = log["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
    assert uri == "entries/kits/a%20b%23%C3%A9.md"
    assert VALIDATOR.is_valid(log)
