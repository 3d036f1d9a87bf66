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

from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.finding import Hit, Severity
from rangebook.lint.fixing.hints import hits
from rangebook.lint.fixing.menders import key_order
from rangebook.reading.entry import Entry
from rangebook.schema.store import KINDS

SEVERITY = Severity.HINT


def check_text(entry: Entry, context: TextContext) -> Iterator[Hit]:
    """Yield a hit at the first key that is out of order, in the entry and in each of its parts."""
    front = entry.front
    kind = front.get("kind") if front else None
    if front is None or kind not in KINDS:
        return
    top, part = key_order.wanted(context.schemas, kind)
    parts = front.get("parts")
    if not key_order.is_ordered(front, top) or (
        isinstance(parts, list) and any(isinstance(one, dict) and not key_order.is_ordered(one, part) for one in parts)
    ):
        yield from hits(entry, context, key_order.find, "move its lines up")
