"""Annotations of a GitHub workflow: one line for each finding, which GitHub shows beside the line of the entry.

Source of the form and its escaping: https://github.com/actions/toolkit, ``packages/core/src/command.ts`` (from memory).
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from rangebook.lint.finding import Finding, Severity
from rangebook.lint.linted import Linted
from rangebook.lint.reports.layers import where_to_mend, with_layer
from rangebook.words.shown import shown

COMMANDS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.HINT: "notice"}
"""Severity -> workflow command."""

WORKSPACE = "GITHUB_WORKSPACE"
"""The variable that a workflow holds the folder of its checkout in. File names are taken from there on."""


def write(findings: Sequence[Finding], linted: Linted, environment: Mapping[str, str] = os.environ) -> str:
    """One ``::error file=...,line=...,col=...,title=...::message`` line for each finding; nothing where there is none."""
    workspace = environment.get(WORKSPACE)
    lines = []
    for one in findings:
        own = not linted.names or one.layer == len(linted.names) - 1
        folder = _folder(linted.root if own else linted.layers[one.layer].root, workspace)
        # What lies in no folder of the checkout has no line there.
        places = {"file": folder + one.file, "line": one.line, "col": one.column} if own or folder else {}
        stated = ",".join(f"{name}={_property(str(value))}" for name, value in {**places, "title": one.rule}.items())
        where = where_to_mend(one, linted)
        message = f"{with_layer(one, linted)}\n{one.fix}" + (f"\n{one.file}:{one.line}: {where}" if where else "")
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
