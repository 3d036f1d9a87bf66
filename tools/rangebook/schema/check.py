"""Front matter against the schema of its kind."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from rangebook.reading.entry import Entry, read_front
from rangebook.reading.files import FOLDERS
from rangebook.reading.finding import Problem
from rangebook.reading.located import Map
from rangebook.reading.nearest import nearest
from rangebook.schema.errors import SchemaError
from rangebook.schema.numbers import Converter, converter
from rangebook.schema.patterns import engine
from rangebook.schema.store import KINDS, Schemas


@dataclass(frozen=True, slots=True)
class _Kind:
    convert: Converter
    validator: Any


def _validator(kind: str, registry: Any) -> Any:
    import jsonschema_rs

    try:
        return jsonschema_rs.Draft202012Validator({"$ref": f"json-schema:///{kind}.json"}, registry=registry, pattern_options=engine())
    except ValueError as error:
        raise SchemaError(f"schema/{kind}.json: is no JSON Schema: {str(error).splitlines()[0][:300]}") from error


class Checker:
    """Checks entries against a book's schema. Make one and use it for all entries. Raises ``SchemaError`` where it is none."""

    def __init__(self, schemas: Schemas) -> None:
        import jsonschema_rs  # takes its time, and not all that import this module check anything

        self.schemas = schemas
        registry = jsonschema_rs.Registry([(f"json-schema:///{name}.json", schemas.files[name]) for name in (*KINDS, "common")])
        self._kinds = {kind: _Kind(converter(schemas, kind), _validator(kind, registry)) for kind in KINDS}

    @cached_property
    def _tellers(self) -> dict[str, Any]:
        # Imported only when something is wrong: it takes longer than checking a hundred entries.
        from rangebook.schema.problems import validators

        return validators(self.schemas)

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
        if of_kind.validator.is_valid(front):
            return []
        from rangebook.schema.problems import problems

        return list(problems(entry.file, front, kind, self._tellers[kind]))

    def convert(self, entry: Entry) -> None:
        """Turn the numbers of an entry into numbers, in place, and judge nothing: of a piece that is not whole by itself."""
        kind = self._kinds.get(str(entry.tree.get("kind"))) if entry.tree is not None else None
        if kind is not None and entry.tree is not None:
            kind.convert(entry.tree)

    def read_again(self, entry: Entry) -> Map | None:
        """The front matter of an entry that passed, from its text, with its numbers made numbers."""
        front = read_front(entry.file, entry.source)
        kind = self._kinds.get(front.get("kind", "")) if front is not None else None
        if kind is not None:
            kind.convert(front)
        return front

    def _kind_problem(self, entry: Entry, kind: Any) -> Problem:
        from rangebook.schema.problems import RULE, typed

        front = entry.front
        assert front is not None
        guess = next((name for name, folder in FOLDERS.items() if folder == entry.folder), None)
        if kind is None:
            return Problem.of(RULE, entry.file, front.mark, "schema.no_kind", guess=guess, known=KINDS)
        near = nearest(str(kind), KINDS) or guess
        return Problem.of(RULE, entry.file, front.value_mark("kind"), "schema.unknown_kind", found=typed(kind), near=near, known=KINDS)
