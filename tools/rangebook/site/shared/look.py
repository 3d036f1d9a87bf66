"""The book's own colours and its logo, laid over ours."""

from __future__ import annotations

from pathlib import PurePosixPath

from rangebook.reading.photos import stripped
from rangebook.schema.settings import COLOURS, Settings

LOGO = "book/logo"


def own_style(settings: Settings) -> str:
    """What stands behind our style sheet of colours; it goes before all that is said of them there, light or dark."""
    own = [f"--{key}: {colour};" for key, colour in settings.colours.items() if colour != COLOURS[key]]
    return f":root:root:root {{ {' '.join(own)} }}\n" if own else ""


def coloured(text: str, settings: Settings) -> str:
    """A drawing in our colours in the book's."""
    for key, colour in COLOURS.items():
        text = text.replace(colour, settings.colours[key])
    return text


def logo_address(settings: Settings) -> str:
    """Where the logo is; empty where there is none."""
    name, _ = settings.logo
    return f"{LOGO}{PurePosixPath(name).suffix.lower()}" if name else ""


def logo_file(settings: Settings) -> dict[str, bytes]:
    """Address -> bytes of the logo, without place and time; nothing where there is none."""
    address = logo_address(settings)
    return {address: stripped(settings.logo[1])} if address else {}
