"""A reason in words, and as the data that other programs get."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from rangebook.reasons.reason import Reason, parameters, parameters_of
from rangebook.words.catalogue import Words, catalogue


@lru_cache(maxsize=65_536)
def reason_words(reason: Reason) -> Words:
    """A reason as a plain sentence without a capital and a full stop. The two parts are called ``the original`` and ``this one``."""
    return _said(reason, None)


def reason_words_with(reason: Reason, original: str, candidate: str) -> Words:
    """The same with the two parts called by their numbers, for where it stands alone."""
    return _said(reason, {"ORIGINAL": original, "CANDIDATE": candidate})


def _said(reason: Reason, names: Mapping[str, str] | None) -> Words:
    detail = reason.detail
    values: dict[str, Any] = {name: getattr(detail, name) for name in parameters_of(detail)}
    return catalogue().say("reasons", reason.code, {"side": reason.subject.side, **values}, names)


def brief_words(reason: Reason) -> Words:
    """What speaks against a part, in six words, for a list of what is not to be fitted. ``first`` stands for the first of several records
    that the reason holds."""
    values: dict[str, Any] = {name: getattr(reason.detail, name) for name in parameters_of(reason.detail)}
    several = (one[0] for one in values.values() if isinstance(one, tuple) and one and hasattr(one[0], "_asdict"))
    return catalogue().say("brief", reason.code, {"first": next(several, None), **values})


def reason_data(reason: Reason) -> dict[str, Any]:
    """``{"check", "code", "subject", "parameters", "text"}``: the form in which ``fit --json`` and the API give it."""
    return {
        "check": str(reason.check),
        "code": reason.code,
        "subject": reason.subject.data(),
        "parameters": parameters(reason.detail),
        "text": reason_words(reason),
    }
