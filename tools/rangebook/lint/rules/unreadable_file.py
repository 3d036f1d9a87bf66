"""A file that cannot be read as text.

The file can be opened, is no link, is no larger than 1 MiB, is UTF-8, and holds no character that cannot be seen but moves the text
about: control characters, and the line ends that YAML sees and an editor does not (U+0085, U+2028, U+2029).

Why it matters: a file that cannot be read is missing from the book, and what it says is missing from every answer. An
unseen character can break a line where nobody sees it, or make two numbers that look alike two different ones.

Fails: between `Plug` and `renewal` stands U+2028, a line end that no editor shows.

    kind: kit
    title: Plug\u2028renewal, nine-way oval to thirteen-way oval

Mended: the place is typed anew.

    kind: kit
    title: Plug renewal, nine-way oval to thirteen-way oval
"""

from __future__ import annotations

from rangebook.lint.already_read import already_read
from rangebook.lint.rule import Severity, rule

RULE = rule(__name__, __doc__, Severity.ERROR, already_read(__name__))
