"""Every kit with the code on its label: what a pick list prints beside those of the switches."""

from __future__ import annotations

from typing import Any

from rangebook.site.facts.computed import Computed
from rangebook.site.facts.qr import code_of
from rangebook.site.shared import urls

KITS_URL = "data/kits.json"


def kits(computed: Computed) -> dict[str, Any]:
    """Kits by their normalised numbers."""
    return {
        kit.key: {"number": kit.number, "title": kit.title, "url": urls.kit_url(kit.id), "code": code_of(computed, kit.number)}
        for kit in computed.book.kits.values()
    }
