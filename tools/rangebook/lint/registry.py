"""Which rules there are: every module under ``rules/``."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from rangebook.lint import rules
from rangebook.lint.rule import Rule, rule_from


@cache
def all_rules() -> Mapping[str, Rule]:
    """Every rule by its name, in alphabetical order."""
    modules = (importlib.import_module(f"{rules.__name__}.{found.name}") for found in pkgutil.iter_modules(rules.__path__))
    listed = sorted((rule_from(module) for module in modules), key=lambda rule: rule.name)
    return MappingProxyType({rule.name: rule for rule in listed})
