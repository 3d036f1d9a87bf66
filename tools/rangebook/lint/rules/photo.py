"""A picture that is not there, is none, is too large, or is not put into words.

A picture stands in the folder `photos/` beside the entry, and in it in the folder with the entry's `id`. It is a JPEG, PNG or
WebP file of at most 8 MB. A JPEG has at most 50 million pixels; the others 16 million, for only a JPEG can be read smaller than it
is. `shows` says in at least three words what is to be seen on it; two pictures of an entry do not say the same.

Why it matters: people recognise a part by its picture first. Who cannot see it, or has no signal, has only the words; and a
file that is missing or broken leaves a hole in the page.

Fails:

    kind: switch
    photos:
      - {file: front.jpg, view: front, shows: front.jpg}

Mended:

    kind: switch
    photos:
      - {file: front.jpg, view: front, shows: "oval housing, latch up, the lever arm to the left"}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from rangebook.book import build
from rangebook.book.model import Family, Photo
from rangebook.lint.context import Pictures
from rangebook.lint.rule import Problem, Severity, Told, every_kind, problem, rule
from rangebook.reading.photos import FORMATS, photo_path

MOST_BYTES = 8_000_000
MOST_PIXELS = {"JPEG": 50_000_000, "PNG": 16_000_000, "WEBP": 16_000_000}
FEWEST_WORDS = 3

_WORD = re.compile(r"[^\W\d_]{2,}")
_SAYS_NOTHING = frozenset(["photo", "photograph", "picture", "image", "pic", "of", "the", "an", "in", "it", "here", "is", "this", "from"])


def photos_of(owner: build.Item) -> tuple[Photo, ...]:
    """The pictures of an entry, those of its parts too."""
    return (*owner.photos, *(photo for part in owner.parts for photo in part.photos)) if isinstance(owner, Family) else owner.photos


def check(owner: build.Item, context: Pictures) -> Iterator[Problem]:
    """Yield a finding at each picture of an entry, or of a part in it, that will not do."""
    said: dict[str, str] = {}
    for photo in photos_of(owner):
        wordless = _wordless(photo)
        same = said.setdefault(" ".join(photo.shows.casefold().split()), photo.file)
        if wordless:
            yield problem(owner, (*photo.path, "shows"), wordless, fewest=FEWEST_WORDS)
        elif same != photo.file:
            yield problem(owner, (*photo.path, "shows"), "same", other=same)
        yield from _check_file(owner, photo, context)


def _wordless(photo: Photo) -> str | None:
    if photo.file.rpartition(".")[0].casefold() in photo.shows.casefold() and len(photo.shows) <= len(photo.file) + 2:
        return "name"
    words = [word for word in _WORD.findall(photo.shows.casefold()) if word not in _SAYS_NOTHING]
    return None if len(words) >= FEWEST_WORDS else "too_little"


def _check_file(owner: build.Item, photo: Photo, context: Pictures) -> Iterator[Problem]:
    if context.photos is None:
        return
    place = photo_path(owner.entry.file, photo.file)
    found = context.photos.get(place)
    at = (*photo.path, "file")
    if found is None:
        yield problem(owner, at, "missing", place=place)
    elif found.outside:
        yield problem(owner, at, "link", place=place)
    elif found.kind is None:
        yield problem(owner, at, "no_picture", place=place, formats=tuple(FORMATS))
    elif found.bytes > MOST_BYTES:
        yield problem(owner, at, "bytes", place=place, megabytes=found.bytes / 1e6, most=MOST_BYTES / 1e6)
    elif found.width * found.height > MOST_PIXELS[found.kind]:
        most = MOST_PIXELS[found.kind] // 1_000_000
        yield problem(owner, at, "pixels", place=place, width=found.width, height=found.height, most=most)


_SHOWN = "say what is to be seen, for someone who cannot see it"

MESSAGES = {
    "name": Told("the name of the file does not say what the picture shows", _SHOWN),
    "too_little": Told("too little is said: at least {fewest} words that tell something", _SHOWN),
    "same": Told("says the same as {other}", "say what this one shows that the other does not"),
    "missing": Told("there is no {place}", "put the picture there, or take it out of the entry"),
    "link": Told("{place} is a link to somewhere else", "put the picture itself there"),
    "no_picture": Told("{place} is not a picture", "only {formats|comma}"),
    "bytes": Told("{place} has {megabytes|.1f} MB", "make it smaller: at most {most|.0f} MB"),
    "pixels": Told("{place} has {width} x {height} pixels", "make it smaller: at most {most} million pixels"),
}

RULE = rule(__name__, __doc__, Severity.ERROR, *every_kind(Pictures, check), messages=MESSAGES)
