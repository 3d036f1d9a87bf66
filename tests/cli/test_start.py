"""The command starts with what it needs and no more."""

from __future__ import annotations

import subprocess
import sys

import pytest

from rangebook.cli import COMMANDS

SLOW = ("yaml", "jsonschema_rs", "jsonschema", "mkdocs", "markdown", "jinja2", "rangebook.book.model", "rangebook.reasons.codes")
"""Each takes some hundredths of a second or more to import."""


@pytest.mark.parametrize("option", ["--version", "--help"])
def test_what_asks_nothing_of_a_book_imports_nothing_of_it(option: str) -> None:
    script = (
        "import sys\n"
        "from rangebook.cli import main\n"
        "try: main(sys.argv[1:])\n"
        "except SystemExit as error: assert not error.code\n"
        "print(*sys.modules, file=sys.stderr)"
    )
    ran = subprocess.run([sys.executable, "-c", script, option], capture_output=True, text=True, check=True)
    assert not set(ran.stderr.split()) & set(SLOW)
    if option == "--help":
        assert {line.split()[0] for line in ran.stdout.splitlines() if line.startswith("    ") and line.strip()} >= set(COMMANDS)
