"""Another language for a test: a folder of its own, as one would be added."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from rangebook.site.shared import render
from rangebook.words import catalogue as words
from rangebook.words.reasons import reason_words

KEPT = ("plurals", "decimal")
"""What of a language is no message."""
NONSENSE = "zik"
_TEXT = re.compile(r"(\{[^{}]*\})")
_WORD = re.compile(r"[^\W\d_]+")


@contextmanager
def spoken(folder: Path) -> Iterator[None]:
    """Everything is said in the language of a folder."""
    caches = (words.catalogue, reason_words, render._in_html)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(words, "FOLDER", folder.parent)
        patch.setattr(words, "LANGUAGE", folder.name)
        for one in caches:
            one.cache_clear()
        yield
    for one in caches:
        one.cache_clear()


def written(folder: Path, english: Mapping[str, Any], translate: Callable[[Any, str], Any]) -> Path:
    """A language made of the English one by ``translate``, which is given each message and its name, in a file for each section."""
    folder.mkdir()
    for section, held in english.items():
        if section in KEPT:
            data = held
        elif section == "names":
            data = {name: nonsense(held[name]) for name in held}
        elif section == "lists":
            data = {style: [nonsense(one) for one in held[style]] for style in held}
        else:
            data = {key: translate(message, f"{section}:{key}") for key, message in held.items()}
        (folder / f"{section}.json").write_text(json.dumps({section: data}, ensure_ascii=False), "utf-8")
    return folder


def nonsense(message: Any, name: str = "") -> Any:
    """A message with a word that means nothing in place of each of its own; places and choices stay."""
    if isinstance(message, str):
        return "".join(one if at % 2 else _WORD.sub(NONSENSE, one) for at, one in enumerate(_TEXT.split(message)))
    if isinstance(message, list):
        return [nonsense(one) for one in message]
    return {case: inner if case in words.BRANCHES else nonsense(inner) for case, inner in message.items()}
