"""The words for what the schema has against an entry: where, what was found, what was expected, how to mend it.

Only an entry that fails comes here: jsonschema words what jsonschema-rs has refused, and takes a hundred times as long.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from itertools import islice
from typing import Any

import jsonschema
from jsonschema.exceptions import ValidationError
from referencing import Registry
from referencing.jsonschema import DRAFT202012

from rangebook.reading.located import Map, Mark, mark_at
from rangebook.schema.store import KINDS, Schemas
from rangebook.schema.words import listed, nearest, shown

Worded = tuple[Mark, str, str]
"""A place, what is wrong there, and how to mend it."""


MOST = 200
"""After so many errors in one entry the rest is not worded."""


def validators(schemas: Schemas) -> dict[str, jsonschema.Draft202012Validator]:
    """A validator for each kind of entry."""
    registry = Registry().with_resources((f"{name}.json", DRAFT202012.create_resource(schemas.files[name])) for name in (*KINDS, "common"))
    return {kind: jsonschema.Draft202012Validator(schemas.of(kind), registry=registry) for kind in KINDS}


def worded(front: Map, kind: str, validator: jsonschema.Draft202012Validator) -> Iterator[Worded]:
    """What the validator has against one entry's front matter, each thing once, :data:`MOST` of them at most."""
    seen: set[tuple[Mark, str]] = set()
    yield from islice(_each(front, kind, validator, seen), MOST)


def _each(front: Map, kind: str, validator: jsonschema.Draft202012Validator, seen: set[tuple[Mark, str]]) -> Iterator[Worded]:
    errors = list(islice(validator.iter_errors(front), MOST))
    for error in sorted(errors, key=lambda one: [str(step) for step in one.absolute_path]):
        for mark, message, fix in _words(front, error, kind):
            if (mark, message) not in seen:
                seen.add((mark, message))
                yield mark, message, fix


def _words(front: Map, error: ValidationError, kind: str) -> Iterator[Worded]:
    """The place, the words and the remedy for one error of the validator; several for several keys at once."""
    instance: Any = error.instance
    value_wanted: Any = error.validator_value
    path = list(error.absolute_path)
    schema = error.schema if isinstance(error.schema, dict) else {}
    here = f"in {_place(path)}" if path else f"in this {kind}"
    mark = mark_at(front, path)
    expected = schema.get("x-expected") or schema.get("description")
    match error.validator:
        case "additionalProperties":
            known = list(schema.get("properties", ()))
            for key in instance:
                if key not in known:
                    at = mark_at(front, [*path, key], key=True)
                    near = nearest(key, known)
                    hint = f"did you mean `{near}`?" if near else f"known here: {listed(known)}"
                    yield at, f"there is no key {shown(key)} {here}", hint
        case "required":
            for key in value_wanted:
                if key not in instance:
                    wanted = schema.get("properties", {}).get(key, {})
                    hint = wanted.get("x-expected") or wanted.get("description")
                    yield mark, f"the key `{key}` is missing {here}", f"add `{key}:`" + (f" - {hint}" if hint else "")
        case "propertyNames":
            key = instance
            at = mark_at(front, [*path, key], key=True)
            yield at, f"the key {shown(key)} {here} is not as expected", f"expected {expected}" if expected else "see the format page"
        case "enum" | "const":
            values = value_wanted if error.validator == "enum" else [value_wanted]
            near = nearest(str(instance), [str(value) for value in values])
            all_of_them = listed([str(value) for value in values])
            hint = f"did you mean `{near}`?" if near else f"expected one of {all_of_them}"
            yield mark, f"{shown(instance)} is not known {here}; expected one of {all_of_them}", hint
        case "not":
            yield (
                mark,
                f"{_place(path) or 'the entry'} says both `closed` and `ohms`",
                "a contact has one or the other: two contacts, if need be",
            )
        case "anyOf":
            inner = _deepest(error)
            if inner is not None:
                yield from _words(front, inner, kind)
            else:
                yield mark, f"{shown(instance)} {here} is not as expected", f"expected {expected}"
        case "maxItems" | "maxProperties" | "maxLength":
            what = "characters" if error.validator == "maxLength" else "given"
            message = f"{_place(path) or 'the entry'}: {len(instance)} {what}; expected {value_wanted} at most"
            yield mark, message, "no entry needs so many: look for what was pasted too often, or make two entries of it"
        case "minItems" | "minLength":
            found = f"{len(instance)} given" if isinstance(instance, list) else "nothing given"
            yield mark, f"{_place(path)}: {found}", f"expected {expected}" if expected else error.message
        case "minimum" | "maximum" | "exclusiveMinimum" | "exclusiveMaximum":
            bound = {
                "minimum": "at least",
                "maximum": "at most",
                "exclusiveMinimum": "more than",
                "exclusiveMaximum": "less than",
            }[error.validator]
            yield (
                mark,
                f"{_place(path)} is {instance}; expected {bound} {value_wanted}",
                f"expected {expected}" if expected else "check the figure",
            )
        case "pattern" if expected and not str(instance).isascii():
            yield mark, f"{shown(instance)} {here} has {_odd(str(instance))} in it", f"expected {expected}"
        case _:
            wanted = expected or {"object": "a mapping", "array": "a list", "string": "text"}.get(str(schema.get("type")), error.message)
            yield mark, f"{shown(instance)} {here} is not as expected", f"expected {wanted}"


def _odd(text: str) -> str:
    """The first sign of a text that is not of ASCII, by its name."""
    odd = next(sign for sign in text if not sign.isascii())
    return f"{unicodedata.name(odd, 'a sign without a name').lower()} (U+{ord(odd):04X})"


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
