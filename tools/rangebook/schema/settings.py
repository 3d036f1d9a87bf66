"""What a book says of itself in its ``book.yml``, checked by ``book.json`` as it is shipped, its colours and logo by what a page needs."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from rangebook.reading import strict_yaml, text
from rangebook.reading.files import read_bytes
from rangebook.reading.finding import Problem
from rangebook.reading.layers import layers_of
from rangebook.reading.links import LinkError, refuse_links
from rangebook.reading.located import Map, mark_at
from rangebook.schema.contrast import contrast
from rangebook.schema.region import Paper, Units, paper_of, units_of
from rangebook.schema.store import shipped

FILE = "book.yml"

COLOURS = {"bar": "#14303f", "accent": "#ffc54d"}
"""Of the bar at the top of each page, where a book names none."""

LETTERS = "#ffffff"
"""On the bar, in every book."""

LEAST_CONTRAST = 7.0
"""Of letters and their ground: WCAG 2.2, 1.4.6 contrast (enhanced)."""

MOST_LOGO_BYTES = 100_000


@dataclass(frozen=True)
class Settings:
    """What a book says of itself. ``texts`` by their keys; ``colours`` has all of :data:`COLOURS`; ``logo`` is the picture's name and its
    bytes, empty where there is none."""

    texts: Mapping[str, str] = field(default_factory=dict)
    colours: Mapping[str, str] = field(default_factory=lambda: COLOURS)
    logo: tuple[str, bytes] = ("", b"")

    @property
    def units(self) -> Units:
        """Which figures stand first: as the book says, or else as in its region."""
        said = self.texts.get("units")
        return "us" if said == "us" else "metric" if said else units_of(self.texts.get("region", ""))

    @property
    def paper(self) -> Paper:
        """Of the printed book."""
        return paper_of(self.texts.get("region", ""))

    @property
    def language_tag(self) -> str:
        """The language as a page states it, with the region: BCP 47, as in ``en-GB``."""
        return "-".join(filter(None, (self.texts.get("language", "en"), self.texts.get("region", ""))))


def root_of_settings(root: Path) -> Path:
    """The folder whose settings are those of the book: of its layers the uppermost that has some, else its own."""
    above = reversed(layers_of(root))
    return next((one.root for one in above if (one.root / FILE).is_file() or (one.root / FILE).is_symlink()), root)


def read_settings(root: Path) -> tuple[Settings, list[Problem]]:
    """The settings of the book under ``root``; those of a book that says nothing where it has no such file. With what is wrong with them,
    and then they are not to be used."""
    root = root_of_settings(root)
    path = root / FILE
    if not path.is_file() and not path.is_symlink():
        return Settings(), []
    source = text.decode(FILE, _read(root, path))
    if isinstance(source, Problem):
        return Settings(), [source]
    front, found = _checked(source)
    if front is None or found:
        return Settings(), found
    logo = front.get("logo", "")
    data = _read(root, root / logo) if logo else b""
    if logo and (code := _against_logo(data)):
        return Settings(), [_problem(front, ("logo",), code, name=logo, most=MOST_LOGO_BYTES // 1000)]
    texts = {key: value for key, value in front.items() if isinstance(value, str) and key != "logo"}
    assert isinstance(data, bytes)
    return Settings(texts, {**COLOURS, **front.get("colours", {})}, (logo, data)), []


def problems_of(source: str) -> list[Problem]:
    """What is wrong with the text of such a file."""
    return _checked(source)[1]


def _read(root: Path, path: Path) -> bytes | OSError:
    try:
        refuse_links(root, path)
        return read_bytes(path)
    except (OSError, LinkError) as error:
        return error


def _checked(source: str) -> tuple[Map | None, list[Problem]]:
    front, found = strict_yaml.parse(FILE, source, 1, "settings")
    if front is None or found:
        return None, found
    from rangebook.schema.problems import problems, validator  # it takes long to import, and few books have such a file

    schema = json.loads((shipped("schema") / "book.json").read_text("utf-8"))
    against = list(problems(FILE, front, "book", validator(schema)))
    return front, against or list(_too_pale(front))


def _too_pale(front: Map) -> Iterator[Problem]:
    """Letters that some cannot read."""
    own: Mapping[str, str] = front.get("colours", {})
    colours = {**COLOURS, **own}
    for key, letters, ground in (("bar", LETTERS, colours["bar"]), ("accent", colours["accent"], colours["bar"])):
        found = contrast(letters, ground)
        if found < LEAST_CONTRAST and (key in own or (key == "accent" and own)):
            at = ("colours", key) if key in own else ("colours",)
            # Rounded down: what falls short is not shown as enough.
            yield _problem(
                front, at, "settings.pale", what=key, letters=letters, ground=ground, contrast=int(found * 10) / 10, least=LEAST_CONTRAST
            )


def _against_logo(data: bytes | OSError) -> str:
    if isinstance(data, OSError):
        return "settings.no_logo"
    if len(data) > MOST_LOGO_BYTES:
        return "settings.logo_too_large"
    from rangebook.reading.photos import photo_of  # few books have one

    return "" if photo_of(data).kind else "settings.logo_no_picture"


def _problem(front: Map, path: tuple[str, ...], code: str, **values: Any) -> Problem:
    return Problem.of("schema", FILE, mark_at(front, path), code, **values)
