"""More markup in the prose than can be shown.

Prose has bounds that nobody who writes about a switch comes near: how long it is, how many lines and headings it has, how often a sign
such as `[` or `*` stands in one paragraph, how deep lists and quotations are laid into each other. The first place beyond one of them is
told. What stands between the first and the last fence of code counts as one paragraph.

Why it matters: to turn ten thousand brackets into a page takes a quarter of a minute, and ten times as many take a hundred times as
long. Whoever builds the site waits, and so does everybody whose entry is checked on the same machine. Such prose is shown as plain text.

Fails: the quotation is laid into itself seven times.

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
    > > > > > > > > Crimp, do not solder.

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
    > Crimp, do not solder.
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.lint.context import TextContext
from rangebook.lint.prose import place
from rangebook.lint.rule import Problem, Severity, TextCheck, Told, problem_at, rule
from rangebook.reading.entry import Entry
from rangebook.reading.prose_bounds import beyond


def check_text(entry: Entry, context: TextContext) -> Iterator[Problem]:
    """Yield a finding at the first place beyond a bound."""
    found = beyond(entry.prose)
    if found:
        values = {"most": found.most, **({"sign": found.sign} if found.sign else {})}
        yield problem_at(entry, place(entry, found.offset), found.bound, **values)


_SHORTER = "write less of it, or keep it in a file elsewhere and link to that"
_PARTED = "part the paragraph by blank lines, or take some out"

MESSAGES = {
    "characters": Told("the prose is longer than {most} characters", _SHORTER),
    "lines": Told("the prose has more than {most} lines", _SHORTER),
    "headings": Told("the prose has more than {most} headings", "take some out"),
    "deep": Told("more than {most} marks of lists and quotations stand one behind the other", "lay them into each other less deep"),
    "sign": Told("more than {most} `{sign}` stand in the prose", _SHORTER),
    "looked_through": Told("so many brackets are left open that they are looked through for {most} characters", "close them"),
    "block_characters": Told("this paragraph is longer than {most} characters", _PARTED),
    "block_lines": Told("this paragraph has more than {most} lines", _PARTED),
    "block_sign": Told("more than {most} `{sign}` stand in this paragraph", _PARTED),
}

RULE = rule(__name__, __doc__, Severity.ERROR, TextCheck(TextContext, check_text), messages=MESSAGES)
