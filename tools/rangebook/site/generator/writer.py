"""The pages of the bay and all data, written piece by piece by several processes. Of MkDocs it has the templates' environment, and its
reading of prose that holds links."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable, Iterable, Iterator
from functools import cached_property
from importlib.metadata import version
from pathlib import Path
from types import SimpleNamespace
from typing import Any, NamedTuple

import jinja2
from markdown import Markdown
from material.plugins.search.plugin import SearchIndex  # type: ignore[import-untyped]
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page as MkDocsPage

from rangebook.book.build import Item
from rangebook.book.model import Family, Kit
from rangebook.desk.identify.table import Seen, seen_of
from rangebook.fitting.verdict import VerdictKind
from rangebook.lint.brought import points
from rangebook.reading.crew import Crew, processors
from rangebook.reading.prose_bounds import beyond
from rangebook.schema.store import shipped
from rangebook.site.api.data import Api
from rangebook.site.api.table import pack
from rangebook.site.api.write import write_book, write_families
from rangebook.site.data.every import for_writing, indexes, of_an_item, of_the_book
from rangebook.site.data.pieces import is_large
from rangebook.site.facts import photos
from rangebook.site.facts.computed import Computed
from rangebook.site.facts.history import FEED_URL, feed
from rangebook.site.facts.pieces import Piece
from rangebook.site.facts.qr import code_of
from rangebook.site.output.folder import Folder, Wrote
from rangebook.site.output.kept import Kept, Part
from rangebook.site.pages import Page, Shell, kit, worklists
from rangebook.site.pages.every import owner
from rangebook.site.parts.told import kits, write_table
from rangebook.site.prose import as_typed
from rangebook.site.shared import urls
from rangebook.site.shared.render import render, unindented
from rangebook.site.shared.shard import BOOK

_PACKAGE = Path(__file__).resolve().parents[2]
_LIBRARIES = ("mkdocs", "mkdocs-material", "markdown", "jinja2", "markupsafe", "pillow", "segno", "pymdown-extensions")
_OF_THE_BOOK = ("site_name", "site_description", "site_author", "copyright", "repo_name", "site_url", "repo_url", "edit_uri")


class Said(NamedTuple):
    """What is to be known of a piece beside its files: whether an answer in it is not known; what the search of the theme knows of its
    pages, by their addresses; what each of its parts may have been taken off, the codes of its kits, and of a site in parts their seats;
    the rows of each family in the interchange table."""

    open: bool
    searched: list[list[Any]]
    seen: dict[str, list[Any]]
    codes: dict[str, Any]
    kits: dict[str, list[tuple[int, str]]]
    rows: dict[str, str]


class Writer:
    """Writes into a new site's folder whatever is not the generator's own. ``around`` gives what stands in the shell of a page; ``kept``
    is what the last build left, ``pieces`` are the book's."""

    def __init__(
        self, config: MkDocsConfig, computed: Computed, pages: Iterable[Page], pieces: list[Piece], kept: Kept, around: Callable[..., Any]
    ) -> None:
        self._config, self._computed, self._pieces, self._kept, self._around = config, computed, pieces, kept, around
        self._pages: dict[str, list[Page]] = {}
        self._every = {page.source: page for page in pages}
        self._others: tuple[str, ...] = ()
        for page in self._every.values():
            if page.shell is Shell.BOOK:
                self._pages.setdefault(page.entry, []).append(page)
        self.site = Path(config.site_dir)
        self.items: dict[str, Item] = {item.entry.file: item for item in computed.book.items}
        self._at = {file: at for at, file in enumerate(self.items)}
        self._prose: dict[str, str] = {}
        self.searched: list[dict[str, Any]] = []
        self.kits: dict[str, list[tuple[int, str]]] = {}
        self.rows: dict[str, str] = {}
        self._env: jinja2.Environment | None = None
        self._markdown: Markdown | None = None
        self._crew: Crew[Any] | None = None
        self._todo: list[Piece] = []
        self._beside: list[Callable[[Folder], None]] = []
        self.amends = False
        """Whether nothing is written that is in the site already."""

    @cached_property
    def basis(self) -> str:
        """What every page goes by beside entries."""
        return basis(self._computed, self._config)

    def of_entry(self, env: jinja2.Environment, source: str) -> list[str]:
        """Write the page of one entry, by its file below ``entries/``, then what else there is for browsers of it. Gives their
        addresses; none where there is no such entry. ``env`` has the templates :func:`unindented`."""
        self._env = env
        item = self.items.get(f"entries/{source}")
        if item is None:
            return []
        out = Folder(self.site)
        for page in sorted(self._pages.get(item.entry.file, ()), key=lambda one: one.source != source):
            out.text(*self._page(page, self._computed))
        for address, text in of_an_item(self._computed, item):
            out.text(address, text)
        return [one.address for one in out.wrote]

    # What several processes do

    def begin(self, env: jinja2.Environment, others: Iterable[str], whole: bool) -> None:
        """Begin with the pieces; with what is ``whole`` for all pages too. ``others`` are the files that the site has beside our pages."""
        self._env, self._others, self._whole = unindented(env), tuple(others), whole
        self._taken = {piece.name: part for piece in self._pieces if (part := self.take(piece.name, self._key(piece)))}
        self._todo = [piece for piece in self._pieces if piece.name not in self._taken]
        if whole:
            # Here, where somebody hears of a link that leads nowhere; what is taken over was heard of when it was made.
            new = {file for piece in self._todo for file in piece.files}
            linked = (page for entry in sorted(new) for page in self._pages.get(entry, ()) if _is_linked(page))
            self._read(list(linked))
            # Before there are several processes: each of them has these then.
            for _ in photos.all_pictures(self._computed):
                pass
        self._beside = list(self._by_entries_alone())
        self._crew = Crew(len(self._todo) + len(self._beside), self._write, processors())

    def take(self, name: str, key: str) -> Part | None:
        """What the last build wrote for a piece, where that stays."""
        return self._kept.take(name, key) if self.amends else None

    def out(self) -> Folder:
        """The new site's folder, for one piece."""
        joined_later = (kit.JOINED, worklists.JOINED) if self._computed.shard.apart else ()
        return Folder(self.site, self._kept.there if self.amends else {}, joined_later)

    def finish(self, out: Folder) -> dict[str, Part]:
        """Have all pieces done; what was written for each. What goes by the whole book and by no answer is told to ``out``."""
        assert self._crew is not None
        done = list(self._crew.results())
        out.wrote += [one for part in done[len(self._todo) :] for one in part.wrote]
        made = {piece.name: part for piece, part in zip(self._todo, done, strict=False)}
        parts = {piece.name: self._taken.get(piece.name) or made[piece.name] for piece in self._pieces}
        said = {piece: Said(*json.loads(parts[piece.name].said)) for piece in self._pieces}
        open_in = {file for piece, one in said.items() if one.open for file in piece.files}
        self._computed.seen = {key: [Seen(*row) for row in rows] for one in said.values() for key, rows in one.seen.items()}
        self._computed.codes = {number: code for one in said.values() for number, code in one.codes.items()}
        self._computed.open_in = {family.id for family in self._computed.book.families.values() if family.entry.file in open_in}
        self.kits = {kit: used for one in said.values() for kit, used in one.kits.items()}
        self.rows = {family: rows for one in said.values() for family, rows in one.rows.items()}
        self.searched = [one for _, listed in sorted(page for one in said.values() for page in one.searched) for one in listed]
        return parts

    def stop(self) -> None:
        """Nothing more is to be done."""
        if self._crew is not None:
            self._crew.stop()
            self._crew = None

    def of_the_book(self, out: Folder, name: str, more: Iterable[Callable[[Folder], None]]) -> None:
        """What goes by all pieces: what identifies a switch, what is to be measured, and what is of no entry; and what is written ``more``
        of that kind. Several processes do it."""
        tasks: list[Callable[[Folder], None]] = [self._by_answers, self._measured, *more, lambda out: self._pictures_and_feed(out, name)]

        def wrote(at: int) -> list[Wrote]:
            own = self.out()
            tasks[at](own)
            return own.wrote

        self._crew = Crew(len(tasks), wrote, processors())
        for some in self._crew.results():
            out.wrote += some

    def _by_answers(self, out: Folder) -> None:
        if self._computed.shard.has(BOOK):
            self._put(out, of_the_book(self._computed))
        if self._computed.shard.apart:
            write_table(out, self._computed)

    def _measured(self, out: Folder) -> None:
        self._put(out, self._of_no_entry(lambda page: page.source == worklists.SOURCE))

    def _pictures_and_feed(self, out: Folder, name: str) -> None:
        if not self._computed.shard.has(BOOK):
            return
        for address, data in photos.picture_files(self._computed).items():
            out.data(address, data)
        if commits := self._computed.history.commits:
            out.text(FEED_URL, feed(commits, name, self._computed.site_url))

    def _by_entries_alone(self) -> Iterator[Callable[[Folder], None]]:
        """What goes by the whole book, but by no answer, in pieces: indexes, lists, the other pages that are about no entry."""
        computed = self._computed
        if computed.shard.has(BOOK):
            yield lambda out: self._put(out, indexes(computed))
        listed = sorted({owner(page) for page in self._pages.get("", ())})
        for some in {one.partition("/")[0]: None for one in listed}:
            yield lambda out, some=some: self._put(  # type: ignore[misc]
                out, self._of_no_entry(lambda page: owner(page).partition("/")[0] == some and page.source != worklists.SOURCE)
            )
        if computed.shard.has(BOOK):
            yield lambda out: self._put(out, for_writing(computed))
            yield lambda out: write_book(out, Api(computed))

    def _of_no_entry(self, wanted: Callable[[Page], bool]) -> Iterator[tuple[str, str]]:
        for page in self._pages.get("", ()) if self._whole else ():
            if self._computed.shard.has(owner(page)) and wanted(page):
                yield self._page(page, self._computed)

    @staticmethod
    def _put(out: Folder, files: Iterable[tuple[str, str]]) -> None:
        for address, text in files:
            out.text(address, text)

    def _write(self, at: int) -> Part:
        out = self.out()
        if at >= len(self._todo):
            self._beside[at - len(self._todo)](out)
            return Part("", tuple(out.wrote))
        piece = self._todo[at]
        return self._made(piece, self._key(piece), out)

    def _key(self, piece: Piece) -> str:
        return f"{self.basis} {piece.digest}" if piece.digest else ""

    def _made(self, piece: Piece, key: str, out: Folder) -> Part:
        items = sorted((self.items[file] for file in piece.files if file in self.items), key=lambda one: self._at[one.entry.file])
        families = [one for one in items if isinstance(one, Family)]
        own = [one for one in items if self._computed.shard.has(one.id)]
        computed = self._computed.of_piece([family.id for family in families])
        for item in own:
            for address, text in of_an_item(computed, item):
                out.text(address, text)
            for page in self._pages.get(item.entry.file, ()) if self._whole else ():
                out.text(*self._page(page, computed))
        own_families = [one for one in own if isinstance(one, Family)]
        write_families(out, Api(computed), own_families)
        rows = {family.id: pack(computed, family.id) for family in own_families}
        seats = (seat for one in own_families for seat in computed.seats_by_family.get(one.id, ()))
        verdicts = (verdict for seat in seats for verdict in computed.candidates(seat))
        is_open = any(verdict.kind is VerdictKind.UNKNOWN for verdict in verdicts)
        searched = [[page.url, found] for item in own for page in self._pages.get(item.entry.file, ()) if (found := self._searched(page))]
        seen = {part.key: seen_of(computed.fitter, part, urls.seat_key) for one in own_families for part in one.parts}
        codes = {one.number: code_of(computed, one.number) for one in items if isinstance(one, Kit) and computed.shard.has(BOOK)}
        used = kits(computed, items) if computed.shard.apart else {}
        return Part(key, tuple(out.wrote), json.dumps(Said(is_open, searched, seen, codes, used, rows)))

    def _searched(self, page: Page) -> list[dict[str, Any]]:
        """What the search of the theme knows of a page: its prose, section by section."""
        if not self._whole or not page.markdown:
            return []
        index = SearchIndex()
        index.add_entry_from_context(SimpleNamespace(meta={}, title=page.title, content=self._html(page), toc=(), url=page.url))
        found: list[dict[str, Any]] = index.entries
        return found

    # Pages

    def _page(self, page: Page, computed: Computed) -> tuple[str, str]:
        """A page's address, and the whole of it."""
        depth = page.url.count("/")
        base = "/".join([".."] * depth) or "."
        content = self._html(page)
        if page.source == worklists.SOURCE and computed.shard.apart:
            content = worklists.JOINED
        elif page.template is not None:
            content = render(page.template, base, content, page.data_of(computed), computed.gone)
        shown = {"title": page.title, "meta": {"description": page.about}, "content": content}
        assert self._env is not None
        text = self._env.get_template("book.html").render(config=self._config, page=shown, base_url=base, rb=self._around(page, base))
        return f"{page.url}index.html", text

    def _html(self, page: Page) -> str:
        """A page's prose."""
        if not page.markdown:
            return ""
        if beyond(page.markdown) is not None:
            return as_typed(page.markdown)
        if _is_linked(page):
            self._read([page])
            return self._prose[page.source]
        if self._markdown is None:
            self._markdown = Markdown(extensions=self._config.markdown_extensions, extension_configs=self._config.mdx_configs or {})
        return self._markdown.reset().convert(page.markdown)

    def _read(self, todo: list[Page]) -> None:
        """Have prose with links in it read by the generator, which follows them and tells of those that lead nowhere."""
        done: list[MkDocsPage] = []
        todo = list(todo)
        while todo:
            page = todo.pop()
            if page.source in self._prose:
                continue
            file = self._files.get_file_from_path(page.source)
            assert file is not None
            read = MkDocsPage(None, file, self._config)
            read.markdown, read.meta = page.markdown, {"title": page.title}
            read.render(self._config, self._files)
            self._prose[page.source] = read.content or ""
            done.append(read)
            # Where a link leads to a heading it has to be known which ones are there.
            todo += [self._every[one.src_uri] for one in read.links_to_anchors or () if one.src_uri in self._every]
        for read in done:
            read.validate_anchor_links(files=self._files, log_level=self._config.validation.links.anchors)

    @cached_property
    def _files(self) -> Files:
        """Every file of the site that prose can lead to."""
        beyond = self._computed.book.beyond
        entries = [file.removeprefix("entries/") for file in beyond.files()] if beyond else []
        every = dict.fromkeys((*self._every, *self._others, *entries))
        return Files([File(one, self._config.docs_dir, self._config.site_dir, use_directory_urls=True) for one in every])


def _is_linked(page: Page) -> bool:
    """Whether there can be a link in a page's prose that leads within the site."""
    return "[" in page.markdown and beyond(page.markdown) is None


def basis(computed: Computed, config: MkDocsConfig) -> str:
    """A digest of whatever every page goes by beside entries: the program with its libraries, the schema, and what the book says of
    itself."""
    told = hashlib.blake2b(digest_size=16)
    for words in (
        *_program(),
        *(f"{one} {version(one)}" for one in _LIBRARIES),
        *sorted(map(str, points())),
        *(f"{key} {config[key]!r}" for key in _OF_THE_BOOK),
        repr(sorted(computed.loaded.schemas.files.items(), key=lambda one: one[0])),
        repr(computed.settings),
        f"{is_large(computed)} {computed.book.layers!r}",
        repr(computed.loaded.shelf),
        repr(computed.shard),
    ):
        told.update(words.encode("utf-8", "surrogatepass") + b"\0")
    return told.hexdigest()


def _program() -> Iterator[str]:
    """When each file of the program was written."""
    for top in (_PACKAGE, shipped("site_overrides")):
        for here, folders, names in os.walk(top):
            folders[:] = sorted(name for name in folders if name != "__pycache__")
            for name in sorted(names):
                seen = os.stat(f"{here}/{name}")  # noqa: PTH116 - of hundreds of files
                yield f"{here} {name} {seen.st_size} {seen.st_mtime_ns}"
    yield shipped("mkdocs.yml").read_text("utf-8")


def by_address(parts: Iterable[Part]) -> dict[str, Wrote]:
    """Whatever was written for some pieces."""
    return {one.address: one for part in parts for one in part.wrote}
