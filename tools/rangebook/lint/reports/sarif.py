"""SARIF 2.1.0, for what shows findings beside the lines of a change.

Source: OASIS, Static Analysis Results Interchange Format 2.1.0. Section numbers below are those of that text, from memory.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any
from urllib.parse import quote

from rangebook import __version__
from rangebook.lint.finding import Finding, Severity
from rangebook.lint.linted import Linted
from rangebook.lint.registry import all_rules
from rangebook.lint.reports.layers import with_layer
from rangebook.lint.rule import Rule

SCHEMA = "https://json.schemastore.org/sarif-2.1.0-rtm.5.json"

LEVELS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.HINT: "note"}
"""Severity -> SARIF level (3.27.10)."""


def write(findings: Sequence[Finding], linted: Linted) -> str:
    """The findings as one SARIF run. Every rule is listed with its page, whether it found anything or not."""
    rules = all_rules()
    index = {name: place for place, name in enumerate(rules)}
    log = {
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [
            {
                "tool": {
                    "driver": {
                        "name": "rangebook",
                        "version": __version__,
                        "semanticVersion": __version__,
                        "rules": [_rule(rule) for rule in rules.values()],
                    }
                },
                # Columns are counted in characters, not in the UTF-16 units that are taken where nothing is said (3.14.17).
                "columnKind": "unicodeCodePoints",
                "results": [_result(one, index, linted) for one in findings],
            }
        ],
    }
    return json.dumps(log, indent=2) + "\n"


def _rule(rule: Rule) -> dict[str, Any]:
    parts = (("", rule.checks), ("Why it matters", rule.why), ("Fails", rule.fails), ("Mended", rule.mended))
    return {
        "id": rule.name,
        "name": "".join(word.capitalize() for word in rule.name.split("-")),
        "shortDescription": {"text": rule.title},
        "fullDescription": {"text": rule.checks},
        "help": {
            "text": "\n\n".join(f"{heading}:\n{text}" if heading else text for heading, text in parts),
            "markdown": "\n\n".join(f"**{heading}**\n\n{text}" if heading else text for heading, text in parts),
        },
        "defaultConfiguration": {"level": LEVELS[rule.severity]},
        "properties": {"scope": rule.scope},
    }


def _result(one: Finding, index: Mapping[str, int], linted: Linted) -> dict[str, Any]:
    return {
        "ruleId": one.rule,
        "ruleIndex": index.get(one.rule, -1),
        "level": LEVELS[one.severity],
        "message": {"text": f"{with_layer(one, linted)}. To mend it: {one.fix}"},
        "locations": [
            {
                "physicalLocation": {
                    "artifactLocation": {"uri": quote(one.file, errors="surrogateescape"), "uriBaseId": "%SRCROOT%"},
                    "region": {"startLine": one.line, "startColumn": one.column},
                }
            }
        ],
    }
