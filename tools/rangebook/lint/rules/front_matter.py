"""Front matter that is not there, or has no end.

The file begins with a line ``---``; the front matter follows, one list of ``key: value`` lines; a second line ``---``
ends it. One file holds one entry.

Why it matters: without the two lines nobody can tell what is stated and what is told, so the entry is missing from the
book until they are there.

Fails: the line that ends the front matter has been lost.

    # entries/kits/oval-9-renewal.md
    ---
    kind: kit
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal, nine-way oval to thirteen-way oval
    from: oval-9
    to: oval-13
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
    seals: [6]
    sources: [{kind: seen}]

    Crimp, do not solder.

Mended:

    # entries/kits/oval-9-renewal.md
    ---
    kind: kit
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal, nine-way oval to thirteen-way oval
    from: oval-9
    to: oval-13
    moves: {1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}
    seals: [6]
    sources: [{kind: seen}]
    ---

    Crimp, do not solder.
"""

from __future__ import annotations

from rangebook.lint.already_read import already_read
from rangebook.lint.rule import Severity, rule

RULE = rule(__name__, __doc__, Severity.ERROR, already_read(__name__))
