"""What MkDocs is told: our own configuration, with what a book's ``mkdocs.yml`` says of the book laid over it.

A plugin, a hook, a theme's template and an extension are programs. Who builds a branch that somebody sent has read its entries at best, so
none of that is used unless it is asked for.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from itertools import accumulate
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import yaml
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig

from rangebook.reading.links import refuse_links
from rangebook.schema.settings import FILE as BOOK
from rangebook.schema.settings import read_settings
from rangebook.schema.store import shipped
from rangebook.words.problems import problem_fix, problem_words
from rangebook.words.shown import seen

FILE = "mkdocs.yml"

TEXTS = ("site_name", "site_description", "site_author", "copyright", "repo_name")
ADDRESSES = ("site_url", "repo_url", "edit_uri")
OF_THE_BOOK = (*TEXTS, *ADDRESSES)
"""What a book's own file may say: text, which is shown, and nothing that is run."""

SETTINGS = {"name": "site_name", "address": "site_url", "repository": "repo_url", "edit": "edit_uri", "contact": "copyright"}
"""Key of ``book.yml`` -> what MkDocs calls it. It goes before what ``mkdocs.yml`` says."""

LONGEST = 400
MOST_BYTES = 100_000
DEEPEST = 100
"""So many brackets may be open at once: to read them takes the square of it."""

_BRACKET = re.compile(rb"[\[{\]}]")

PROSE = "rangebook.site.prose"
"""What takes out of an entry's prose what a page must not hold. It is always at work."""


class ConfigurationError(Exception):
    """The book's own ``mkdocs.yml`` cannot be used; the message says why."""


def configuration(root: Path, site: Path, whole: bool, **more: Any) -> MkDocsConfig:
    """MkDocs' configuration for the book under ``root``, built into ``site``; ``more`` overrides it. ``whole``: all of the book's own file,
    its plugins and hooks as well, which are run. Raises :class:`ConfigurationError`, ``OSError`` and MkDocs' own errors."""
    own = _own(root)
    file = own if own is not None and whole else shipped(FILE)
    said = _read(own) if own is not None and not whole else {}
    said = {key: said[key] for key in OF_THE_BOOK if isinstance(said.get(key), str) and said[key]}
    settings, problems = read_settings(root)
    if problems:
        told = (f"{root / one.file}:{one.mark.line}:{one.mark.column}: {problem_words(one)}\n  {problem_fix(one)}" for one in problems)
        raise ConfigurationError("\n".join(told))
    said |= {key: settings.texts[name] for name, key in SETTINGS.items() if name in settings.texts}
    for key, value in said.items():
        if against := _against(key, value):
            raise ConfigurationError(f"{root / BOOK if key in map(SETTINGS.get, settings.texts) else own}: `{key}` {against}")
    config = load_config(config_file=str(file), docs_dir=str(root / "entries"), site_dir=str(site), **{**said, **more})
    if PROSE not in config.markdown_extensions:
        config.markdown_extensions.append(PROSE)
    return config


def _against(key: str, value: str) -> str:
    """Why a value cannot be used. The theme puts each into its pages as it is, so it must not be markup."""
    if len(value) > LONGEST or value != value.strip() or not seen(value):
        return f"has to be one line of up to {LONGEST} characters, all of which can be seen"
    if any(sign in value for sign in '<>"'):
        return 'cannot have < or > or " in it: it is shown as text'
    if key not in ADDRESSES:
        return ""
    try:
        there = urlsplit(value)
    except ValueError:
        return "is no address"
    if key == "edit_uri" and not there.scheme and not there.netloc:
        return ""
    if there.scheme not in ("http", "https") or not there.hostname:
        return "has to be an address that begins with https:// or http://"
    return "must not have a name or password in it" if "@" in there.netloc else ""


def left_out(root: Path) -> list[str]:
    """The keys of a book's own file that are not used, because they say something else than ours and may be run."""
    own = _own(root)
    if own is None:
        return []
    ours = _read(shipped(FILE))
    return [key for key, value in _read(own).items() if key not in OF_THE_BOOK and not (key in ours and ours[key] == value)]


def _own(root: Path) -> Path | None:
    path = root / FILE
    refuse_links(root, path)
    return path if path.is_file() else None


class _Data(yaml.SafeLoader):
    """YAML without MkDocs' tags: what a tag stands for is not looked up."""

    def flatten_mapping(self, node: yaml.MappingNode) -> None:
        """A mapping that takes in others (`<<`) can grow tenfold with each line; here that is a key like any other."""


_Data.add_multi_constructor("", lambda loader, suffix, node: f"{suffix} {node.start_mark}")


def _read(path: Path) -> Mapping[str, Any]:
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
        if len(data) > MOST_BYTES:
            raise ConfigurationError(f"{path}: is larger than {MOST_BYTES} bytes")
        if any(depth > DEEPEST for depth in accumulate(1 if one in b"[{" else -1 for one in _BRACKET.findall(data))):
            raise ConfigurationError(f"{path}: is nested more than {DEEPEST} deep")
        found = yaml.load(data, _Data)  # noqa: S506 - a safe loader
    except (yaml.YAMLError, ValueError, RecursionError) as error:
        raise ConfigurationError(f"{path}: cannot be read: {error}") from error
    if not isinstance(found, dict):
        raise ConfigurationError(f"{path}: expected settings, each with its name")
    return {str(key): value for key, value in found.items()}
