"""How data for the browser and for other programs is written."""

from __future__ import annotations

import json
from typing import Any


def compact(data: Any) -> str:
    """JSON without a space in it."""
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))
