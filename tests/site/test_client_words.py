"""Every message that the browser's scripts show stands in the catalogue, whole; nothing that a person reads stands anywhere else."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import rangebook.site

SITE = Path(rangebook.site.__file__).parent
CLIENT = SITE / "client"
CATALOGUE = CLIENT / "words"

TOKEN = re.compile(
    r"""(?P<comment>//[^\n]*|/\*.*?\*/)
    |(?P<text>"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*')
    |(?P<regex>(?<=[(,=:\[!&|?{};\n ])/(?![*/ ])(?:\\.|\[(?:\\.|[^\]\\])*\]|[^/\\\n])+/[a-z]*)
    |(?P<template>`)""",
    re.VERBOSE | re.DOTALL,
)
SELECTOR = re.compile(r"^\(|[\w\]*-]?\s*[>,]\s|[\[#]|(?:^|\s)[a-z]+\.[a-z]")
NAMES_OF_KEYS = {"Enter", "ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Escape"}
"""As the browser calls them."""


def texts(code: str) -> Iterator[str]:
    """Every text in a script but the classes of an element, what is put into a template as ``{}``."""
    at = 0
    while found := TOKEN.search(code, at):
        at = found.end()
        is_class = code[: found.start()].endswith("class: ")
        if found["text"] and not is_class:
            yield found["text"][1:-1]
        elif found["template"]:
            text, inner, at = template(code, at)
            if not is_class:
                yield text
            for one in inner:
                yield from texts(one)


def template(code: str, at: int) -> tuple[str, list[str], int]:
    """A template from behind its first mark: its text, the code put into it, and where it ends."""
    text, inner = "", []
    while code[at] != "`":
        if code.startswith("${", at):
            start, depth, at = at + 2, 1, at + 2
            while depth:
                if code[at] == "`":
                    at = template(code, at + 1)[2]
                    continue
                depth += {"{": 1, "}": -1}.get(code[at], 0)
                at += 1
            inner.append(code[start : at - 1])
            text += "{}"
        else:
            step = 2 if code[at] == "\\" else 1
            text += code[at : at + step]
            at += step
    return text, inner, at + 1


def classes() -> set[str]:
    """Every class that a style sheet names."""
    sheets = [*(SITE / "style").glob("*.css"), SITE / "drawings" / "drawings.css"]
    return {name for path in sheets for name in re.findall(r"\.(-?[_a-zA-Z][\w-]*)", path.read_text("utf-8"))}


def is_for_people(text: str, known: set[str]) -> bool:
    """Whether a text has words that someone reads: two with a blank between them, or one with a capital. Not class names that a style sheet
    has, the selector of an element, the shape of a drawing, nor how the browser calls a key."""
    if text in NAMES_OF_KEYS or SELECTOR.search(text) or re.fullmatch(r"[MmHhVvLlAaCcZz0-9 .,{}-]+", text):
        return False
    if re.match(r"[A-Z][a-z]", text):
        return True
    words = text.split()
    named = all(word in known or "--" in word or "__" in word or _begins(word, known) for word in words)
    return sum(any(one.isalpha() for one in word) for word in words) > 1 and not named


def _begins(word: str, known: set[str]) -> bool:
    """Whether a class that is put together begins as one that a style sheet has."""
    begin, filled, _ = word.partition("{}")
    return bool(filled and begin) and any(one.startswith(begin) for one in known)


def scripts() -> dict[str, str]:
    """Path -> text of every script that runs in a page."""
    own = [path for path in CLIENT.rglob("*.js") if "vendor" not in path.parts and path.parent != CATALOGUE]
    return {path.relative_to(SITE).as_posix(): path.read_text("utf-8") for path in [*own, SITE / "live" / "live.js"]}


IDS = re.compile(r'^ +"([\w.]+)":', re.MULTILINE)


def catalogue() -> dict[str, str]:
    """Id of a message -> the file that it stands in."""
    return {name: path.stem for path in sorted(CATALOGUE.glob("*.js")) for name in IDS.findall(path.read_text("utf-8"))}


def said(code: str) -> set[str]:
    """The messages that a script asks for, also by an id of which a piece is put in."""
    asked = {text for text in texts(code) if re.fullmatch(r"\w+(?:\.[\w{}]+)*", text)}
    parts = [re.compile(re.escape(text).replace(r"\{\}", r"\w+")) for text in asked if "{}" in text]
    return {name for name in catalogue() if name in asked or any(one.fullmatch(name) for one in parts)}


def test_no_script_says_anything_itself() -> None:
    known = classes()
    found = [f"{name}: {text}" for name, code in scripts().items() for text in texts(code) if is_for_people(text, known)]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    ("code", "seen"),
    [
        ('h("p", {}, "Nothing is known")', True),
        ("`${count} are left`", True),
        ("`of ${a ? `b ${c} d` : 1}`", True),
        ('button.textContent = "Copied"', True),
        ("h('b', {}, 'with it')", True),
        ('h("p", { class: "box box--unknown" })', False),
        ('place.querySelector("input, select, button")', False),
        ('// It is not known\nsay("answer.known")', False),
        ('const LEFT = /[ "]+ left out/g;', False),
        ("`M0 0H${x} v4`", False),
    ],
)
def test_what_is_said_is_seen(code: str, seen: bool) -> None:
    assert any(is_for_people(text, classes()) for text in texts(code)) is seen


def test_every_message_is_used() -> None:
    """What is no longer said is not left for somebody to translate. That each id that is asked for is there, the types see to."""
    assert not set(catalogue()) - {name for code in scripts().values() for name in said(code)}


def test_who_says_something_imports_its_words() -> None:
    """A page loads the words of its rooms and no others; what more than one room says is always there."""
    where = catalogue()
    for name, code in scripts().items():
        needed = {f"words/{where[one]}.js" for one in said(code)} - {"words/shared.js"}
        imported = set(re.findall(r'^import "\.\./(words/\w+\.js)";$', code, re.MULTILINE))
        assert imported == needed, name


def test_no_message_stands_in_two_files() -> None:
    assert len(catalogue()) == sum(len(IDS.findall(path.read_text("utf-8"))) for path in CATALOGUE.glob("*.js")) > 300
