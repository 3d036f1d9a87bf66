"""A character in a value that nobody can see.

No value and no key holds a control or format character (Unicode's categories Cc and Cf), a separator of lines or paragraphs, or one that is
drawn as nothing, typed as it is or by an escape: zero-width spaces and joiners, soft hyphens, fillers, marks that choose between two
pictures of a sign, marks that turn the direction of writing, tabs, line ends in quotes. Text of several lines stands behind `|` or `>`.

Why it matters: what looks like one number or name is another one, and is not found; a mark that turns the writing round shows figures in an
order in which they do not stand.

Fails: a mark that turns the writing round, by its escape.

    kind: kit
    title: "Plug renewal \\u202e31-lavo"

Mended:

    kind: kit
    title: Plug renewal oval-13
"""

from __future__ import annotations

from rangebook.lint.already_read import already_read
from rangebook.lint.rule import Severity, rule

RULE = rule(__name__, __doc__, Severity.ERROR, already_read(__name__))
