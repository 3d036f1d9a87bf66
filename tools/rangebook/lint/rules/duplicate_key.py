"""The same key twice.

A key stands twice in one mapping. Each key may stand once; the second one is not read.

Why it matters: of two lists of contacts only one would count, and nobody would see which. A technician would be told
what an entry does not say.

Fails:

    kind: kit
    blanks: 3
    blanks: 2

Mended:

    kind: kit
    blanks: 2
"""

from __future__ import annotations

from rangebook.lint.already_read import already_read
from rangebook.lint.rule import Severity, rule

RULE = rule(__name__, __doc__, Severity.ERROR, already_read(__name__))
