"""A slip of the pen in the front matter.

The front matter is YAML: brackets and quotes are closed, keys of one list stand under each other, and text that holds
``: `` or begins with a bracket, ``#``, ``-`` or ``&`` is quoted.

Why it matters: after the slip nothing can be trusted to mean what was meant, so the whole entry is missing from the book
until it is mended.

Fails: the colon after "renewal" makes it look like a key.

    kind: kit
    title: Plug renewal: nine-way oval to thirteen-way oval

Mended: quoted, it is text.

    kind: kit
    title: "Plug renewal: nine-way oval to thirteen-way oval"
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from rangebook.book.places import path_at
from rangebook.lint.context import TextContext
from rangebook.lint.fixing.edits import Change, Edit, Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.page import LONGEST, Page
from rangebook.lint.fixing.typed import Known, free_keys
from rangebook.lint.fixing.verify import verified
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, rule
from rangebook.lint.wording import BY_FIX
from rangebook.reading.entry import Entry

_LINE = re.compile(r"^ *(?:- )?([a-z_]+): +([^\s\"'\[\]{}&*!|>#,?-](?:[^\n#\"]|(?<! )#)*?)[ ]*$", re.MULTILINE)


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each colon without its space and each decimal comma in braces; else for the line at which the front matter cannot
    be read further, if it holds words that YAML takes for something else because they are not in quotes: with ``: `` in them, or ``@``
    in front.

    The latter is done only on a line of its own that begins with a key for free text, and only where the front matter can be read
    afterwards and says these words to the letter.
    """
    typed = list(_typed(page))
    if typed:
        yield from typed
        return
    slips = {problem.mark.line for problem in page.entry.problems if problem.rule == RULE.name}
    if not slips:
        return
    front = page.text[page.front_start : page.front_end]
    free = free_keys(page.schemas)
    for match in _LINE.finditer(front):
        key, words = match.groups()
        if page.mark(match.start(2) + page.front_start).line not in slips:
            continue
        if key not in free or "\\" in words or not (": " in words or words.endswith(":") or words[0] in "@`%"):
            continue
        start, end = match.start(2) + page.front_start, match.end(2) + page.front_start
        yield Fix(start, "quotes", (Edit(start, start, '"'), Edit(end, end, '"')), values={"key": key})


def _typed(page: Page) -> Iterator[Fix]:
    for problem in page.entry.problems:
        at, values = page.offset(problem.mark), problem.values
        if problem.code == "yaml.decimal_comma" and page.text[at - 1 : at] == ",":
            first = page.mark(at - 1 - len(str(values["typed"]).partition(",")[0]))
            front = page.entry.front
            changes = (Change(path_at(front, first), str(values["meant"])),) if front is not None else ()
            yield Fix(at, "comma", (Edit(at - 1, at, "."),), changes, {"meant": values["meant"]})
        elif problem.code == "yaml.no_space":
            # It is told at the key in braces, at the value on a line of its own.
            behind = at + len(f"{values['key']}:") if page.text.startswith(f"{values['key']}:", at) else at
            if page.text[behind - 1 : behind] == ":":
                yield Fix(at, "space", (Edit(behind, behind, " "),), values={"key": values["key"]})


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield what reading the file found; of what can be mended it is said that it can."""
    found = [problem for problem in entry.problems if problem.rule == RULE.name]
    if not found or len(entry.source) > LONGEST:
        yield from found
        return
    page = Page(entry.file, entry.source, context.schemas, Known())
    mended = {page.mark(fix.offset).line for fix in verified(page, list(find(page)))}
    for problem in found:
        yield replace(problem, values={**problem.values, BY_FIX: True}) if problem.mark.line in mended else problem


MESSAGES = {
    "quotes": Told("`{key}` holds words that need quotes"),
    "comma": Told("a decimal comma in braces: it is `{meant}`"),
    "space": Told("a space is missing behind the colon of `{key}`"),
}
"""Of what is mended: what is wrong is said by the code of the problem."""

RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    TextCheck(TextContext, check_text),
    messages=MESSAGES,
    fixer=Fixer("unquoted-text", Safety.READABLE, Turn.READABLE, find),
)
