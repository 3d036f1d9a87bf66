"""The kinds of slips that are sown: of the pen, of the keyboard, of the eye on the bench, of the maker's list.

Every module here and every test module of a rule enters its own by being there.
"""

from __future__ import annotations

import importlib
import pkgutil
from pathlib import Path

from tests.lint.seeding.operators.entering import OPERATORS

_RULES = Path(__file__).parents[2] / "rules"

for _package, _folder in ((__name__, Path(__file__).parent), ("tests.lint.rules", _RULES)):
    for _found in pkgutil.iter_modules([str(_folder)]):
        if _found.name != "conftest":
            importlib.import_module(f"{_package}.{_found.name}")

__all__ = ["OPERATORS"]
