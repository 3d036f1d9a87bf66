"""Part numbers that differ in one character which is easily taken for another: O and 0, I, L and 1, B and 8, S and 5, Z and 2."""

from __future__ import annotations

from collections.abc import Iterable

from rangebook.book.numbers import look, normalise


class LookAlikes:
    """Known numbers, found again by a spelling in which exactly one character is its look-alike."""

    def __init__(self, numbers: Iterable[str]) -> None:
        self._by_fold: dict[str, list[tuple[str, str]]] = {}
        for number in numbers:
            key = normalise(number)
            self._by_fold.setdefault(look(key), []).append((key, number))

    def of(self, key: str) -> str | None:
        """The known number, as it is printed, that a normalised number is one such character away from.

        ``None`` where there is none, and where the number itself is known.
        """
        found = self._by_fold.get(look(key))
        if not found or any(known == key for known, _ in found):
            return None
        return next((number for known, number in found if differing(known, key) is not None), None)


def differing(known: str, key: str) -> int | None:
    """Where two keys of one length differ, if they differ in one place only."""
    places = [index for index, (a, b) in enumerate(zip(known, key, strict=True)) if a != b]
    return places[0] if len(places) == 1 else None
