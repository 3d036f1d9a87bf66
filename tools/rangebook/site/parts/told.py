"""What a part of a site has beside its own files: of which site it is, and what lies across families, to be joined with that of the other
parts. All of it is JSON, in a folder that the joined site has not got."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import asdict

from rangebook import __version__
from rangebook.book.build import Item
from rangebook.book.model import Kit
from rangebook.site.data.identify import part_of_table
from rangebook.site.data.pieces import is_large
from rangebook.site.facts.computed import Computed
from rangebook.site.offline.write import facts_of
from rangebook.site.output.folder import Folder
from rangebook.site.pages.kit import used_by
from rangebook.site.pages.worklists import other_lists, part_of_list
from rangebook.site.shared.compact import compact
from rangebook.site.shared.render import render
from rangebook.site.shared.shard import BOOK

FOLDER = "part-of-a-site"
PART_URL = f"{FOLDER}/part.json"
TABLE_URL = f"{FOLDER}/table.json"
TOLD_URL = f"{FOLDER}/told.json"
BOOK_URL = f"{FOLDER}/book.json"
"""In the part that has what is not of one entry."""

BY = "rangebook"
SEARCH_URL = "search/search_index.json"


def write_table(out: Folder, computed: Computed) -> None:
    """The table that identifies a switch, of this part."""
    out.json(TABLE_URL, part_of_table(computed))


def write_told(out: Folder, computed: Computed, used: Mapping[str, list[tuple[int, str]]], rows: Mapping[str, str], name: str) -> None:
    """Write the rest beside a finished part. ``used`` is what :func:`kits` gave, ``rows`` are those of the part's families in the
    interchange table, ``name`` is the book's."""
    shard = computed.shard
    of = {"edition": computed.edition.words, "book": _mark(computed, name), "part": shard.index, "of": shard.count}
    out.json(PART_URL, {"by": BY, "version": __version__, **of})
    out.json(TOLD_URL, {"measure": part_of_list(computed), "kits": used, "rows": rows})
    if shard.has(BOOK):
        out.json(
            BOOK_URL,
            {
                "facts": asdict(facts_of(computed, name)),
                "titles": [family.title for family in computed.book.families.values()],
                "large": is_large(computed),
                "worklists": other_lists(computed),
                "gone": dict(computed.gone),
                "kits": list(computed.book.kits),
                "units": computed.settings.units,
            },
        )


def _mark(computed: Computed, name: str) -> str:
    """What two parts of one site have in common: the edition, and all else that pages are made of."""
    settings = computed.settings
    said = [
        *(computed.edition.mark, name, computed.site_url, dict(settings.texts), dict(settings.colours)),
        *(
            [list(one) for one in computed.shelf],
            [computed.repository.edit, computed.repository.add],
            [commit.id for commit in computed.history.commits],
        ),
        [settings.logo[0], hashlib.sha256(settings.logo[1]).hexdigest()],
    ]
    return hashlib.sha256(compact(said).encode()).hexdigest()


def kits(computed: Computed, items: Iterable[Item]) -> dict[str, list[tuple[int, str]]]:
    """Id of a kit among some entries -> its seats in this part, by their places among all, as its page shows them."""
    found: dict[str, list[tuple[int, str]]] = {}
    for kit in items:
        if isinstance(kit, Kit) and kit.id in computed.kit_use:
            used = used_by(computed, kit).items()
            found[kit.id] = [
                (computed.seat_places[seat], render("_kit_seat.html", "../..", "", {"kit": kit, "seat": row}, computed.gone))
                for seat, row in used
            ]
    return found
