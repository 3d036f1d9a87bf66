"""Where the files for other programs are, from the top of the site."""

from __future__ import annotations

from rangebook.site.shared.urls import file_name

ROOT = "api/v1/"
INDEX = f"{ROOT}index.json"
TABLE = f"{ROOT}interchange.csv"


def listing(kind: str) -> str:
    """The list of all of a kind (``parts``, ``families``, ``connectors``, ``kits``, ``vehicles``)."""
    return f"{ROOT}{kind}.json"


def part(key: str) -> str:
    """A part, by its number as it is compared: capitals, without spaces, hyphens, dots and slashes."""
    return f"{ROOT}parts/{file_name(key)}.json"


def family(family_id: str) -> str:
    """A switch family, by its id."""
    return f"{ROOT}families/{family_id}.json"


def connector(connector_id: str) -> str:
    """A connector, by its id."""
    return f"{ROOT}connectors/{connector_id}.json"


def kit(kit_id: str) -> str:
    """A kit, by its id."""
    return f"{ROOT}kits/{kit_id}.json"


def vehicle(name: str) -> str:
    """A vehicle, by its name."""
    return f"{ROOT}vehicles/{file_name(name)}.json"


def table(family_id: str) -> str:
    """The interchange table of one family."""
    return f"{ROOT}interchange/{family_id}.csv"


def schema(name: str) -> str:
    """The JSON Schema of one kind of file."""
    return f"{ROOT}schema/{name}.json"
