"""A problem as a finding: signed with the rule's name and severity, and put into words. It is done here, once, when a rule has found it.

A rule brings its messages along, in English, in the form of the catalogue. Another language has them in its ``lint.json``, in the sections
``lint`` and ``lint_fix``, by the rule's name and the message's, as ``duplicate-number.twice``.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from rangebook.lint.rule import Rule
from rangebook.reading.finding import Finding, Problem
from rangebook.reasons.reason import Reason
from rangebook.words.catalogue import Words, catalogue, say
from rangebook.words.problems import Told, problem_fix, problem_words, sameness
from rangebook.words.reasons import reason_words

BY_FIX = "by_fix"
"""A value of a problem found in reading: whether ``rangebook lint --fix`` mends it."""

_NOTHING: Mapping[str, Any] = MappingProxyType({})


def finding_of(problem: Problem, rule: Rule) -> Finding:
    """What a rule has found, as people are told of it."""
    if problem.rule:  # it was found when the entry was read
        told = Told(catalogue().data["problem"][problem.code])
        message, fix = problem_words(problem), problem_fix(problem)
        if problem.values.get(BY_FIX):
            fix = say("mended.by_fix", fix=fix)
    else:
        told = rule.messages[problem.code]
        message, fix = found_words(rule, problem.code, problem.values), _fix_words(rule, problem.code, problem.values)
    at = problem.mark.in_file
    return Finding(
        *(problem.file, *at, rule.name, rule.severity, message, fix),
        layer=problem.mark.layer,
        same=sameness(problem, told),
        path=problem.path,
    )


def found_words(rule: Rule, code: str, values: Mapping[str, Any] = _NOTHING) -> Words:
    """What one of a rule's messages says was found."""
    return catalogue().say_own("lint", f"{rule.name}.{code}", rule.messages[code].found, _in_words(values))


def _fix_words(rule: Rule, code: str, values: Mapping[str, Any]) -> Words:
    return catalogue().say_own("lint_fix", f"{rule.name}.{code}", rule.messages[code].fix, _in_words(values))


def _in_words(values: Mapping[str, Any]) -> Mapping[str, Any]:
    """Reasons of a verdict have messages of their own; all else is put in as it is."""
    reasons = {name: tuple(map(reason_words, value)) for name, value in values.items() if isinstance(value, tuple) and _is_reasons(value)}
    return {**values, **reasons} if reasons else values


def _is_reasons(value: tuple[Any, ...]) -> bool:
    return bool(value) and isinstance(value[0], Reason)
