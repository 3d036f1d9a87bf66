"""Which rules there are: every module under ``rules/``."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping, Sequence
from functools import cache
from types import MappingProxyType

from rangebook.lint import rules
from rangebook.lint.fixing.fixer import Fixer
from rangebook.lint.rule import Rule


@cache
def all_rules() -> Mapping[str, Rule]:
    """Every rule by its name, in alphabetical order."""
    modules = (importlib.import_module(f"{rules.__name__}.{found.name}") for found in pkgutil.iter_modules(rules.__path__))
    listed: list[Rule] = sorted((module.RULE for module in modules), key=lambda rule: rule.name)
    return MappingProxyType({rule.name: rule for rule in listed})


@cache
def all_fixers() -> Sequence[tuple[Rule, Fixer]]:
    """What the rules can fix, in the order in which it is asked for."""
    fixers = [(rule, rule.fixer) for rule in all_rules().values() if rule.fixer is not None]
    return tuple(sorted(fixers, key=lambda one: one[1].turn))
