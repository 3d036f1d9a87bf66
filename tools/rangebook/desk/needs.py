"""What is needed as JSON data: the kits of an answer in the fixed form, parts, pieces and work under keys of their own."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from rangebook.book.model import Need
from rangebook.fitting.kit_contents import Needed
from rangebook.reasons.codes import Also


def needs_data(kits: Iterable[Needed], also: Iterable[Also]) -> list[dict[str, Any]]:
    """What an answer needs: first the kits, then what else, in the order in which it is asked for."""
    return [*({"kit": one.kit, "seal": one.seal, "blanks": one.blanks} for one in kits), *map(_also, also)]


def _also(one: Also) -> dict[str, Any]:
    """``part``, ``item``, ``work``, ``set`` or ``assembly`` with what is stated of it; a seal, blanking plugs or a kit that the book does
    not have in the form of kits."""
    if one.kind in ("kit", "seal", "blanks"):
        return {"kit": None, "seal": None, "blanks": None, one.kind: one.what if one.kind == "kit" else int(one.what)}
    if one.kind == "work":
        return {"work": one.what, "with": one.using, "note": one.note}
    if one.kind in ("part", "item"):
        return {one.kind: one.what, "count": one.how_many, "once": one.once, "note": one.note}
    return {one.kind: one.what}


def need_data(need: Need) -> dict[str, Any]:
    """One need as an entry states it; ``None`` is not stated."""
    return {
        "kit": need.kit,
        "seal": need.seal,
        "blanks": need.blanks,
        "part": need.part,
        "item": need.item,
        "count": need.count,
        "once": need.once,
        "work": need.work,
        "with": need.using,
        "note": need.note,
    }
