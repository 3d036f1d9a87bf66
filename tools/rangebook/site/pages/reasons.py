"""Every code that a reason of an answer can have, made of the list in :mod:`rangebook.reasons.codes`."""

from __future__ import annotations

import types
from collections.abc import Iterator, Mapping
from enum import StrEnum
from typing import Any, Union, get_args, get_origin, get_type_hints

from rangebook.reasons.reason import CODES, Check, Detail, types_of
from rangebook.site.facts.computed import Computed
from rangebook.site.pages import Page, Shell
from rangebook.words.book import outcome_words
from rangebook.words.catalogue import say
from rangebook.words.lists import listed


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="handbook/reasons.md",
        title=say("reasons_page.title"),
        shell=Shell.HANDBOOK,
        template="reasons.html",
        data=reasons_data,
        about=say("reasons_page.page_about"),
    )


def reasons_data() -> Mapping[str, Any]:
    """The codes by check."""
    return {
        "checks": [
            {"check": str(check), "codes": [_code(code, declared) for code, declared in CODES.items() if declared.check is check]}
            for check in Check
        ]
    }


def _code(code: str, declared: type[Detail]) -> Mapping[str, Any]:
    return {
        "code": code,
        "outcome": outcome_words(declared.outcome),
        "means": " ".join((declared.__doc__ or "").split()).replace("``", "`"),
        "parameters": [{"name": name, "type": type_words(hint)} for name, hint in types_of(declared).items()],
    }


def type_words(hint: Any) -> str:
    """The type of a parameter in words; a record by its fields."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin in (types.UnionType, Union):
        return listed(("null" if one is type(None) else type_words(one) for one in inner), "one_or_other")
    if origin is tuple:
        return say("reasons_page.list_of", each=type_words(inner[0]))
    if hasattr(hint, "_fields"):
        fields = (f"{name}: {type_words(one)}" for name, one in get_type_hints(hint).items())
        return f"{{{', '.join(fields)}}}"
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        return listed((f"`{one}`" for one in hint), "one_or_other")
    return say("reasons_page.type", type=hint.__name__)
