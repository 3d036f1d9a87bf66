"""What changed in the book, day by day."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import PurePosixPath
from typing import Any

from rangebook.book.model import Connector, Family, Kit
from rangebook.desk.impact.phrases import vehicle_words
from rangebook.reading.git import Commit
from rangebook.revisions.past import PastChange, past_changes
from rangebook.revisions.vehicles import VehicleChange
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.history import FEED_URL, MOST, anchor_of, how_words
from rangebook.site.pages import Page
from rangebook.site.shared import urls
from rangebook.words.catalogue import say


def pages(computed: Computed) -> Iterator[Page]:
    """The one page."""
    yield Page(
        source="history.md",
        title=say("history_page.title"),
        template="history.html",
        data=lambda: history_data(computed),
        about=say("history_page.about"),
    )


MOST_TOLD = 8
"""Of the vehicles that a change tells something else so many are named."""


def history_data(computed: Computed) -> Mapping[str, Any]:
    """The changes by day; ``reason`` says why there are none, and ``feed`` is then empty. Beside them the
    numbers that are withdrawn at present."""
    history = computed.history
    past = {one.commit: one.vehicles for one in _past(computed)}
    days: dict[str, list[dict[str, Any]]] = {}
    for one in history.commits:
        rows = [_row(computed, file, how) for file, how in one.files]
        change = {"anchor": anchor_of(one), "id": one.id[:12], "subject": _plain(one), "rows": rows, "compared": one.id in past}
        days.setdefault(one.when[:10], []).append({**change, **_told(past.get(one.id))})
    return {
        "days": list(days.items()),
        "reason": history.none,
        "feed": FEED_URL if history.commits else None,
        "most": MOST if len(history.commits) == MOST else None,
        "withdrawn": list(_withdrawn(computed)),
    }


def _past(computed: Computed) -> Iterator[PastChange]:
    commits = [one.id for one in computed.history.commits]
    return past_changes(computed.loaded, computed.fitter, commits) if commits else iter(())


def _told(vehicles: Sequence[VehicleChange] | None) -> dict[str, Any]:
    """What vehicles were told before a change and are told since, in words; ``None`` where that was not compared."""
    if vehicles is None:
        return {"told": None, "more": 0}
    return {"told": [vehicle_words(one) for one in vehicles[:MOST_TOLD]], "more": max(0, len(vehicles) - MOST_TOLD)}


def _withdrawn(computed: Computed) -> Iterator[Mapping[str, str]]:
    """Every number that must not be fitted any more, by family; the book keeps it, and says so to whoever has one in the hand."""
    for family in computed.book.families.values():
        for part in family.parts:
            if part.status == "withdrawn":
                yield {"number": part.number, "url": urls.part_url(part), "title": family.title}


def _plain(commit: Commit) -> str:
    return "".join(sign if sign.isprintable() else "\ufffd" for sign in commit.subject) or commit.id[:12]


def _row(computed: Computed, file: str, how: str) -> dict[str, Any]:
    """One entry: with its title and the way to its page where the book has it now, else by its file."""
    path = PurePosixPath(file)
    book, stem = computed.book, path.stem
    indexes: Mapping[str, tuple[Mapping[str, Family | Connector | Kit], Callable[[str], str]]] = {
        "switches": (book.families, urls.family_url),
        "connectors": (book.connectors, urls.connector_url),
        "kits": (book.kits, urls.kit_url),
    }
    index, url = indexes[path.parent.name]
    owner = index.get(stem)
    return {"how": how_words(how), "title": owner.title if owner else f"{path.parent.name}/{stem}", "url": url(stem) if owner else None}
