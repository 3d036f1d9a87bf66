"""How the switches of a family are set, in words."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rangebook.book.model import Family, Fitting, Mount
from rangebook.mounting.torque import bolts_differ
from rangebook.site.shared.measures import torque
from rangebook.words.catalogue import say


def setting(family: Family) -> dict[str, Any]:
    """What is said of a whole family; no torque where its mounts have bolts of two sizes."""
    said = family.fitting
    if said is None:
        return {"set_in": None, "method": None, "torque": None, "cautions": []}
    return in_words(replace(said, torque_nm=None) if bolts_differ(family) else said)


def in_words(said: Fitting) -> dict[str, Any]:
    """``set_in`` (a lever position), ``method``, ``torque`` in both units, ``cautions``; a value is ``None`` or empty where it is not
    stated."""
    return {
        "set_in": said.set_in,
        "method": said.method,
        "torque": torque(said.torque_nm) if said.torque_nm is not None else None,
        "cautions": list(said.cautions),
    }


def setting_lines(mount: Mount) -> list[str]:
    """What a mount says of its own beside its cautions, a line each: the torque of its bolts, in which position it is set, and how."""
    return [
        *([say("family_page.mount_torque", torque=torque(mount.torque_nm))] if mount.torque_nm is not None else []),
        *([say("family_page.mount_set_in", position=mount.set_in)] if mount.set_in else []),
        *([mount.method] if mount.method else []),
    ]
