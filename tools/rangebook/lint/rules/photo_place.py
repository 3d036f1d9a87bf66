"""A picture that tells where and when it was taken.

A JPEG of the book says nothing of the place and the time at which it was taken.

Why it matters: a telephone writes both into each picture, and the repository keeps them for everybody: whose yard the vehicle stood in, and
when nobody was at home.

Fails:

    kind: kit
    photos:
      - {file: bag.jpg, view: bag, shows: "a clear bag with a plug and two grey seals"}
and
    # entries/kits/photos/oval-9-renewal/bag.jpg
    /9j/4AAQSkZJRgABAQAAAQABAAD/4QB4RXhpZgAATU0AKgAAAAgAAgEyAAIAAAAUAAAAJoglAAQAAAABAAAAOgAAAAAyMDI2OjAxOjAyIDAzOjA0OjA1AAAC
    AAEAAgAAAAJOAAAAAAIABQAAAAMAAABYAAAAAAAAAAEAAAABAAAAAgAAAAEAAAADAAAAAf/bAEMA////////////////////////////////////////////
    ///////////////////////////////////////////AAAsIAAgACAEBEQD/xAAUAAEAAAAAAAAAAAAAAAAAAAAA/8QAFBABAAAAAAAAAAAAAAAAAAAAAP/a
    AAgBAQAAPwA//9k=

Mended:

    kind: kit
    photos:
      - {file: bag.jpg, view: bag, shows: "a clear bag with a plug and two grey seals"}
and
    # entries/kits/photos/oval-9-renewal/bag.jpg
    /9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAP//////////////////////////////////////////////////////////////////////////////////////
    wAALCAAIAAgBAREA/8QAFAABAAAAAAAAAAAAAAAAAAAAAP/EABQQAQAAAAAAAAAAAAAAAAAAAAD/2gAIAQEAAD8AP//Z
"""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book import build
from rangebook.lint.context import Pictures
from rangebook.lint.fixing.hints import FIX
from rangebook.lint.rule import Problem, Severity, Told, every_kind, problem, rule
from rangebook.lint.rules.photo import photos_of
from rangebook.reading.photos import photo_path


def check(owner: build.Item, context: Pictures) -> Iterator[Problem]:
    """Yield a finding at each picture of an entry, or of a part in it, that does."""
    for photo in photos_of(owner):
        place = photo_path(owner.entry.file, photo.file)
        found = (context.photos or {}).get(place)
        if found is not None and found.tells:
            yield problem(owner, (*photo.path, "file"), "tells", place=place, what=found.tells)


MESSAGES = {"tells": Told("{place} tells the {what|and} of the picture", ["take it out; ", FIX, ", and no byte of the picture is changed"])}

RULE = rule(__name__, __doc__, Severity.WARNING, *every_kind(Pictures, check), messages=MESSAGES)
