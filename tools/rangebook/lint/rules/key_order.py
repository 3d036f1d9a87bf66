"""Keys out of their order.

The keys of an entry, and those of each of its parts, stand in the order in which the page on the entry format lists them. Where a part
is written in one line, in ``{...}``, its order is free.

Why it matters: the eye looks for the number first and for the sources last. With the same order everywhere two parts can be read side
by side, and a reviewer sees what has changed and not what has moved.

Fails:

    kind: kit
    seals: [4, 6]
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
    sources: [{kind: seen}]
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal, nine-way oval to thirteen-way oval
    from: oval-9
    to: oval-13

Mended:

    kind: kit
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal, nine-way oval to thirteen-way oval
    from: oval-9
    to: oval-13
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
    seals: [4, 6]
    sources: [{kind: seen}]
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from rangebook.lint.context import TextContext
from rangebook.lint.fixing.edits import Edit, Fix
from rangebook.lint.fixing.fixer import Fixer, Safety, Turn
from rangebook.lint.fixing.hints import FIX, hints
from rangebook.lint.fixing.layout import Mapping, Node, Scalar, at
from rangebook.lint.fixing.page import Page
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, rule
from rangebook.reading.entry import Entry
from rangebook.schema.store import KINDS, Schemas

Path = tuple[str | int, ...]


def wanted(schemas: Schemas, kind: str) -> tuple[Sequence[str], Sequence[str]]:
    """The order of the keys of an entry of a kind, and that of the keys of a part (none where there are no parts)."""
    top = schemas.of(kind).get("properties", {})
    part = top.get("parts", {}).get("items", {}).get("properties", {})
    return list(top), list(part)


def first_astray(keys: Iterable[str], order: Sequence[str]) -> int | None:
    """The index of the first key that stands behind one which it should stand before."""
    furthest = -1
    for index, key in enumerate(keys):
        if key in order:
            here = order.index(key)
            if here < furthest:
                return index
            furthest = here
    return None


def find(page: Page) -> Iterator[Fix]:
    """Yield one fix for the entry and one for each part whose keys are out of order. Those written as ``{...}`` are left alone.

    Only lines are moved, each with what is said about it: the comment lines right above a key go with it, and so does what
    stands between it and the next one.
    """
    if page.layout is None or page.kind is None:
        return
    top, part = wanted(page.schemas, page.kind)
    # The parts first: their lines lie inside those that are moved for the whole entry, which then is a fix of another round.
    found = [fix for _, node in _parts(page.layout) if (fix := _fix(page, node, part))]
    if not found:
        found = [fix for fix in [_fix(page, page.layout, top)] if fix]
    yield from found


def _parts(root: Mapping) -> Iterator[tuple[int, Mapping]]:
    parts = at(root, ("parts",))
    for index, node in enumerate(getattr(parts, "items", ())):
        if isinstance(node, Mapping):
            yield index, node


def _fix(page: Page, node: Mapping, order: Sequence[str]) -> Fix | None:
    keys = [key.value for key, _ in node.pairs]
    astray = first_astray(keys, order)
    if node.flow or astray is None or any(key not in order for key in keys):
        return None
    start = node.pairs[0][0].start
    chunks = list(_chunks(page.text, node))
    inside = " " * (page.mark(start).column - 1)
    line = page.text.rfind("\n", 0, start) + 1
    before = page.text[line:start]  # the dash of a part, or nothing
    text = ""
    for place, index in enumerate(sorted(range(len(keys)), key=lambda one: order.index(keys[one]))):
        comments, body, rest = chunks[index]
        text += comments + (inside if place else before) + body + rest
    after = order.index(keys[astray])
    passed = next(key for key in keys[:astray] if order.index(key) > after)
    return Fix(
        node.pairs[astray][0].start,
        "order",
        (Edit(line, _line_end(page.text, _content_end(*node.pairs[-1])), text),),
        values={"astray": keys[astray], "passed": passed, "order": tuple(sorted(keys, key=order.index))},
    )


def _chunks(text: str, node: Mapping) -> Iterator[tuple[str, str, str]]:
    """For each key the comment lines above it, its own lines from the key on, and what follows them up to the next key's."""
    starts = [key.start for key, _ in node.pairs]
    ends = [_line_end(text, _content_end(key, value)) for key, value in node.pairs]
    comments = ""
    for index, start in enumerate(starts):
        between = text[ends[index] : text.rfind("\n", 0, starts[index + 1]) + 1] if index + 1 < len(starts) else ""
        lines = between.splitlines(keepends=True)
        cut = len(lines)
        while cut and lines[cut - 1].lstrip().startswith("#"):
            cut -= 1
        yield comments, text[start : ends[index]], "".join(lines[:cut])
        comments = "".join(lines[cut:])


def _content_end(key: Scalar, value: Node) -> int:
    return max(key.end, value.end)


def _line_end(text: str, offset: int) -> int:
    end = text.find("\n", offset)
    return len(text) if end < 0 else end + 1


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at the first key that is out of order, in the entry and in each of its parts."""
    front = entry.front
    kind = front.get("kind") if front else None
    if front is None or kind not in KINDS:
        return
    top, part = wanted(context.schemas, kind)
    parts = front.get("parts")
    if first_astray(front, top) is not None or (
        isinstance(parts, list) and any(isinstance(one, dict) and first_astray(one, part) is not None for one in parts)
    ):
        yield from hints(entry, context, find)


MESSAGES = {"order": Told("`{astray}` stands after `{passed}`; the order is {order|comma}", ["move its lines up; ", FIX])}

RULE = rule(
    __name__,
    __doc__,
    Severity.HINT,
    TextCheck(TextContext, check_text),
    messages=MESSAGES,
    fixer=Fixer("key-order", Safety.FORM, Turn.LINES, find),
)
