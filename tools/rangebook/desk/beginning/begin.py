"""The files of a new book, as text by their paths."""

from __future__ import annotations

import json
from pathlib import Path

from rangebook.schema.settings import FILE

_HOME = Path(__file__).parent

FORGES = tuple(sorted(path.name for path in (_HOME / "forges").iterdir()))
"""The forges of git for which there is a workflow."""

LICENSE = "LICENSE"


def first_files(
    name: str, *, address: str = "", contact: str = "", region: str = "", forge: str = "", program: str = "", licensed: bool = True
) -> dict[str, str]:
    """What a new book called ``name`` starts with: its settings, an example of each kind of entry with comments, and what editors, git and
    a forge go by. ``program`` is what the forge's workflow installs, as pip takes it; ``licensed``: with a licence for the entries."""
    # JSON's quotes are YAML's.
    settings = {"name": name, "address": address, "contact": contact, "region": region}
    lines = ["format: 2", *(f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in settings.items() if value)]
    lines += ["# Over a book that you share with others (handbook, Books over each other):", "# layers: [{path: ../shared}]"]
    found = {
        FILE: "\n".join(lines) + "\n",
        "README.md": f"# {name}\n\nA book of gearbox range switches. [How to add to it](CONTRIBUTING.md).\n",
    }
    folders = [_HOME / "files", *([_HOME / "forges" / forge] if forge else [])]
    for folder in folders:
        for path in sorted(folder.rglob("*")):
            if path.is_file():
                found[path.relative_to(folder).as_posix()] = path.read_text("utf-8").replace("@PROGRAM@", program)
    if not licensed:
        del found[LICENSE]
    return found
