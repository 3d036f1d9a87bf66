"""Templates -> HTML. Everything that comes from an entry is escaped here, and nowhere is HTML put together by hand."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import BaseLoader, BytecodeCache, Environment, FileSystemBytecodeCache, PackageLoader, StrictUndefined, pass_context
from jinja2.bccache import Bucket
from jinja2.runtime import Context
from markupsafe import Markup, escape

from rangebook.site.shared import urls
from rangebook.words.book import caution_words, check_words, fact_words, outcome_words, source_words
from rangebook.words.catalogue import BRANCHES, Catalogue, catalogue
from rangebook.words.lists import listed, sentence


class Unindented(BaseLoader):
    """Templates without what is there for their readers alone: what lines begin with, and empty lines. Pages are a tenth smaller for it.
    No template may have lines in which it counts."""

    def __init__(self, templates: BaseLoader) -> None:
        self._templates = templates

    def get_source(self, environment: Environment, template: str) -> tuple[str, str | None, Callable[[], bool] | None]:
        """As Jinja wants it. Source: Jinja's API, "Loaders"."""
        source, place, is_as_it_was = self._templates.get_source(environment, template)
        return re.sub(r"\n\s+", "\n", source), place, is_as_it_was


def unindented(env: Environment) -> Environment:
    """The same templates, filters and all else, read like that."""
    assert env.loader is not None
    return env.overlay(loader=Unindented(env.loader), trim_blocks=True, lstrip_blocks=True)


_TEMPLATES = Path(__file__).parents[1] / "templates"


def _compiled() -> BytecodeCache | None:
    """Where templates lie as Python compiled them, so that each command need not: beside them, as with modules, under the same
    conditions."""
    place = _TEMPLATES / "__pycache__"
    try:
        place.mkdir(exist_ok=True)
    except OSError:
        return None
    may_write = not sys.dont_write_bytecode and os.access(place, os.W_OK)
    return _Compiled(str(place), "template-%s.pyc") if may_write else None


class _Compiled(FileSystemBytecodeCache):
    def dump_bytecode(self, bucket: Bucket) -> None:
        """Where the disk is full it is compiled again the next time."""
        with suppress(OSError):
            super().dump_bytecode(bucket)


@cache
def environment() -> Environment:
    """The environment of the page templates: autoescape on, unknown names an error."""
    env = Environment(
        loader=Unindented(PackageLoader("rangebook.site", "templates")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        bytecode_cache=_compiled(),
    )
    env.filters.update(facts=facts, to=to, listed=listed, sentence=sentence, anchor=urls.anchor, pieces=pieces)
    env.filters.update(check_words=check_words, outcome_words=outcome_words, source_words=source_words)
    env.globals.update(say=said, caution_words=caution_words, gone={})
    env.globals.update(connector_url=urls.connector_url, family_url=urls.family_url, kit_url=urls.kit_url)
    return env


def said(message: str, /, **values: Any) -> Markup:
    """A message of the catalogue as HTML, what templates call ``say``: its own text and every value are escaped, but for a value that
    is HTML already, an element that the template has put round something. Values are texts, numbers or several of them; another
    raises ``TypeError``."""
    section, _, key = message.partition(".")
    return Markup(_in_html().say(section, key, {name: _safe(value) for name, value in values.items()}))


@cache
def _in_html() -> Catalogue:
    return Catalogue(_escaped(catalogue().data))


def _escaped(message: Any) -> Any:
    """All text of a message, and nothing that chooses among it. An apostrophe stays: attributes stand between double quotes."""
    if isinstance(message, str):
        return message.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&#34;")
    if isinstance(message, list):
        return list(map(_escaped, message))
    return {case: inner if case in BRANCHES else _escaped(inner) for case, inner in message.items()}


def _safe(value: Any) -> Any:
    if value is None or isinstance(value, int | float):
        return value
    if isinstance(value, str):
        return escape(value)
    if isinstance(value, list | tuple) and not hasattr(value, "_fields"):
        return tuple(map(_safe, value))
    raise TypeError(f"{value!r} is nothing that a page can say")


def facts(names: tuple[str, ...]) -> str:
    """The facts that a source stands for, in words."""
    return listed(fact_words(name) for name in names)


@pass_context
def to(context: Context, url: str) -> str:
    """An address from the top of the site, as the page that is being rendered has to write it."""
    return url if url.startswith("#") else f"{context['base']}/{url}"


def pieces(text: str) -> list[tuple[bool, str]]:
    """Text cut at its backticks: ``(True, ...)`` for what stands between two of them."""
    return [(at % 2 == 1, piece) for at, piece in enumerate(text.split("`")) if piece]


def render(template: str, base: str, content: str, data: Mapping[str, Any], gone: Mapping[str, str] | None = None) -> str:
    """One page's HTML. ``base`` leads from the page to the top of the site; ``content`` is its prose, rendered by MkDocs from
    Markdown in which HTML is not let through; ``gone`` has the status, in words, of each number that is not to be had any more."""
    return environment().get_template(template).render(base=base, content=Markup(content), gone=gone or {}, **data)
