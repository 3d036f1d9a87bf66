"""Where something is known from and when it was last looked at, in one line for the answer."""

from __future__ import annotations

from collections.abc import Sequence

from rangebook.book.model import Source
from rangebook.words.book import source_words
from rangebook.words.catalogue import say
from rangebook.words.lists import sentence


def known_words(sources: Sequence[Source]) -> str:
    """Kinds of source in the order of the entry, then the latest day and who looked; without a full stop at its end."""
    if not sources:
        return say("answer.no_source")
    kinds = tuple(dict.fromkeys(source_words(one.kind) for one in sources))
    last = max((one for one in sources if one.on), key=lambda one: one.on or "", default=None)
    return sentence(say("answer.sources", kinds=kinds, on=last and last.on, by=last and last.by))
