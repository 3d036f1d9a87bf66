"""A key or value that the entry format does not have.

The front matter fits the schema of its kind: no unknown keys, none that are missing, numbers where numbers are wanted,
and words from the list where there is a list. The page on the entry format shows all of it.

Why it matters: a key with a typing mistake is a fact that nobody reads, and the answer is computed without it. So an
entry is left out of the book until it fits.

Fails:

    kind: connector
    outline: ovall

Mended:

    kind: connector
    outline: oval
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from datetime import date

from rangebook.lint.already_read import already_read
from rangebook.lint.fixing.edits import Change, Edit, Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.layout import Mapping, Path, Scalar, Sequence, at
from rangebook.lint.fixing.page import Page
from rangebook.lint.fixing.typed import Schema, Typed, accepts, typed
from rangebook.lint.rule import Severity, Told, rule

_DATE = re.compile(r"([12][0-9]{3})([-/.])([0-9]{1,2})\2([0-9]{1,2})\Z")
_MONTH = re.compile(r"([12][0-9]{3})[-/.]([0-9]{1,2})\Z")
_YEARS = re.compile(r"([12][0-9]{3}) *[-\u2010-\u2015] *([12][0-9]{3})?\Z")
_POINT = re.compile(r"([+-]?)([0-9]*)[.,]([0-9]{1,2})\Z")


def find(page: Page) -> Iterator[Fix]:
    """Yield a fix for each value that the schema refuses and that has one form, near to it, which it does not.

    Capitals and small letters in names, words and codes, where the book or the schema has them otherwise; dates, months and
    years with a figure or a hyphen of another kind; numbers without the nought before the point or with a comma for it.
    """
    if page.layout is None or page.kind is None:
        return
    positions = _positions(page.layout)
    for one in typed(page.layout, page.schemas, page.kind):
        scalar = one.scalar
        if accepts(one.ways, scalar.value) or not scalar.value or not _is_plain(page, scalar):
            continue
        forms = {form for form in _forms(page, one, positions) if accepts(one.ways, form)}
        if len(forms) != 1 or (one.is_key and _has_key(page.layout, one, forms)):
            continue
        (form,) = forms
        start, end = (scalar.start + 1, scalar.end - 1) if scalar.quote else (scalar.start, scalar.end)
        yield Fix(
            scalar.start,
            "form",
            (Edit(start, end, form),),
            (Change(one.path, form, one.is_key),),
            {"found": scalar.value, "form": form},
        )


def _is_plain(page: Page, scalar: Scalar) -> bool:
    inside = page.text[scalar.start + 1 : scalar.end - 1] if scalar.quote else page.text[scalar.start : scalar.end]
    return scalar.quote in ("", '"', "'") and inside == scalar.value


def _has_key(root: Mapping, one: Typed, forms: set[str]) -> bool:
    """Whether the key would be there twice."""
    owner = at(root, one.path[:-1])
    return isinstance(owner, Mapping) and any(key.value in forms for key, _ in owner.pairs)


def _positions(root: Mapping) -> frozenset[str]:
    stated = at(root, ("positions",))
    items = stated.items if isinstance(stated, Sequence) else []
    return frozenset(one.value.upper() for one in items if isinstance(one, Scalar))


def _forms(page: Page, one: Typed, positions: frozenset[str]) -> Iterator[str]:
    """What may have been meant. Most of it the schema has something against as well; then it was not."""
    value = one.scalar.value
    for way in one.ways:
        if "enum" in way or "const" in way:
            listed = way["enum"] if "enum" in way else [way["const"]]
            near = [word for word in listed if word.lower() == value.strip().lower()]
            if len(near) == 1:
                yield near[0]
        elif way.get("type") == "boolean":
            yield value.lower()
        elif way.get("type") in ("number", "integer"):
            yield from _numbers(value)
        elif "pattern" in way:
            yield from _texts(page, one.path, value, way, positions)


def _texts(page: Page, path: Path, value: str, way: Schema, positions: frozenset[str]) -> Iterator[str]:
    pattern = way["pattern"]
    # A book's own schema may lack any of these.
    defined = {name: node.get("pattern") for name, node in page.schemas.files["common"]["$defs"].items()}
    if pattern == defined.get("position"):
        if value.upper() in positions:
            yield value.upper()
    elif pattern == defined.get("id"):
        lower = value.strip().lower()
        if lower == page.entry.stem if path == ("id",) else lower in page.known.ids:
            yield lower
    elif pattern == defined.get("circuit"):
        name = re.sub(r"[ -]+", "_", value.strip().lower())
        if name in page.known.circuits:
            yield name
    elif pattern == defined.get("date"):
        yield from _dates(value)
    elif pattern == defined.get("month"):
        found = _MONTH.match(value)
        if found:
            yield f"{found.group(1)}-{int(found.group(2)):02}"
    elif pattern == defined.get("years"):
        found = _YEARS.match(value.strip())
        if found:
            yield f"{found.group(1)}-{found.group(2) or ''}"
    elif path[:1] == ("trouble_codes",):
        yield value.strip().upper()


def _dates(value: str) -> Iterator[str]:
    found = _DATE.match(value)
    if found:
        with suppress(ValueError):
            yield date(int(found.group(1)), int(found.group(3)), int(found.group(4))).isoformat()


def _numbers(value: str) -> Iterator[str]:
    """``.5`` and ``9,5``. With three figures behind it a comma may be one between thousands."""
    found = _POINT.match(value)
    if found:
        yield f"{found.group(1)}{found.group(2) or '0'}.{found.group(3)}"


MESSAGES = {"form": Told("`{found}` is written `{form}`")}
"""Of what is mended: what is wrong is said by the code of the problem."""

RULE = rule(
    __name__,
    __doc__,
    Severity.ERROR,
    already_read(__name__),
    messages=MESSAGES,
    fixer=Fixer("normal-form", Safety.VALUE, Turn.VALUES, find),
)
