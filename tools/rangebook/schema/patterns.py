"""Patterns of the schema, tried in time that grows with the text alone.

A book may bring a schema of its own, and Python's ``re`` takes for ever over some patterns. This is the engine of jsonschema-rs that
does not go back in a text; what it cannot do without going back (lookaround, a group that is referred to) it refuses.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import jsonschema_rs

_BYTES = 1_000_000
"""Memory that one pattern may take."""


def engine() -> jsonschema_rs.RegexOptions:
    """What a validator of jsonschema-rs is made with."""
    import jsonschema_rs  # takes its time, and many a question needs no pattern

    return jsonschema_rs.RegexOptions(size_limit=_BYTES, dfa_size_limit=_BYTES)


@cache
def _compiled(pattern: str) -> Any:
    import jsonschema_rs

    return jsonschema_rs.Draft202012Validator({"pattern": pattern}, pattern_options=engine())


def matches(pattern: str, text: str) -> bool:
    """Whether the pattern is found in the text. Raises ``ValueError`` for what is no pattern."""
    return bool(_compiled(pattern).is_valid(text))
