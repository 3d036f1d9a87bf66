"""An edition of a book -> the files of its bundle, in a folder."""

from __future__ import annotations

from pathlib import Path

from rangebook.site.bundle.archive import below
from rangebook.site.bundle.database import database
from rangebook.site.bundle.printed import printed
from rangebook.site.bundle.sums import SUMS, sums
from rangebook.site.bundle.tables import as_csv, description, tables
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import Checked

LAUNCHER = '''#!/usr/bin/env python3
"""Show the book in this folder to this machine alone: `python3 open.py`. Stop it with Ctrl-C."""

import functools
import http.server
import pathlib
import webbrowser

site = pathlib.Path(__file__).resolve().parent / "site"
handler = functools.partial(http.server.SimpleHTTPRequestHandler, directory=str(site))
with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
    address = f"http://localhost:{server.server_port}/"
    print(address)
    webbrowser.open(address)
    server.serve_forever()
'''


def make(book: Checked, folder: Path, name: str) -> None:
    """Write everything into an empty folder: ``site/``, ``data/`` as CSV and SQLite with their description, ``book.pdf`` to print,
    ``open.py``, and the list of hashes last. Raises as :func:`rangebook.site.generator.build.build_site`."""
    computed = build_site(book, folder / "site").computed
    made = tables(computed)
    data = folder / "data"
    data.mkdir()
    for one in made:
        (data / f"{one.name}.csv").write_bytes(as_csv(one).encode("utf-8"))
    (data / "datapackage.json").write_text(description(name, made), "utf-8")
    (data / "book.sqlite").write_bytes(database(made))
    (folder / "book.pdf").write_bytes(printed(computed, name))
    (folder / "open.py").write_text(LAUNCHER, "utf-8")
    (folder / SUMS).write_bytes(sums(below(folder)))
