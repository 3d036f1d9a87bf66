"""Text that somebody typed for one key -> its value. It is written as in an entry; outer brackets may be left out."""

from __future__ import annotations

import re
from typing import Any

from rangebook.reading.strict_yaml import parse
from rangebook.schema.fields import Field, Node
from rangebook.schema.store import Schemas
from rangebook.words.problems import problem_words

_TRUTH = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}
_PAIR = re.compile(r"\s*([\w.-]+)\s*[:=]\s*(\w+)\s*\Z")


class ValueTextError(ValueError):
    """Typed text that cannot be read as a value; the message says what was expected."""


def value_from(text: str, field: Field, schemas: Schemas) -> Any:
    """Mappings, lists and text. Numbers stay text: the schema check turns them. Raises :class:`ValueTextError`.

    A list of words is ``P R N`` or ``P, R, N``; one of texts that may hold spaces ``Tamblin Short, Tamblin Stage``; rows are parted by
    slashes, ``1 2 3 / 4 5 6``; pairs of words are ``1: a, 2: b`` or ``1=a, 2=b``; anything else is as it stands in an entry, with
    or without the outermost ``[...]`` or ``{...}``.
    """
    text = text.strip()
    if not text:
        raise ValueTextError(f"{field.key}: nothing was given; expected {field.expected or field.description}")
    kind = field.node.get("type")
    if kind == "object":
        if (pairs := _pairs(text)) is not None and field.inner.get("type") == "string":
            return pairs
        return _read(text if text.startswith("{") else f"{{{text}}}", field)
    if kind == "boolean":
        return _TRUTH.get(text.lower(), text)
    if kind != "array":
        return text
    if text.startswith("["):
        return _read(text, field)
    items, home = schemas.resolve(field.node.get("items", {}), field.home)
    branches = [schemas.resolve(one, home)[0] for one in items["anyOf"]] if "anyOf" in items else [items]
    kinds = {one.get("type") for one in branches}
    if kinds == {"array"}:
        return [_words(row, True) for row in text.split("/")]
    if "object" in kinds and (":" in text or kinds == {"object"}):
        return _read(f"[{text}]" if text.startswith("{") else f"[{{{text}}}]", field)
    return _words(text, all(map(_has_no_spaces, branches)))


def _has_no_spaces(node: Node) -> bool:
    return node.get("type") != "string" or node.get("pattern", "").startswith("^")


def _pairs(text: str) -> dict[str, str] | None:
    """``1: start_feed, 2=start_out``, also without the space that an entry wants after the colon; ``None`` where it is not that."""
    found = [_PAIR.match(one) for one in text.split(",")]
    keys = [one.group(1) for one in found if one]
    if len(keys) < len(found) or len(set(keys)) < len(keys):
        return None
    return {one.group(1): one.group(2) for one in found if one}


def _words(text: str, spaces_part: bool) -> list[str]:
    parted = re.split(r"[\s,]+" if spaces_part else r",", text)
    return [word.strip().strip("\"'") for word in parted if word.strip()]


def _read(text: str, field: Field) -> Any:
    found, problems = parse(field.key, f"value: {text}\n", 1)
    if problems or found is None or set(found) != {"value"}:
        why = problem_words(problems[0]) if problems else "it is more than one value"
        raise ValueTextError(f"{field.key}: {text!r} cannot be read ({why}); expected {field.expected or field.description}")
    return found["value"]


def merged(old: Any, new: Any) -> Any:
    """What is given twice for one key: lists one after the other, mappings together; of single values the last counts."""
    if isinstance(old, list) and isinstance(new, list):
        return [*old, *new]
    if isinstance(old, dict) and isinstance(new, dict):
        return {**old, **new}
    return new
