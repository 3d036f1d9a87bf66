"""How the switches of a family are set, in words."""

from __future__ import annotations

from typing import Any

from rangebook.book.model import Family, Mount
from rangebook.site.shared.measures import torque
from rangebook.words.catalogue import say


def setting(family: Family) -> dict[str, Any]:
    """``set_in`` (a lever position), ``method``, ``torque`` in both units, ``cautions``; a value is ``None`` or empty where the
    entry does not say."""
    fitting = family.fitting
    if fitting is None:
        return {"set_in": None, "method": None, "torque": None, "cautions": []}
    return {
        "set_in": fitting.set_in,
        "method": fitting.method,
        "torque": torque(fitting.torque_nm) if fitting.torque_nm is not None else None,
        "cautions": list(fitting.cautions),
    }


def setting_lines(mount: Mount) -> list[str]:
    """What a mount says of its own beside its cautions, a line each: the torque of its bolts, in which position it is set, and how."""
    return [
        *([say("family_page.mount_torque", torque=torque(mount.torque_nm))] if mount.torque_nm is not None else []),
        *([say("family_page.mount_set_in", position=mount.set_in)] if mount.set_in else []),
        *([mount.method] if mount.method else []),
    ]
