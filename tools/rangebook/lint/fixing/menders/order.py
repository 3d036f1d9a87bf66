"""The menders, in the order in which they are asked: first those that make an entry readable, last those that move lines."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from rangebook.lint.fixing.edits import Mend
from rangebook.lint.fixing.menders import (
    colour,
    key_order,
    needed_quotes,
    needless_quotes,
    normal_form,
    tabs,
    trailing_space,
    unquoted_text,
)
from rangebook.lint.fixing.page import Page

MENDERS: Mapping[str, Callable[[Page], Iterator[Mend]]] = {
    "trailing-space": trailing_space.find,
    "tabs": tabs.find,
    "needed-quotes": needed_quotes.find,
    "unquoted-text": unquoted_text.find,
    "normal-form": normal_form.find,
    "colour": colour.find,
    "needless-quotes": needless_quotes.find,
    "key-order": key_order.find,
}
"""Name -> what finds its mends."""
