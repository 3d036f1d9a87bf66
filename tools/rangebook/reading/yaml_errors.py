"""Where a slip of the pen was made, which is not always where YAML came to a halt over it, and what it was.

A bracket or quote that is not closed is missed only where something comes that cannot be inside it, often lines further
down; the line to mend is the one on which it was opened.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

import yaml
from yaml.tokens import ScalarToken

from rangebook.reading.slips import slip_near

_Loader: type = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class YamlError(NamedTuple):
    """Line and column, both counted from 0 in the front matter, the code of what was found, and what is put into its words."""

    line: int
    column: int
    code: str
    values: Mapping[str, Any] = MappingProxyType({})


def yaml_error_of(front: str, error: yaml.MarkedYAMLError, deepest: int) -> YamlError:
    """The slip behind an error that reading ``front`` came to a halt with; no entry is nested more than ``deepest`` deep."""
    halt, begun = error.problem_mark or error.context_mark, error.context_mark
    context, problem = error.context or "", str(error.problem)
    if halt is None:
        return YamlError(0, 0, "yaml.unreadable", {"why": problem})
    if "nesting depth" in problem:
        return YamlError(halt.line, halt.column, "yaml.too_deep", {"deepest": deepest})
    if begun and "quoted scalar" in context and not front[halt.index :].strip():
        return YamlError(begun.line, begun.column, "yaml.quote_open")
    quote = _quote_before(front, halt.line)
    if quote is not None:
        return YamlError(*quote, "yaml.quote_inside")
    missed = begun is not None and "flow" in context and _is_missed(front, begun.line, halt)
    where = begun.line if begun and "simple key" in context else halt.line
    if (slip := slip_near(front, where, begun.line if begun and missed else None, "flow" in context)) is not None:
        return YamlError(*slip)
    if begun and "simple key" in context:
        return YamlError(begun.line, begun.column, "yaml.no_key")
    if begun and missed:
        bracket = front[begun.index : begun.index + 1]
        return YamlError(begun.line, begun.column, "yaml.bracket_open", {"bracket": bracket, "closing": _CLOSING.get(bracket, "]")})
    return YamlError(halt.line, halt.column, "yaml.unreadable", {"why": f"{context}, {problem}" if context else problem})


_CLOSING = {"[": "]", "{": "}"}


def _quote_before(front: str, line: int) -> tuple[int, int] | None:
    """Where a quoted text begins that ends on the line of the halt and began on an earlier one: words were taken for its end."""
    loader = _Loader(front)
    found = None
    try:
        while (token := loader.get_token()) is not None:
            start, end = token.start_mark, token.end_mark
            if start.line > line:
                break
            if isinstance(token, ScalarToken) and token.style in ('"', "'") and start.line < end.line == line:
                found = start.line, start.column
    except yaml.YAMLError:
        pass
    return found


def _is_missed(front: str, opened: int, halt: yaml.Mark) -> bool:
    """Whether the next key has been reached with a bracket still open, or the end of it all."""
    if not front[halt.index :].strip():
        return True
    lines = front.split("\n")
    indents = [len(lines[at]) - len(lines[at].lstrip()) for at in (opened, halt.line)]
    return halt.line > opened and indents[1] <= indents[0]
