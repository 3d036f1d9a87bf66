"""A problem as a finding: signed with the rule's name and severity, and put into words. It is done here, once, when a rule has found it.

A rule brings its messages along, in English, in the form of the catalogue. Another language has them in its ``lint.json``, in the sections
``lint`` and ``lint_fix``, by the rule's name and the message's, as ``duplicate-number.twice``.
"""

from __future__ import annotations

from rangebook.lint.finding import IN_WORDS
from rangebook.lint.rule import Rule
from rangebook.reading.finding import Finding, Problem
from rangebook.words.catalogue import catalogue
from rangebook.words.problems import problem_fix, problem_words, sameness


def finding_of(problem: Problem, rule: Rule) -> Finding:
    """What a rule has found, as people are told of it."""
    values = problem.values
    if problem.rule:  # it was found when the entry was read
        found, message, fix = catalogue().data["problem"][problem.code], problem_words(problem), problem_fix(problem)
    elif problem.code == IN_WORDS:
        found, message, fix = "{same}", values["message"], values["fix"]
    else:
        told, name = rule.messages[problem.code], f"{rule.name}.{problem.code}"
        found = told.found
        message = catalogue().say_own("lint", name, told.found, values)
        fix = catalogue().say_own("lint_fix", name, told.fix, values)
    return Finding(problem.file, *problem.mark, rule.name, rule.severity, message, fix, sameness(problem, found), problem.path)
