"""The browser's code is in rooms, each for what a person does. What a script imports lies beside it or in another room, and no circle
leads back: neither among scripts nor among rooms."""

from __future__ import annotations

import posixpath
import re
from graphlib import TopologicalSorter
from pathlib import Path

from rangebook.site.shared.scripts import CLIENT, needed, sent

IMPORT = re.compile(r"""(?:^import|\bfrom|\bimport\()\s*["'](\.[^"']+)["']""", re.MULTILINE)
COMMENT = re.compile(r"/\*\*.*?\*/", re.DOTALL)
"""In which types are imported, which are not there any more when a script runs."""


def scripts() -> dict[str, str]:
    """Path in the client -> text, without what came from elsewhere."""
    found = {path.relative_to(CLIENT).as_posix(): path.read_text("utf-8") for path in CLIENT.rglob("*.js")}
    return {name: text for name, text in found.items() if not name.startswith("vendor/")}


def imports(name: str, text: str) -> set[str]:
    """The scripts that one asks for."""
    return {posixpath.normpath(posixpath.join(posixpath.dirname(name), one)) for one in IMPORT.findall(text)}


def room(name: str) -> str:
    """The folder that a script is in."""
    return name.partition("/")[0]


NO_ROOMS = {"words", "types"}
"""What every room has a share in."""


def test_every_script_is_in_a_room() -> None:
    assert len(scripts()) > 30
    assert all("/" in name for name in scripts())


def test_no_circle_among_scripts() -> None:
    known = scripts()
    graph = {name: imports(name, COMMENT.sub("", text)) for name, text in known.items()}
    missing = {one for wanted in graph.values() for one in wanted if not (CLIENT / one).is_file()}
    assert not missing
    list(TopologicalSorter(graph).static_order())  # raises CycleError


def test_no_circle_among_rooms() -> None:
    graph: dict[str, set[str]] = {}
    for name, text in scripts().items():
        if room(name) not in NO_ROOMS:
            graph.setdefault(room(name), set()).update({room(one) for one in imports(name, text)} - {room(name)} - NO_ROOMS)
    assert len(graph) > 8
    list(TopologicalSorter(graph).static_order())
    assert not graph["shared"], "what all rooms share needs none of them"


def test_what_is_sent_is_the_same_but_for_comments() -> None:
    """No text of a script looks like the comment that is left out, and each line keeps its number."""
    for name, text in scripts().items():
        given = sent(CLIENT / name)
        assert given.count("\n") == text.count("\n"), name
        left = [(one, other) for one, other in zip(text.split("\n"), given.split("\n"), strict=True) if one != other]
        assert all(re.match(r"\s*(?:/\*\*|\*)", one) and not other for one, other in left), name
    assert "@param" not in sent(CLIENT / "shared/dom.js") and "@param" in (CLIENT / "shared/dom.js").read_text("utf-8")


def test_the_site_has_every_script_where_others_look_for_it(site_dir: Path) -> None:
    for name in scripts():
        assert (site_dir / "book" / name).read_text("utf-8") == sent(CLIENT / name)
    shipped = [path for path in CLIENT.rglob("*.js") if "vendor" in path.parts]
    assert shipped
    for path in shipped:
        assert (site_dir / "book" / path.relative_to(CLIENT)).read_bytes() == path.read_bytes()
    assert not list((site_dir / "book").rglob("*.ts"))


LATER = re.compile(r"""\bimport\(\s*["'](\.[^"']+)["']""")


def test_what_a_page_names_beforehand_is_all_that_its_script_imports_at_once() -> None:
    """For every script, with the other look at what is imported; what is imported by a call comes when it is called."""
    known = scripts()
    for name in known:
        wanted: set[str] = set()
        todo = [name]
        while todo:
            one = todo.pop()
            text = COMMENT.sub("", known[one]) if one in known else ""
            called = {posixpath.normpath(posixpath.join(posixpath.dirname(one), two)) for two in LATER.findall(text)}
            todo += (fresh := imports(one, text) - called - wanted - {name})
            wanted |= fresh
        assert {one for one in needed([name]) if not one.startswith("vendor/")} == {
            one for one in wanted if not one.startswith("vendor/")
        }, name
