"""Values as front matter, written as people write it by hand: one line for what is short, a line for each item of a list.

Only text that the reader would take for something else is quoted. What is written reads back as what was given, numbers and
truth values as the text of them.
"""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, TypeGuard

WIDEST = 120
"""Characters of a mapping on one line; a longer one gets a line for each of its keys."""

# No colon, bracket, quote or hash at all, though many would do no harm: nobody has to know the rules then.
_PLAIN = re.compile(r"[^\W_](?:[^\W]|[ ./()+%;*=°<>$-])*\Z")
_PLAIN_IN_BLOCK = re.compile(r"[^\W_](?:[^\W]|[ ./()+%;*=°<>$,'-])*\Z")

_MEANT_OTHERWISE = frozenset({"y", "n", "yes", "no", "on", "off", "true", "false", "null"})
"""What other readers of YAML take for something else than text (https://yaml.org/type/bool.html)."""


def scalar(value: object, inside: bool = False) -> str:
    """One value; ``inside`` brackets, where commas part items. Text that is free to be anything is quoted if it has to be."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return format(value, ".15g")
    text = str(value)
    plain = _PLAIN if inside else _PLAIN_IN_BLOCK
    if plain.match(text) and not text.endswith(" ") and not (len(text) > 1 and text.lower() in _MEANT_OTHERWISE):
        return text
    # A JSON string is a YAML one; what is beyond ASCII stays readable.
    return json.dumps(text, ensure_ascii=False)


def _key(text: str) -> str:
    # A key is never free text: `on` and `N` are what they are, whatever other readers make of them.
    return text if _PLAIN.match(text) and not text.endswith(" ") else json.dumps(text, ensure_ascii=False)


def flow(value: object) -> str:
    """A value on one line: ``[P, N]``, ``{pins: [1, 2], closed: [P, N]}``."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{_key(key)}: {flow(inner)}" for key, inner in value.items()) + "}"
    if _is_list(value):
        return "[" + ", ".join(flow(inner) for inner in value) + "]"
    return scalar(value, True)


def lines(key: str, value: object, indent: int = 0) -> list[str]:
    """``key`` with its value as lines, all of them indented by ``indent`` spaces."""
    space, name = " " * indent, _key(key)
    if not isinstance(value, Mapping) and not _is_list(value):
        return [f"{space}{name}: {scalar(value)}"]
    if _fits_a_line(value, f"{space}{name}: "):
        return [f"{space}{name}: {flow(value)}"]
    if isinstance(value, Mapping):
        return [f"{space}{name}:", *(line for inner, one in value.items() for line in lines(inner, one, indent + 2))]
    return [f"{space}{name}:", *(line for one in value for line in item_lines(one, indent + 2))]


def item_lines(value: object, indent: int, whole: bool = False) -> list[str]:
    """One item of a list as lines, the first of them with its dash; ``whole`` gives each key of a mapping a line in any case."""
    space = " " * indent
    short = _depth(value) <= 2 and len(flow(value)) + indent <= WIDEST + 30
    if not isinstance(value, Mapping) or not value or (short and not whole):
        return [f"{space}- {flow(value)}"]
    first, *rest = (line for key, one in value.items() for line in lines(key, one, indent + 2))
    return [f"{space}- {first.strip()}", *rest]


def _fits_a_line(value: Any, before: str) -> bool:
    if not value:
        return True
    inner = list(value.values() if isinstance(value, Mapping) else value)
    if not any(isinstance(one, Mapping) or _is_list(one) for one in inner):
        return True  # a list or mapping of single values is one line however long it is
    if isinstance(value, Mapping):
        deepest = max(map(_depth, inner))
        only_lists = not any(isinstance(one, Mapping) for one in inner)
        return deepest <= 1 and only_lists and len(before) + len(flow(value)) <= WIDEST
    return False


def _depth(value: object) -> int:
    if isinstance(value, Mapping):
        return 1 + max(map(_depth, value.values()), default=0)
    if _is_list(value):
        return 1 + max(map(_depth, value), default=0)
    return 0


def _is_list(value: object) -> TypeGuard[Sequence[object]]:
    return isinstance(value, Sequence) and not isinstance(value, str | bytes)


def comment(text: str, indent: int, width: int = WIDEST) -> Iterator[str]:
    """A comment as lines, those after the first two spaces further in. Spaces that the text begins with stay."""
    lead = " " * (len(text) - len(text.lstrip()))
    wrapped = textwrap.wrap(
        text.strip(),
        width - indent,
        initial_indent=lead,
        subsequent_indent=lead + "  ",
        break_long_words=False,
        break_on_hyphens=False,
    )
    yield from (f"{' ' * indent}# {line}" for line in wrapped)
