"""How the switches of a family are set, in words."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rangebook.book.model import Family, Fitting, Mount
from rangebook.desk.setting import Setting
from rangebook.mounting.torque import bolts_differ
from rangebook.words.catalogue import say
from rangebook.words.measures import torque


def setting(family: Family) -> dict[str, Any]:
    """What is said of a whole family; no torque where its mounts have bolts of two sizes."""
    said = family.fitting
    if said is None:
        return {"set_in": None, "method": None, "torque": None, "cautions": []}
    return in_words(replace(said, torque_nm=None) if bolts_differ(family) else said)


def in_words(said: Fitting) -> dict[str, Any]:
    """``set_in`` (a lever position), ``method``, ``torque`` in both units, ``cautions``; a value is ``None`` or empty where it is not
    stated."""
    torques = [torque(said.torque_nm)] if said.torque_nm is not None else []
    for at_deg, own in said.bolts_nm if isinstance(said, Setting) else ():
        torques.append(say("family_page.bolt_torque", at_deg=at_deg, torque=torque(own)))
    return {
        "set_in": said.set_in,
        "method": " ".join(filter(None, (set_by_words(said.set_by), said.method))) or None,
        "torque": "; ".join(torques) or None,
        "cautions": list(said.cautions),
    }


def set_by_words(set_by: str | None) -> str:
    """By what it is set, as a sentence; empty where that is not stated."""
    return say("family_page.set_by", by=set_by) if set_by else ""


def setting_lines(mount: Mount) -> list[str]:
    """What a mount says of its own beside its cautions, a line each: the torque of its bolts, in which position it is set, and how."""
    return [
        *([say("family_page.mount_torque", torque=torque(mount.torque_nm))] if mount.torque_nm is not None else []),
        *([say("family_page.mount_set_in", position=mount.set_in)] if mount.set_in else []),
        *filter(None, (set_by_words(mount.set_by), mount.method)),
    ]
