"""Where things are on the site: addresses from its top, without a leading slash, and the anchors within a page.

Anchors of ours begin with a capital letter. Those of headings in prose never do, so the two cannot meet.
"""

from __future__ import annotations

import hashlib
import re
from functools import lru_cache
from urllib.parse import urlencode

from rangebook.book.model import Part
from rangebook.fitting.seats import Seat
from rangebook.reading.files import is_reserved

_PLAIN = re.compile(r"[^A-Za-z0-9-]")
_LONGEST = 120
"""Characters of a file's name without its ending; file systems take 255 bytes."""


def anchor(text: str) -> str:
    """Text as part of an anchor: letters, digits and hyphens stay, every other character becomes ``_`` and its code."""
    return _PLAIN.sub(lambda found: f"_{ord(found.group()):x}", text)


@lru_cache(maxsize=65_536)
def file_name(text: str) -> str:
    """A name as the name of a file, each its own: one that would be too long is cut, with what tells it from others behind it."""
    name = anchor(text)
    if is_reserved(name):
        return f"{name}_"  # which no other text is made to: there the code of a character follows
    if len(name) <= _LONGEST:
        return name
    return f"{name[:_LONGEST]}-{hashlib.sha256(text.encode()).hexdigest()[:16]}"


def family_url(family: str) -> str:
    """The page of a switch family, by its id."""
    return f"switches/{family}/"


def connector_url(connector: str) -> str:
    """The page of a connector, by its id."""
    return f"connectors/{connector}/"


def kit_url(kit: str) -> str:
    """The page of a kit, by its id."""
    return f"kits/{kit}/"


def part_anchor(part: Part) -> str:
    """The anchor of a part's row on its family's page, and of its design on its own."""
    return f"Part-{anchor(part.key)}"


def part_url(part: Part) -> str:
    """The page of a part, by its number as it is compared."""
    return f"parts/{file_name(part.key)}/"


def seat_id(seat: Seat) -> str:
    """A seat's name within its family: its plug, the part it came with, its lever where that is not the family's, and the kits with which
    its plug has been renewed."""
    return "-".join((_built_id(seat), *(anchor(kit.id) for kit in seat.renewal)))


def built_key(seat: Seat) -> str:
    """The name within the book of the seat with the plug that the vehicle was built with."""
    return f"{seat.family.id}/{_built_id(seat)}"


def _built_id(seat: Seat) -> str:
    lever = "" if seat.positions == seat.family.positions else f"-{anchor(''.join(seat.positions))}"
    return f"{anchor(seat.named_plug)}-{anchor(seat.original.key)}{lever}"


def seat_key(seat: Seat) -> str:
    """A seat's name within the book: in data, and in the address of whatever shows one."""
    return f"{seat.family.id}/{seat_id(seat)}"


def seat_anchor(seat: Seat) -> str:
    """The anchor of a seat on its family's page."""
    return f"Seat-{_built_id(seat)}"


def seat_url(seat: Seat) -> str:
    """A seat's place on its family's page."""
    return f"{family_url(seat.family.id)}#{seat_anchor(seat)}"


def proof_page_url(part: Part) -> str:
    """The proof sheet of a part."""
    return f"prove/?{urlencode({'part': part.number})}"


def lever_page_url(part: Part) -> str:
    """The schematic of a part, with its lever to slide."""
    return f"lever/?{urlencode({'part': part.number})}"


def label_page_url(part: Part) -> str:
    """The label of a part for its bin."""
    return f"label/?{urlencode({'part': part.number})}"


def proof_url(family: str) -> str:
    """The client data with the proof of each part of a family."""
    return f"data/proof/{family}.json"


def lever_url(family: str) -> str:
    """The client data with what a meter shows on each part of a family."""
    return f"data/lever/{family}.json"


def compare_url(family: str) -> str:
    """The client data with the parts on a family's plugs laid over each other."""
    return f"data/compare/{family}.json"


def lines_url(family: str) -> str:
    """The client data with a family's entry as it stands in its file."""
    return f"data/lines/{family}.json"


def answers_url(family: str) -> str:
    """The client data with every answer that a family's parts and vehicles lead to."""
    return f"data/answers/{family}.json"
