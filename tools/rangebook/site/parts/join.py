"""Parts of a site -> the site, the same to the byte as if it had been built in one."""

from __future__ import annotations

import json
import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from markupsafe import Markup

from rangebook.site.api.write import write_whole_table
from rangebook.site.data.identify import table_files
from rangebook.site.facts.edition import marked
from rangebook.site.offline.write import Facts, write_offline
from rangebook.site.output import manifest
from rangebook.site.output.folder import Folder, found_in
from rangebook.site.output.keep import keep
from rangebook.site.output.swap import beside, put_in_place
from rangebook.site.pages.kit import JOINED as KIT_SEATS
from rangebook.site.pages.worklists import JOINED as MEASURED
from rangebook.site.pages.worklists import joined as measured
from rangebook.site.parts.table import joined as joined_table
from rangebook.site.parts.told import BOOK_URL, BY, FOLDER, PART_URL, SEARCH_URL, TABLE_URL, TOLD_URL
from rangebook.site.shared.compact import compact
from rangebook.site.shared.render import render
from rangebook.site.shared.shard import BOOK, Shard
from rangebook.words.measures import put_first

_ENTRIES = ("switches/", "connectors/", "kits/")
_WORKLISTS = "worklists/index.html"


class NotJoinedError(Exception):
    """The parts are no whole site, or the site must not go there; the message says why. Nothing was changed."""


@dataclass(frozen=True)
class Part:
    """A part of a site in its folder. ``book`` tells the parts of one site from those of another."""

    folder: Path
    shard: Shard
    book: str
    edition: str
    files: tuple[str, ...]

    @property
    def called(self) -> str:
        """It in words."""
        return f"{self.folder} is part {self.shard.index} of {self.shard.count}"


def join(folders: Sequence[Path], target: Path) -> int:
    """Join parts in any order into the site ``target``; what no build wrote there stays. How many pages it has. Raises
    :class:`NotJoinedError` or ``OSError``; ``target`` is then as it was before."""
    parts = fitting([read_part(folder) for folder in folders])
    target = _minded(target, parts)
    with beside(target) as made:
        try:
            foreign = manifest.foreign(target, made) if target.is_dir() else []  # before the work, not after it
            _copy(parts, made)
            _across(parts, made)
            manifest.write(made)
            foreign = manifest.foreign(target, made) if target.is_dir() else foreign
        except manifest.NotASiteError as error:
            raise NotJoinedError(f"{target} {error}: take that away, or name another folder with --site-dir") from error
        pages = sum(1 for _ in made.rglob("index.html"))
        keep(foreign, target, made)
        put_in_place(made, target)
    return pages


def read_part(folder: Path) -> Part:
    """The part in a folder. Raises :class:`NotJoinedError`."""
    try:
        said = json.loads((folder / PART_URL).read_text("utf-8"))
        files = json.loads((folder / manifest.NAME).read_text("utf-8"))["files"]
        if said["by"] != BY:
            raise NotJoinedError(f"{folder} is no part of a site")
        part = Part(folder, Shard(int(said["part"]), int(said["of"])), str(said["book"]), str(said["edition"]), tuple(map(str, files)))
    except (OSError, ValueError, KeyError, TypeError) as error:
        raise NotJoinedError(f"{folder} is no part of a site: `rangebook build --shard I/N` makes one") from error
    for name in part.files:
        path = folder / name
        # What a folder is said to hold came from another machine: no way out of it, and no link.
        if not path.resolve().is_relative_to(folder.resolve()) or path.is_symlink() or not path.is_file():
            raise NotJoinedError(f"{part.called}, and {name} is not in it as it was built: build that part again")
    return part


def fitting(parts: Sequence[Part]) -> list[Part]:
    """The parts in their order, if they are one whole site. Raises :class:`NotJoinedError`."""
    first = parts[0]
    by_place: dict[int, Part] = {}
    for part in parts:
        if part.shard.count != first.shard.count:
            raise NotJoinedError(f"{first.called}, {part.called}: build all parts with the same N")
        if part.book != first.book:
            same = part.edition == first.edition
            why = "other settings, stock or history" if same else f"another edition or another book ({part.edition}; {first.edition})"
            raise NotJoinedError(f"{part.called}, but of {why} than {first.folder}: build both from the same files")
        if part.shard.index in by_place:
            raise NotJoinedError(f"{part.called}, and so is {by_place[part.shard.index].folder}: give each part once")
        by_place[part.shard.index] = part
    missing = [str(at) for at in range(1, first.shard.count + 1) if at not in by_place]
    if missing:
        raise NotJoinedError(f"of {first.shard.count} parts {', '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing")
    return [by_place[at] for at in sorted(by_place)]


def _minded(target: Path, parts: Sequence[Part]) -> Path:
    target = target.resolve()
    for part in parts:
        folder = part.folder.resolve()
        if target == folder or target in folder.parents or folder in target.parents:
            raise NotJoinedError(f"{target} and the part {part.folder} lie one in the other: name another folder with --site-dir")
    if target.is_file():
        raise NotJoinedError(f"{target} is a file: name a folder with --site-dir")
    return target


def _copy(parts: Sequence[Part], made: Path) -> None:
    whose: dict[str, Part] = {}
    folders: set[Path] = set()
    for part in parts:
        for name in part.files:
            if name == SEARCH_URL or name.startswith(f"{FOLDER}/"):
                continue
            if name in whose:
                raise NotJoinedError(f"{part.folder} and {whose[name].folder} both have {name}: build them again")
            whose[name] = part
            path = made / name
            if path.parent not in folders:
                path.parent.mkdir(parents=True, exist_ok=True)
                folders.add(path.parent)
            shutil.copyfile(part.folder / name, path)


def _across(parts: Sequence[Part], made: Path) -> None:
    """What lies across families, and what is said of the whole site."""
    (of_book,) = (part for part in parts if part.shard.has(BOOK))
    book = _json(of_book, BOOK_URL)
    facts = Facts(**book["facts"])
    put_first(book["units"])
    told = [_json(part, TOLD_URL) for part in parts]
    out = Folder(made)
    table = joined_table([_json(part, TABLE_URL) for part in parts], facts.families)
    for address, text in table_files(facts.edition[1], table, book["titles"], book["large"]):
        out.text(address, text)
    _put(made / _WORKLISTS, MEASURED, _worklists(told, book))
    for kit in book["kits"]:
        fragments = sorted(tuple(one) for part in told for one in part["kits"].get(kit, ()))
        used = render("_kit_used.html", "../..", "", {"seats": [], "fragments": [Markup(text) for _, text in fragments]}, book["gone"])
        _put(made / f"kits/{kit}/index.html", KIT_SEATS, used)
    out.text(SEARCH_URL, _search(of_book, parts))
    write_whole_table(out, facts.families, {family: rows for part in told for family, rows in part["rows"].items()})
    write_offline(out, {one.address: one for one in found_in(made)}, facts)


def _worklists(told: Sequence[Mapping[str, Any]], book: Mapping[str, Any]) -> str:
    data = {**measured([one["measure"] for one in told]), **book["worklists"]}
    return render("worklists.html", "..", "", data, book["gone"])


def _search(of_book: Part, parts: Sequence[Part]) -> str:
    """The theme's index of prose: of what is of no entry in the order of its pages, then of entries in the order of their addresses."""
    docs: list[Mapping[str, Any]] = []
    entries: list[Mapping[str, Any]] = []
    for part in parts:
        for doc in json.loads((part.folder / SEARCH_URL).read_text("utf-8"))["docs"]:
            (entries if doc["location"].startswith(_ENTRIES) else docs).append(doc)
    entries.sort(key=lambda doc: str(doc["location"].partition("#")[0]))
    index = json.loads((of_book.folder / SEARCH_URL).read_text("utf-8"))
    return compact({**index, "docs": [*docs, *entries]})


def _put(page: Path, mark: str, text: str) -> None:
    whole = page.read_text("utf-8")
    if whole.count(mark) != 1:
        raise NotJoinedError(f"{page.parent.name}/{page.name} of a part is not as it was built: build that part again")
    with page.open("w", encoding="utf-8", newline="") as file:
        file.write(marked(whole.replace(mark, text)))


def _json(part: Part, name: str) -> dict[str, Any]:
    try:
        found: dict[str, Any] = json.loads((part.folder / name).read_text("utf-8"))
    except (OSError, ValueError) as error:
        raise NotJoinedError(f"{part.called}, and {name} in it cannot be read: build that part again") from error
    return found
