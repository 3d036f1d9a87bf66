"""The one measurement that settles most, and how to take it, in words: the same in the terminal and on the site."""

from __future__ import annotations

from rangebook.desk.worklists import Measurement
from rangebook.words.book import how_words, work_words
from rangebook.words.catalogue import Words, say


def measure_words(found: Measurement) -> Words:
    """What to measure first, of what, how, and how many answers that settles."""
    what = say("answer.to_measure", what=work_words(found.what), name=found.name, how=how_words(found.how.code))
    return say(
        "answer.measure_most",
        what=what,
        settles=len(found.settles),
        waits=len(found.waits),
    )
