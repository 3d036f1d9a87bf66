"""What of two lists of an entry is the same thing, said otherwise: by its name where it has one, else by what is left over."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from typing import Any

Pair = tuple[int | None, int | None]
"""Places of one thing in the old and in the new list; ``None`` where it is not there."""

_YEARS = re.compile(r"(\d{4})\s*(-)?\s*(\d{4})?")
_STILL_BUILT = 9999

Stated = Mapping[str, Any]
"""An application as its entry has it."""


def paired(old: Sequence[Any], new: Sequence[Any], names: Iterable[Callable[[Any], Hashable]], loosely: bool = False) -> list[Pair]:
    """Every place of both lists once: pairs of those that ``names`` call the same, the surest name first. A name that is ``None`` is
    nobody's. With ``loosely`` what is left over is paired as it comes."""
    found: list[Pair] = []
    one, other = list(range(len(old))), list(range(len(new)))
    for name in names:
        by_name: dict[Hashable, list[int]] = {}
        for index in one:
            if (called := name(old[index])) is not None:
                by_name.setdefault(called, []).append(index)
        for index in list(other):
            same = by_name.get(name(new[index]))
            if same:
                was = same.pop(0)
                found.append((was, index))
                one.remove(was)
                other.remove(index)
    if loosely:
        couples = list(zip(one, other, strict=False))
        found += couples
        one, other = one[len(couples) :], other[len(couples) :]
    found += [(index, None) for index in one]
    found += [(None, index) for index in other]
    return sorted(found, key=lambda pair: (pair[1] if pair[1] is not None else pair[0], pair[1] is None))


def paired_vehicles(old: Sequence[Stated], new: Sequence[Stated]) -> list[Pair]:
    """The vehicles of one family: word by word, by name and years, by name and plug; then by name alone, where their years meet."""
    found = paired(old, new, (_whole, _named, _on_plug))
    alone = [was for was, now in found if now is None and was is not None]
    fresh = [now for was, now in found if was is None and now is not None]
    for was in alone:
        now = next((at for at in fresh if old[was].get("vehicle") == new[at].get("vehicle") and _meet(old[was], new[at])), None)
        if now is not None:
            fresh.remove(now)
            found = [pair for pair in found if pair not in ((was, None), (None, now))] + [(was, now)]
    return found


def _whole(stated: Stated) -> Hashable:
    return repr(sorted(stated.items(), key=lambda item: item[0]))


def who(stated: Stated) -> tuple[str | None, ...]:
    """What tells one vehicle from the others of a book."""
    return tuple(
        None if stated.get(key) is None else " ".join(str(stated[key]).split())
        for key in ("vehicle", "years", "engine", "drive", "gearbox")
    )


def _named(stated: Stated) -> Hashable:
    return who(stated)


def _on_plug(stated: Stated) -> Hashable:
    return who(stated)[0], stated.get("plug"), stated.get("came_with")


def years_of(stated: Stated) -> tuple[int, int] | None:
    """The first and the last model year; ``None`` where they are not stated."""
    found = _YEARS.match(str(stated.get("years", "")))
    if not found:
        return None
    first = int(found.group(1))
    return first, int(found.group(3)) if found.group(3) else _STILL_BUILT if found.group(2) else first


def _meet(one: Stated, other: Stated) -> bool:
    a, b = years_of(one), years_of(other)
    return a is None or b is None or (a[0] <= b[1] and b[0] <= a[1])


def reaches_further(old: Stated, new: Stated) -> bool:
    """Whether an application now stands for vehicles that it did not stand for: of more years, or of months that it left out."""
    was, now = years_of(old), years_of(new)
    if was is not None and (now is None or now[0] < was[0] or now[1] > was[1]):
        return True
    since, until = ((str(one.get(key) or "") for one in (old, new)) for key in ("from", "to"))
    (old_since, new_since), (old_until, new_until) = since, until
    return bool((old_since and new_since < old_since) or (old_until and (not new_until or new_until > old_until)))


def items(pairs: Iterable[Pair], old: Sequence[Any], new: Sequence[Any]) -> Iterator[tuple[Any, Any, int | None, int | None]]:
    """What pairs stand for, ``None`` for what is not there, with their places."""
    for was, now in pairs:
        yield None if was is None else old[was], None if now is None else new[now], was, now
