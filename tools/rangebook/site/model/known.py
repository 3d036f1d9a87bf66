"""Where something is known from and when it was last looked at, in one line for the answer."""

from __future__ import annotations

from collections.abc import Sequence

from rangebook.book.model import Source
from rangebook.words.book import source_words
from rangebook.words.lists import listed, sentence

NOTHING = "No source is stated: treat it as hearsay"


def known_words(sources: Sequence[Source]) -> str:
    """Kinds of source in the order of the entry, then the latest day and who looked; without a full stop at its end."""
    if not sources:
        return NOTHING
    kinds = listed(dict.fromkeys(source_words(one.kind) for one in sources))
    dated = [one for one in sources if one.on]
    if not dated:
        return f"{sentence(kinds)}; day not stated"
    last = max(dated, key=lambda one: one.on or "")
    return f"{sentence(kinds)}; last looked at {last.on}{f', {last.by}' if last.by else ''}"
