"""What a book says of itself in its ``book.yml``, checked by ``book.json`` as it is shipped."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

from rangebook.reading import strict_yaml, text
from rangebook.reading.files import read_bytes
from rangebook.reading.finding import Problem
from rangebook.reading.links import LinkError, refuse_links
from rangebook.schema.store import shipped

FILE = "book.yml"


def read_settings(root: Path) -> tuple[Mapping[str, str], list[Problem]]:
    """The settings of the book under ``root`` by their keys, all of them text; nothing where it has no such file. With what is wrong with
    them, and then they are not to be used."""
    path = root / FILE
    if not path.is_file() and not path.is_symlink():
        return {}, []
    try:
        refuse_links(root, path)
        data: bytes | OSError = read_bytes(path)
    except (OSError, LinkError) as error:
        data = error
    source = text.decode(FILE, data)
    return ({}, [source]) if isinstance(source, Problem) else _checked(source)


def problems_of(source: str) -> list[Problem]:
    """What is wrong with the text of such a file."""
    return _checked(source)[1]


def _checked(source: str) -> tuple[Mapping[str, str], list[Problem]]:
    front, found = strict_yaml.parse(FILE, source, 1, "settings")
    if front is None or found:
        return {}, found
    from rangebook.schema.problems import problems, validator  # it takes long to import, and few books have such a file

    schema = json.loads((shipped("schema") / "book.json").read_text("utf-8"))
    return front, list(problems(FILE, front, "book", validator(schema)))
