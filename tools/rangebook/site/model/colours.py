"""A wire's colour as pages and scripts have it."""

from __future__ import annotations

from rangebook.site.drawings.wire_colours import wire_colour


def colour_row(code: str) -> list[str]:
    """The name of a wire's colour, then its base and its stripes for the swatch."""
    colour = wire_colour(code)
    return [colour.name, *([colour.base, *colour.stripes] if colour.base else [])]
