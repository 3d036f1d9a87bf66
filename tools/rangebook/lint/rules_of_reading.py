"""What the rules have in common that pass on what reading and schema check found."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.finding import Hit
from rangebook.reading.entry import Entry


def problems(entry: Entry, module_name: str) -> Iterator[Hit]:
    """The entry's problems that belong to the rule in the module of this name."""
    rule = module_name.rsplit(".", 1)[-1].replace("_", "-")
    for problem in entry.problems:
        if problem.rule == rule:
            yield Hit(entry, problem.mark, problem.message, problem.fix)
