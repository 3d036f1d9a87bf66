"""QR codes (ISO/IEC 18004), never Micro QR: many readers in phones do not know that.

A code needs an address that a phone can go to. It is known only where ``site_url`` is set in ``mkdocs.yml``; without it a code holds
the number, and whoever prints it is told so.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any
from urllib.parse import quote, urlencode

import segno

from rangebook.site.facts.computed import Computed


@lru_cache(maxsize=50_000)
def modules(text: str) -> tuple[str, ...]:
    """The dark (1) and light (0) modules of a code, row by row, without its quiet zone."""
    made = segno.make(text, micro=False, error="m", boost_error=False)
    return tuple("".join("1" if dark else "0" for dark in row) for row in made.matrix)


def answer_address(site_url: str, number: str) -> str:
    """The address of the answer for a number on a published site."""
    return f"{site_url.rstrip('/')}/?{urlencode({'q': number}, quote_via=quote)}"


def code_of(computed: Computed, number: str) -> dict[str, Any]:
    """What the code of a number says, whether that is an address, and its modules: ``size`` and the rows end to end as a hex number."""
    found: dict[str, Any] | None = computed.codes.get(number)
    if found is not None:
        return found
    text = answer_address(computed.site_url, number) if computed.site_url else number
    rows = modules(text)
    return {"says": text, "address": bool(computed.site_url), "size": len(rows), "bits": f"{int(''.join(rows), 2):x}"}
