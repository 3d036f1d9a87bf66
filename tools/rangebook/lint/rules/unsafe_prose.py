"""Text that could run code in a reader's browser.

Neither the prose nor any text in the front matter holds HTML tags, comments or event handlers, and no link leads to
``javascript:``, ``vbscript:``, ``data:`` or ``blob:``, however it is spelled. ``< 1 ohm`` and ``<1 ohm`` are no tags.
Links in angle brackets, ``<https://...>``, may stand.

Why it matters: the book is read on the shop's own machines, next to other things that are open there. What is written in
an entry is shown to everybody, so it can be words and pictures and nothing else.

Fails:

    kind: kit
    note: "Crimp, <b>do not</b> solder."

Mended: in the front matter it is plain text; in the prose it would be `**do not**`.

    kind: kit
    note: "Crimp, do NOT solder."
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from itertools import islice
from typing import Any

from rangebook.lint.context import TextContext
from rangebook.lint.prose import MOST, place
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, problem_at, rule
from rangebook.reading.entry import Entry
from rangebook.reading.located import Map, Mark, Seq

_SPACE = re.compile(r"[\s\x00-\x20]+")
_AUTOLINK = r"<(?:https?://[^<>\s]*|[\w.+-]+@[\w.-]+)>"
# A tag that is not closed is one too if it has an attribute: the next `>` on the page would close it.
_TAG = re.compile(rf"(?!{_AUTOLINK})<(?:[/!?]?[A-Za-z][^<>]*>|!--|!\[|\?|[A-Za-z][^<>\s/]*[\s/][^<>]*=)")
_HANDLER = re.compile(r"\{[^{}\n]*\bon[a-z]+\s*=", re.IGNORECASE)
_TARGET = re.compile(r"(?:\]\(|^ {0,3}\[[^\]\n]{1,200}\]:)\s*<?([^)>]{0,300})", re.MULTILINE)
_RUNS = re.compile(r"(javascript|vbscript|data|blob):", re.IGNORECASE)
_RUNS_IN_TEXT = re.compile(r"\b(?:(?:java|vb)script\s*:|data:\s*[a-z]+/[a-z])", re.IGNORECASE)


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at each tag, event handler and link that runs code, the first :data:`MOST` of them."""
    yield from islice(_findings(entry), MOST)


def _findings(entry: Entry) -> Iterator[Problem]:
    for offset, code, found in sorted(set(islice(_in_prose(entry.prose), MOST))):
        yield problem_at(entry, place(entry, offset), code, found=found)
    front = entry.source[: len(entry.source) - len(entry.prose)].lower()
    # Nearly every entry has none of these; then there is nothing to look through. A backslash may spell a character.
    if entry.front is None or not any(sign in front for sign in ("<", "\\", "script", "data:")):
        return
    for text, mark in _texts(entry.front, entry.front.mark):
        tag = _TAG.search(text)
        if tag:
            yield problem_at(entry, mark, "text_html", found=_short(tag.group()))
        elif _RUNS_IN_TEXT.search(text):
            yield problem_at(entry, mark, "text_link")


def _in_prose(prose: str) -> Iterator[tuple[int, str, str]]:
    for match in _TAG.finditer(prose) if "<" in prose else ():
        yield match.start(), "html", _short(match.group())
    for match in _HANDLER.finditer(prose) if "{" in prose else ():
        yield match.start(), "handler", _short(match.group())
    for match in _TARGET.finditer(prose) if "](" in prose or "]:" in prose else ():
        runs = _RUNS.match(_SPACE.sub("", html.unescape(match.group(1))))
        if runs:
            yield match.start(1), "link", runs.group(1).lower()


def _texts(node: Any, mark: Mark) -> Iterator[tuple[str, Mark]]:
    """Every key and every text below a node, with its place."""
    if isinstance(node, str):
        yield node, mark
    elif isinstance(node, Map):
        for key, value in node.items():
            yield key, node.key_mark(key)
            yield from _texts(value, node.value_mark(key))
    elif isinstance(node, Seq):
        for index, value in enumerate(node):
            yield from _texts(value, node.item_mark(index))


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= 40 else text[:37] + "..."


_PLAIN = "write it in plain words, or in Markdown such as `**bold**`; put a space after a `<` that means less than"

MESSAGES = {
    "html": Told("HTML stands in the prose: {found}", _PLAIN),
    "handler": Told("an event handler stands in the prose: {found}", "take it out"),
    "link": Told("this link leads to {found}: and would run code", "link to an entry or to a web page, or take the link out"),
    "text_html": Told("HTML stands in this text: {found}", _PLAIN),
    "text_link": Told("this text holds a link that runs code", "take the link out"),
}

RULE = rule(__name__, __doc__, Severity.ERROR, TextCheck(TextContext, check_text), messages=MESSAGES)
