"""Which rules there are: every module under ``rules/``, and those that installed packages bring along."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping, Sequence
from functools import cache
from types import MappingProxyType

from rangebook.lint import rules
from rangebook.lint.brought import RuleError, brought
from rangebook.lint.fixing.fixer import Fixer
from rangebook.lint.rule import Rule


@cache
def all_rules() -> Mapping[str, Rule]:
    """Every rule by its name, in alphabetical order. Raises ``RuleError``."""
    modules = (importlib.import_module(f"{rules.__name__}.{found.name}") for found in pkgutil.iter_modules(rules.__path__))
    found: dict[str, Rule] = {module.RULE.name: module.RULE for module in modules}
    for package, rule in brought():
        if not isinstance(rule, Rule):
            raise RuleError(f"{package} cannot be used as a rule: its RULE is none")
        if rule.name in found:
            raise RuleError(f"{package} brings a rule {rule.name} along, and there is one of this name: give its module another name")
        found[rule.name] = rule
    return MappingProxyType(dict(sorted(found.items())))


@cache
def all_fixers() -> Sequence[tuple[Rule, Fixer]]:
    """What the rules can fix, in the order in which it is asked for."""
    fixers = [(rule, rule.fixer) for rule in all_rules().values() if rule.fixer is not None]
    return tuple(sorted(fixers, key=lambda one: one[1].turn))
