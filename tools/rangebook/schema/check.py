"""Front matter against the schema of its kind, and the words for what is wrong."""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import jsonschema
import jsonschema_rs
from jsonschema.exceptions import ValidationError
from referencing import Registry, Resource
from referencing.jsonschema import DRAFT202012

from rangebook.reading.entry import Entry
from rangebook.reading.files import FOLDERS
from rangebook.reading.located import Map, Mark, mark_at
from rangebook.reading.problem import Problem
from rangebook.schema.numbers import Converter, converter
from rangebook.schema.store import KINDS, Schemas

RULE = "schema"


@dataclass(frozen=True, slots=True)
class _Kind:
    convert: Converter
    quick: Any
    """Says yes or no in a hundredth of the time; the other one words what is wrong."""
    thorough: jsonschema.Draft202012Validator


class Checker:
    """Checks entries against a book's schema. Make one and use it for all entries."""

    def __init__(self, schemas: Schemas) -> None:
        self.schemas = schemas
        resources = [(f"{name}.json", schemas.files[name]) for name in (*KINDS, "common")]
        slow = Registry().with_resources([(uri, Resource(file, DRAFT202012)) for uri, file in resources])
        self._kinds: dict[str, _Kind] = {}
        quick_registry = jsonschema_rs.Registry([(f"json-schema:///{uri}", file) for uri, file in resources])
        for kind in KINDS:
            self._kinds[kind] = _Kind(
                converter(schemas, kind),
                jsonschema_rs.Draft202012Validator(
                    {"$ref": f"json-schema:///{kind}.json"}, registry=quick_registry
                ),
                jsonschema.Draft202012Validator(schemas.of(kind), registry=slow),
            )

    def check(self, entry: Entry) -> list[Problem]:
        """Turn the entry's numbers into numbers, in place, and say what the schema has against it."""
        front = entry.front
        if front is None:
            return []
        kind = front.get("kind")
        if not isinstance(kind, str) or kind not in self._kinds:
            return [self._kind_problem(entry, kind)]
        of_kind = self._kinds[kind]
        of_kind.convert(front)
        if of_kind.quick.is_valid(front):
            return []
        return list(self._worded(entry, front, kind, of_kind.thorough))

    def _kind_problem(self, entry: Entry, kind: Any) -> Problem:
        front = entry.front
        assert front is not None
        guess = next((name for name, folder in FOLDERS.items() if folder == entry.folder), None)
        if kind is None:
            hint = f"add `kind: {guess}`" if guess else f"add `kind:` with one of {_listed(KINDS)}"
            return Problem(RULE, entry.file, front.mark, "the key `kind` is missing", hint)
        near = _nearest(str(kind), KINDS) or guess
        hint = f"did you mean `kind: {near}`?" if near else f"expected one of {_listed(KINDS)}"
        return Problem(
            RULE, entry.file, front.value_mark("kind"), f"there is no kind {_shown(kind)}; expected one of {_listed(KINDS)}", hint
        )

    def _worded(self, entry: Entry, front: Map, kind: str, validator: jsonschema.Draft202012Validator) -> Iterator[Problem]:
        seen: set[tuple[Mark, str]] = set()
        for error in sorted(validator.iter_errors(front), key=lambda e: [str(step) for step in e.absolute_path]):
            for mark, message, fix in _words(front, error, kind):
                if (mark, message) not in seen:
                    seen.add((mark, message))
                    yield Problem(RULE, entry.file, mark, message, fix)


def _words(front: Map, error: ValidationError, kind: str) -> Iterator[tuple[Mark, str, str]]:
    """The place, the words and the remedy for one error of the validator; several for several keys at once."""
    path = list(error.absolute_path)
    schema = error.schema if isinstance(error.schema, dict) else {}
    here = f"in {_place(path)}" if path else f"in this {kind}"
    mark = mark_at(front, path)
    expected = schema.get("x-expected") or schema.get("description")
    match error.validator:
        case "additionalProperties":
            known = list(schema.get("properties", ()))
            for key in error.instance:
                if key not in known:
                    at = mark_at(front, [*path, key], key=True)
                    near = _nearest(key, known)
                    hint = f"did you mean `{near}`?" if near else f"known here: {_listed(known)}"
                    yield at, f"there is no key {_shown(key)} {here}", hint
        case "required":
            for key in error.validator_value:
                if key not in error.instance:
                    wanted = schema.get("properties", {}).get(key, {})
                    hint = wanted.get("x-expected") or wanted.get("description")
                    yield mark, f"the key `{key}` is missing {here}", f"add `{key}:`" + (f" - {hint}" if hint else "")
        case "propertyNames":
            key = error.instance
            yield mark, f"the key {_shown(key)} {here} is not as expected", f"expected {expected}" if expected else "see the format page"
        case "enum" | "const":
            values = error.validator_value if error.validator == "enum" else [error.validator_value]
            near = _nearest(str(error.instance), [str(value) for value in values])
            listed = _listed([str(value) for value in values])
            hint = f"did you mean `{near}`?" if near else f"expected one of {listed}"
            yield mark, f"{_shown(error.instance)} is not known {here}; expected one of {listed}", hint
        case "not":
            yield mark, f"{_place(path) or 'the entry'} says both `closed` and `ohms`", "a contact has one or the other: two contacts, if need be"
        case "anyOf":
            inner = _deepest(error)
            if inner is not None:
                yield from _words(front, inner, kind)
            else:
                yield mark, f"{_shown(error.instance)} {here} is not as expected", f"expected {expected}"
        case "minItems" | "maxItems" | "minLength":
            found = f"{len(error.instance)} given" if isinstance(error.instance, list) else "nothing given"
            yield mark, f"{_place(path)}: {found}", f"expected {expected}" if expected else error.message
        case "minimum" | "maximum" | "exclusiveMinimum" | "exclusiveMaximum":
            bound = {
                "minimum": "at least",
                "maximum": "at most",
                "exclusiveMinimum": "more than",
                "exclusiveMaximum": "less than",
            }[error.validator]
            yield mark, f"{_place(path)} is {error.instance}; expected {bound} {error.validator_value}", f"expected {expected}" if expected else "check the figure"
        case _:
            wanted = expected or {"object": "a mapping", "array": "a list", "string": "text"}.get(str(schema.get("type")), error.message)
            yield mark, f"{_shown(error.instance)} {here} is not as expected", f"expected {wanted}"


def _deepest(error: ValidationError) -> ValidationError | None:
    """Of the errors of an ``anyOf``, the one from the branch that the value's own shape points at."""
    inner = [one for one in error.context or () if len(one.absolute_path) > len(error.absolute_path)]
    if isinstance(error.instance, dict):
        inner += [one for one in error.context or () if one.validator in ("additionalProperties", "required")]
    return inner[0] if inner else None


def _place(path: Sequence[str | int]) -> str:
    """``["parts", 0, "pins", "3"]`` -> ```parts[1].pins.3```, lists counted from 1 as people do."""
    words = ""
    for step in path:
        words += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if words else str(step)
    return f"`{words}`" if words else ""


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, list):
        return "a list"
    if value == "":
        return "nothing"
    if isinstance(value, str):
        return f"`{value if len(value) <= 60 else value[:57] + '...'}`"
    return f"`{json.dumps(value)}`"


def _listed(values: Sequence[str]) -> str:
    return ", ".join(f"`{value}`" for value in values)


def _nearest(word: str, known: Sequence[str]) -> str | None:
    lowered = {one.lower(): one for one in known}
    found = difflib.get_close_matches(word.lower(), list(lowered), n=1, cutoff=0.6)
    return lowered[found[0]] if found else None
