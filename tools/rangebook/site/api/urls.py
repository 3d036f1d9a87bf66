"""Where the files for other programs are, from the top of the site."""

from __future__ import annotations

ROOT = "api/v2/"
INDEX = f"{ROOT}index.json"
TABLE = f"{ROOT}interchange.csv"


def listing(kind: str) -> str:
    """All of a kind (``parts``, ``families``, ``connectors``, ``kits``, ``vehicles``)."""
    return f"{ROOT}{kind}.json"


def family(family_id: str) -> str:
    """A switch family with its parts and seats, by its id."""
    return f"{ROOT}families/{family_id}.json"


def schema(name: str) -> str:
    """The JSON Schema of one kind of file."""
    return f"{ROOT}schema/{name}.json"
