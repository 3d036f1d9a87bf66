"""What the schema has against an entry, as data: where, what was found, what was expected.

Only an entry that fails comes here: jsonschema tells what is wrong with what jsonschema-rs has refused, and takes a hundred times as long.
"""

from __future__ import annotations

import json
import unicodedata
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from typing import Any, NamedTuple

import jsonschema
import jsonschema.validators
from jsonschema.exceptions import ValidationError
from referencing import Registry
from referencing.jsonschema import DRAFT202012

from rangebook.reading.finding import Problem
from rangebook.reading.located import Map, Mark, mark_at
from rangebook.reading.nearest import nearest
from rangebook.schema.patterns import matches
from rangebook.schema.store import KINDS, Schemas

RULE = "schema"

MOST = 200
"""After so many errors in one entry the rest is not told."""


class Typed(NamedTuple):
    """A value as it was typed: the ``form`` that it has (``mapping``, ``list``, ``nothing`` or ``text``), and its text, shortened."""

    form: str
    text: str


def typed(value: Any) -> Typed:
    """A value as it was typed."""
    if isinstance(value, dict):
        return Typed("mapping", "")
    if isinstance(value, list):
        return Typed("list", "")
    text = value if isinstance(value, str) else json.dumps(value)
    return Typed("text" if text else "nothing", text if len(text) <= 60 else text[:57] + "...")


def validators(schemas: Schemas) -> dict[str, jsonschema.Draft202012Validator]:
    """A validator for each kind of entry."""
    registry = Registry().with_resources((f"{name}.json", DRAFT202012.create_resource(schemas.files[name])) for name in (*KINDS, "common"))
    return {kind: _Validator(schemas.of(kind), registry=registry) for kind in KINDS}


def validator(schema: Mapping[str, Any]) -> jsonschema.Draft202012Validator:
    """A validator for a schema that refers to no other."""
    made: jsonschema.Draft202012Validator = _Validator(schema)
    return made


def _pattern(_validator: Any, pattern: str, text: Any, _schema: Any) -> Iterator[ValidationError]:
    if isinstance(text, str) and not matches(pattern, text):
        yield ValidationError(f"{text!r} does not match {pattern!r}")


_Validator = jsonschema.validators.extend(jsonschema.Draft202012Validator, {"pattern": _pattern})  # type: ignore[no-untyped-call] # its stubs leave this out
"""By the same engine for patterns as the quick check: the library's own, Python's, can take for ever."""


def problems(file: str, front: Map, kind: str, validator: jsonschema.Draft202012Validator) -> Iterator[Problem]:
    """What the validator has against one entry's front matter, each thing once, :data:`MOST` of them at most."""
    yield from islice(_each_once(file, front, kind, validator), MOST)


def _each_once(file: str, front: Map, kind: str, validator: jsonschema.Draft202012Validator) -> Iterator[Problem]:
    told: defaultdict[tuple[Mark, str], list[Problem]] = defaultdict(list)  # by place: to look through all takes the square of them
    errors = list(islice(validator.iter_errors(front), MOST))
    for error in sorted(errors, key=lambda one: [str(step) for step in one.absolute_path]):
        for one in _of_error(file, front, error, kind):
            there = told[one.mark, one.code]
            if one not in there:
                there.append(one)
                yield one


def _of_error(file: str, front: Map, error: ValidationError, kind: str) -> Iterator[Problem]:
    """What one error of the validator comes to; several for several keys at once."""
    instance: Any = error.instance
    wanted: Any = error.validator_value
    path = list(error.absolute_path)
    schema = error.schema if isinstance(error.schema, dict) else {}
    expected = _expected(schema)

    def problem(code: str, at: Sequence[str | int] = path, *, key: bool = False, **values: Any) -> Problem:
        return Problem.of(RULE, file, mark_at(front, at, key=key), f"schema.{code}", place=_place(path), kind=kind, **values)

    match error.validator:
        case "additionalProperties":
            known = tuple(schema.get("properties", ()))
            for key in instance:
                if key not in known:
                    yield problem("unknown_key", [*path, key], key=True, found=typed(key), near=nearest(key, known), known=known)
        case "required":
            for key in wanted:
                if key not in instance:
                    yield problem("missing_key", missing=key, expected=_expected(schema.get("properties", {}).get(key, {})))
        case "propertyNames":
            yield problem("key", [*path, instance], key=True, found=typed(instance), expected=expected)
        case "enum" | "const":
            known = tuple(str(value) for value in (wanted if error.validator == "enum" else [wanted]))
            yield problem("not_one_of", found=typed(instance), near=nearest(str(instance), known), known=known)
        case "not":
            yield problem("both", keys=tuple(wanted["required"]), first=wanted["required"][0])
        case "anyOf":
            inner = _deepest(error)
            if inner is not None:
                yield from _of_error(file, front, inner, kind)
            else:
                yield problem("value", found=typed(instance), expected=expected, form=None, why=None)
        case "maxItems" | "maxProperties" | "maxLength":
            yield problem("too_many", what=error.validator, count=len(instance), most=wanted)
        case "minItems" | "minLength":
            yield problem("too_few", count=len(instance), expected=expected, why=error.message)
        case "minimum" | "maximum" | "exclusiveMinimum" | "exclusiveMaximum":
            yield problem("out_of_bounds", found=str(instance), bound=error.validator, limit=str(wanted), expected=expected)
        case "pattern" if expected and not str(instance).isascii():
            odd = next(sign for sign in str(instance) if not sign.isascii())
            name = unicodedata.name(odd, "a sign without a name").lower()
            yield problem("not_ascii", found=typed(instance), name=name, code_point=f"{ord(odd):04X}", expected=expected)
        case _:
            yield problem("value", found=typed(instance), expected=expected, form=schema.get("type"), why=error.message)


def _expected(schema: Any) -> str | None:
    """What the schema says of a value, in its own words."""
    found: str | None = schema.get("x-expected") or schema.get("description")
    return found


def _deepest(error: ValidationError) -> ValidationError | None:
    """Of the errors of an ``anyOf``, the one from the branch that the value's own shape points at."""
    inner = [one for one in error.context or () if len(one.absolute_path) > len(error.absolute_path)]
    if isinstance(error.instance, dict):
        inner += [one for one in error.context or () if one.validator in ("additionalProperties", "required")]
    return inner[0] if inner else None


def _place(path: Sequence[str | int]) -> str:
    """``["parts", 0, "pins", "3"]`` -> ``parts[1].pins.3``, lists counted from 1 as people do; nothing for the entry itself."""
    address = ""
    for step in path:
        address += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if address else str(step)
    return address
