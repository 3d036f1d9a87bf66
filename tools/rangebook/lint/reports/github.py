"""Annotations of a GitHub workflow: one line for each finding, which GitHub shows beside the line of the entry.

Source of the form and its escaping: https://github.com/actions/toolkit, ``packages/core/src/command.ts`` (from memory).
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from rangebook.lint.finding import Finding, Severity
from rangebook.lint.linted import Linted
from rangebook.words.shown import shown

COMMANDS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.HINT: "notice"}
"""Severity -> workflow command."""

WORKSPACE = "GITHUB_WORKSPACE"
"""The variable that a workflow holds the folder of its checkout in. File names are taken from there on."""


def write(findings: Sequence[Finding], linted: Linted, environment: Mapping[str, str] = os.environ) -> str:
    """One ``::error file=...,line=...,col=...,title=...::message`` line for each finding; nothing where there is none."""
    folder = _folder(linted.root, environment.get(WORKSPACE))
    lines = []
    for one in findings:
        places = {"file": folder + one.file, "line": one.line, "col": one.column, "title": one.rule}
        stated = ",".join(f"{name}={_property(str(value))}" for name, value in places.items())
        message = f"{one.message}\n{one.fix}"
        lines.append(f"::{COMMANDS[one.severity]} {stated}::{_data(message)}\n")
    return "".join(lines)


def _folder(root: Path, workspace: str | None) -> str:
    """The way from the checkout to the book, where the book is a folder inside it."""
    if not workspace:
        return ""
    home, here = Path(workspace).resolve(), root.resolve()
    return f"{here.relative_to(home).as_posix()}/" if home in here.parents else ""


def _data(text: str) -> str:
    return shown(text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A"))


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
