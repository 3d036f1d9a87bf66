"""The catalogue: every message as a whole, in one folder for each language, and what makes text of it.

A language's files are taken as one: each section stands whole in one of them.

A message is one of these, nested as needed:

- a text with named places, ``"{bolts} bolts, {holes} holes"``. A place may reach into a record, ``{turn.left_deg}``, and is followed
  by what is done to the value, one after the other, each behind a ``|``: the format of a number (``g``, ``.4g``, ``.1f``), a message of
  the section ``shared`` (applied to each of several values), the name of a list style, which puts several into one, ``count``, how
  many, or ``plain``, a name of an entry as words;
- ``{"select": place, "a": message, ..., "other": message}``: by the value itself;
- ``{"plural": place, "one": message, "other": message}``: by a count, or how many there are, in the language's own forms;
- ``{"given": place, "yes": message, "no": message}``: whether there is anything; either may be left out;
- a list of messages, one after the other.

In a message of ``shared`` the places are the fields of the record that it is applied to, ``{value}`` what is no record. The places in
capitals are names that are the same in every message and can be given others: see ``names``.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, NewType

from rangebook.words.plurals import OTHER, category_of

Words = NewType("Words", str)
"""Text for people. It is made here and nowhere else, and nothing decides by it."""

FOLDER = Path(__file__).parent / "catalogue"
LANGUAGE = "en"
"""The folder of the language that is spoken."""

BRANCHES = ("select", "plural", "given")
"""What a message chooses by: each names a place."""

COUNT = "count"
"""What is done to several to get how many they are."""

PLAIN = "plain"
"""What is done to a name of an entry to read it as words: ``low-boss`` is a low boss."""

_PLACE = re.compile(r"\{([^{}]*)\}")
_NUMBER = re.compile(r"\.?\d*[gf]\Z")

Values = Mapping[str, Any]
Message = Any
"""As the JSON file has it."""
Maker = Callable[[Values], str]


class CatalogueError(ValueError):
    """The catalogue is wrong: a message, list style or form is not there, or cannot be understood."""


class Catalogue:
    """One language. ``data`` are its files as one, section by section."""

    def __init__(self, data: Mapping[str, Any]) -> None:
        self.data = data
        self._category = category_of(data["plurals"])
        self._lists: Mapping[str, tuple[str, str]] = {name: (middle, last) for name, (middle, last) in data["lists"].items()}
        self._shared: dict[str, Maker] = {}
        self._made: dict[tuple[str, str], Maker] = {}

    def say(self, section: str, key: str, values: Values | None = None, names: Mapping[str, str] | None = None) -> Words:
        """A message of a section. Raises :class:`CatalogueError` where there is none."""
        made = self._made.get((section, key))
        if made is None:
            try:
                message = self.data[section][key]
            except KeyError:
                raise CatalogueError(f"the catalogue has no message {section}: {key}") from None
            made = self._made[section, key] = self._maker(message)
        return Words(made({**self.data["names"], **(names or {}), **(values or {})}))

    def say_own(self, section: str, key: str, own: Message, values: Values) -> Words:
        """A message that stands with who says it, unless the language has one in its place."""
        made = self._made.get((section, key))
        if made is None:
            made = self._made[section, key] = self._maker(self.data.get(section, {}).get(key, own))
        return Words(made({**self.data["names"], **values}))

    def has(self, section: str, key: str) -> bool:
        """Whether there is such a message."""
        return key in self.data[section]

    def listed(self, values: Iterable[object], style: str = "and") -> str:
        """Several in one, as ``a, b and c``; nothing for none."""
        middle, last = self._lists[style]
        texts = [str(value) for value in values]
        return middle.join(texts) if len(texts) < 2 else f"{middle.join(texts[:-1])}{last}{texts[-1]}"

    def _maker(self, message: Message) -> Maker:
        if isinstance(message, str):
            return self._text(message)
        if isinstance(message, list):
            makers = [self._maker(one) for one in message]
            return lambda values: "".join([maker(values) for maker in makers])
        for kind, read in (("select", _name), ("plural", self._form), ("given", _given)):
            if kind in message:
                place = message[kind]
                cases = {case: self._maker(inner) for case, inner in message.items() if case != kind}
                return self._choice(place, cases, read, needs_other=kind != "given")
        raise CatalogueError(f"{message!r} is no message")

    def _choice(self, place: str, cases: Mapping[str, Maker], read: Callable[[Any], str], needs_other: bool) -> Maker:
        def choose(values: Values) -> str:
            case = cases.get(read(_reach(values, place))) or cases.get(OTHER)
            if case is None:
                if needs_other:
                    raise CatalogueError(f"nothing is said for {_reach(values, place)!r} of {place}")
                return ""
            return case(values)

        return choose

    def _form(self, value: Any) -> str:
        return self._category(value if isinstance(value, int) else len(value))

    def _text(self, text: str) -> Maker:
        pieces = _PLACE.split(text)
        literals, places = pieces[::2], [self._place(one) for one in pieces[1::2]]
        if not places:
            return lambda values: text

        def fill(values: Values) -> str:
            found = [literals[0]]
            for place, literal in zip(places, literals[1:], strict=True):
                found += (place(values), literal)
            return "".join(found)

        return fill

    def _place(self, text: str) -> Maker:
        place, *steps = text.split("|")

        def fill(values: Values) -> str:
            value = _reach(values, place)
            for step in steps:
                value = self._done(value, step, values)
            if isinstance(value, tuple) or value is None:
                raise CatalogueError(f"{{{text}}} is not one text: {value!r}")
            return str(value)

        return fill

    def _done(self, value: Any, step: str, values: Values) -> Any:
        if step in self._lists:
            return self.listed(value, step)
        if step == COUNT:
            return len(value)
        if step == PLAIN:
            return str(value).replace("-", " ")
        several = isinstance(value, tuple) and not hasattr(value, "_fields")
        make = self._number(step) if _NUMBER.match(step) else self._of_shared(step, values)
        return tuple(make(one) for one in value) if several else make(value)

    def _number(self, step: str) -> Callable[[Any], str]:
        return lambda value: format(value, step).replace(".", self.data["decimal"])

    def _of_shared(self, name: str, values: Values) -> Callable[[Any], str]:
        maker = self._shared.get(name)
        if maker is None:
            if name not in self.data["shared"]:
                raise CatalogueError(f"there is no list style and no shared message {name}")
            maker = self._shared[name] = self._maker(self.data["shared"][name])
        names = {one: values[one] for one in self.data["names"]}
        return lambda value: maker({**names, **(value._asdict() if hasattr(value, "_asdict") else {"value": value})})


def _reach(values: Values, place: str) -> Any:
    first, *rest = place.split(".")
    try:
        value = values[first]
    except KeyError:
        raise CatalogueError(f"nothing is given for {first}") from None
    for step in rest:
        value = None if value is None else getattr(value, step)
    return value


def _name(value: Any) -> str:
    return str(value).lower() if value is None or isinstance(value, bool) else str(value)


def _given(value: Any) -> str:
    return "yes" if value else "no"


def read(folder: Path) -> dict[str, Any]:
    """The files of a language as one. Raises :class:`CatalogueError` where two of them have the same section."""
    data: dict[str, Any] = {}
    for file in sorted(folder.glob("*.json")):
        for section, held in json.loads(file.read_text("utf-8")).items():
            if section in data:
                raise CatalogueError(f"{file.name}: the section {section} stands in another file too")
            data[section] = held
    return data


@cache
def catalogue() -> Catalogue:
    """The catalogue of the language that is spoken, read once."""
    return Catalogue(read(FOLDER / LANGUAGE))


def say(message: str, /, **values: Any) -> Words:
    """A message by its section and its key there, as ``say("fit.candidate", number=..., ...)``, for what is written into code or a
    template. Every value is named where it is said, so that a test can hold messages and what is given to them together."""
    section, _, key = message.partition(".")
    return catalogue().say(section, key, values)


def places_of(message: Message) -> Iterable[str]:
    """Every place that a message has, without what is done to it: what its values must have."""
    if isinstance(message, str):
        yield from (one.partition("|")[0] for one in _PLACE.findall(message))
    elif isinstance(message, list):
        for inner in message:
            yield from places_of(inner)
    else:
        for case, inner in message.items():
            if case in BRANCHES:
                yield inner
            else:
                yield from places_of(inner)
