"""The book on paper: one PDF with the cautions, each family's answers and its setting, and indexes by number, vehicle and gearbox.

It is made by fpdf2 (LGPL-3.0). Its letters are parts of DejaVu Sans Condensed, which has those of most languages written in Latin, Greek
and Cyrillic; a sign that it lacks is printed as an empty box.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path

from fpdf import FPDF
from fpdf.enums import TableBordersLayout, XPos, YPos
from fpdf.fonts import FontFace

from rangebook.book.model import Family
from rangebook.desk.layers import layer_lines
from rangebook.fitting.verdict import VerdictKind
from rangebook.schema.settings import Settings
from rangebook.site.facts.computed import Computed
from rangebook.site.model.answer import SeatShown, Shown, shown_seat
from rangebook.site.model.setting import setting, setting_lines
from rangebook.words.book import status_words
from rangebook.words.catalogue import catalogue, say
from rangebook.words.lists import listed

_FONTS = Path(__file__).with_name("fonts")
_FACE = "Book"
_TITLE, _HEAD, _TEXT, _SMALL = 20, 13, 10, 8
"""Sizes in points."""
_GREY = 90

_CAUTIONS = (
    *("chock", "chock_why", "battery", "cool", "cool_why", "jack", "jack_stands", "nobody_about"),
    *("stand_ready", "crank", "lamps", "failed", "one_wire", "seals", "no_bridge", "comes_before"),
)
"""What the page of the cautions says, in its order."""

_HIGHEST = 250
"""Millimetres from the top of a sheet below which no heading begins: it would stand there alone."""


class _Index(defaultdict[str, list[int]]):
    """What is looked for -> the sheets that it stands on."""

    def __init__(self) -> None:
        super().__init__(list)


class _Sheets(FPDF):
    """Sheets with a foot that says what edition they are of: paper outlives the book."""

    def __init__(self, foot: str, settings: Settings) -> None:
        super().__init__(format=settings.paper)
        self._foot = foot
        self.add_font(_FACE, "", _FONTS / "Condensed.ttf")
        self.add_font(_FACE, "B", _FONTS / "Condensed-Bold.ttf")
        self.set_auto_page_break(auto=True, margin=18)
        self.set_margin(15)
        self.set_lang(settings.language_tag)

    def footer(self) -> None:
        """At the foot of each sheet."""
        self.set_y(-13)
        self.set_font(_FACE, "", _SMALL)
        self.set_text_color(_GREY)
        self.cell(0, 5, self._foot)
        self.set_x(self.l_margin)
        self.cell(0, 5, str(self.page_no()), align="R")
        self.set_text_color(0)

    def text_line(self, text: str, size: int = _TEXT, style: str = "", grey: int = 0, space: float = 1) -> None:
        """A paragraph."""
        self.set_font(_FACE, style, size)
        self.set_text_color(grey)
        self.multi_cell(0, size * 0.48, text, new_x=XPos.LMARGIN, new_y=YPos.NEXT)
        self.set_text_color(0)
        self.ln(space)

    def heading(self, text: str, level: int) -> None:
        """A heading, which the outline of the document has too."""
        if self.get_y() > _HIGHEST:
            self.add_page()
        self.start_section(text, level)
        self.text_line(text, _HEAD if level else _TITLE, "B", space=1.5)

    def grid(self, heads: tuple[str, ...], rows: Iterable[tuple[str, ...]], widths: tuple[int, ...]) -> None:
        """A table whose head stands on each sheet that it goes on to."""
        self.set_font(_FACE, "", _TEXT - 1)
        with self.table(
            col_widths=widths,
            borders_layout=TableBordersLayout.HORIZONTAL_LINES,
            headings_style=FontFace(emphasis="BOLD"),
            line_height=4.6,
            text_align="LEFT",
        ) as table:
            for row in (heads, *rows):
                table.row(row)
        self.ln(3)


def printed(computed: Computed, name: str) -> bytes:
    """The book as a PDF; the same book gives the same bytes. ``name`` is what it is called."""
    sheets = _Sheets(f"{name} · {computed.edition.words}", computed.settings)
    sheets.set_title(name)
    # As in the bundle that it is part of: what packs differs from machine to machine.
    sheets.set_compression(compress=False)
    sheets.set_creation_date(_day(computed))
    _front(sheets, computed, name)
    numbers, vehicles, gearboxes = _Index(), _Index(), _Index()
    for family in sorted(computed.book.families.values(), key=lambda one: (one.title.casefold(), one.id)):
        sheets.add_page()
        page = sheets.page_no()
        for part in family.parts:
            for number in (part.number, *(one.number for one in part.also_numbered)):
                numbers[number].append(page)
        for gearbox in (*family.gearboxes, *(one.gearbox for one in family.applications if one.gearbox)):
            gearboxes[gearbox].append(page)
        _family(sheets, computed, family, vehicles)
        for application in family.applications:
            if computed.seat_of(family, application) is None:
                vehicles[application.vehicle].append(page)
    _kits(sheets, computed, numbers)
    for title, index in ((say("printed.numbers"), numbers), (say("printed.vehicles"), vehicles), (say("printed.gearboxes"), gearboxes)):
        _index(sheets, title, index)
    return bytes(sheets.output())


def _day(computed: Computed) -> datetime:
    """The edition's day: a clock would make each printing another file."""
    date = computed.edition.date
    return datetime.fromisoformat(date).replace(tzinfo=UTC) if date and len(date) == len("2026-01-01") else datetime(2000, 1, 1, tzinfo=UTC)


def _front(sheets: _Sheets, computed: Computed, name: str) -> None:
    sheets.add_page()
    sheets.heading(name, 0)
    sheets.text_line(computed.edition.words, grey=_GREY)
    if contact := computed.settings.texts.get("contact"):
        sheets.text_line(contact)
    sheets.text_line(say("printed.about"), space=4)
    sheets.heading(say("cautions_page.title"), 1)
    sheets.text_line(say("cautions_page.lead"), style="B")
    what = {"battery": say("cautions_page.battery_what"), "nobody_about": say("cautions_page.nobody_about_what")}
    for key in _CAUTIONS:
        text = catalogue().say("cautions_page", key, {"what": what.get(key)})
        sheets.text_line(f"- {text}")


def _family(sheets: _Sheets, computed: Computed, family: Family, vehicles: _Index) -> None:
    sheets.heading(family.title, 0)
    sheets.text_line(say("printed.gearboxes_of", names=family.gearboxes, lever=family.positions))
    for line in layer_lines(computed.book, family):
        sheets.text_line(line, grey=_GREY)
    if family.also_called:
        sheets.text_line(say("printed.also_called", names=family.also_called), grey=_GREY)
    sheets.grid(
        (say("page.number"), say("printed.status"), say("printed.housing"), say("printed.pins"), say("page.replaced_by")),
        (
            (
                part.number,
                status_words(part.status),
                listed(computed.connector_title(one.connector) for one in part.sockets if one.connector),
                say("page.not_stated") if part.pins is None else str(len(part.pins)),
                listed((one.number for one in part.superseded_by), "comma"),
            )
            for part in family.parts
        ),
        (22, 26, 28, 10, 22),
    )
    for seat in computed.seats_by_family.get(family.id, ()):
        _seat(sheets, shown_seat(computed, seat), [one.vehicle for one in seat.applications], vehicles)
    _setting(sheets, family)


def _seat(sheets: _Sheets, seat: SeatShown, names: Iterable[str], vehicles: _Index) -> None:
    sheets.heading(say("printed.seat", number=seat.came_with, plug=seat.plug_called), 1)
    for name in names:
        vehicles[name].append(sheets.page_no())
    sheets.text_line("; ".join(seat.vehicles), grey=_GREY)
    goes = [one for one in seat.candidates if one.badge not in (VerdictKind.NO, VerdictKind.UNKNOWN)]
    if goes:
        sheets.grid(
            (say("printed.fit"), say("printed.answer"), say("printed.with")),
            ((one.number, listed(filter(None, (one.words, one.status_words)), "comma"), _with(one)) for one in goes),
            (22, 34, 60),
        )
    else:
        sheets.text_line(say("family_page.nothing_sold"), style="B")
    if seat.measure_first:
        sheets.text_line(seat.measure_first)
    unknown = [one.number for one in seat.candidates if one.badge is VerdictKind.UNKNOWN]
    if unknown:
        sheets.text_line(say("printed.not_known", numbers=unknown))
    for one in seat.candidates:
        if one.badge is VerdictKind.NO:
            sheets.text_line(say("printed.not_to_fit", number=one.number, why=one.warning or one.brief), style="B", space=0.3)
    sheets.ln(3)


def _with(one: Shown) -> str:
    """What to order with it and to do, and the wires that change places."""
    orders = (say("printed.kit", number=order.number, uses=order.uses) for order in one.orders)
    moves = (say("printed.move", old=move.old, new=move.new, circuit=move.circuit) for move in one.moves)
    return "\n".join(filter(None, (*orders, *one.also, *one.work, one.idle_words, *moves, *one.layers)))


def _setting(sheets: _Sheets, family: Family) -> None:
    said = setting(family)
    lines = [
        *([say("printed.set_in", position=said["set_in"])] if said["set_in"] else []),
        *([say("printed.torque", torque=said["torque"])] if said["torque"] else []),
        *([said["method"]] if said["method"] else []),
        *(say("printed.of_mount", mount=mount.name, text=line) for mount in family.mounts.values() for line in setting_lines(mount)),
    ]
    cautions = [*said["cautions"], *(text for mount in family.mounts.values() for text in mount.cautions)]
    if lines or cautions:
        sheets.heading(say("printed.setting"), 1)
    for line in lines:
        sheets.text_line(line)
    for text in cautions:
        sheets.text_line(f"! {text}", style="B")


def _kits(sheets: _Sheets, computed: Computed, numbers: _Index) -> None:
    if not computed.book.kits:
        return
    sheets.add_page()
    sheets.heading(say("printed.kits"), 0)
    for kit in sorted(computed.book.kits.values(), key=lambda one: one.number):
        sheets.heading(say("printed.kit_head", number=kit.number, title=kit.title), 1)
        numbers[kit.number].append(sheets.page_no())
        moves = listed((say("printed.pair", old=old, new=new) for old in kit.moves for new in kit.places(old)), "comma")
        sheets.text_line(say("printed.moves", moves=moves))
        for text in kit.cautions:
            sheets.text_line(f"! {text}", style="B")


def _index(sheets: _Sheets, title: str, index: _Index) -> None:
    if not index:
        return
    sheets.add_page()
    sheets.heading(title, 0)
    sheets.set_font(_FACE, "", _TEXT - 1)
    with sheets.text_columns(ncols=3, gutter=6, line_height=1.3) as columns:
        for name in sorted(index, key=lambda one: (one.casefold(), one)):
            columns.write(say("printed.entry", name=name, pages=sorted(set(index[name]))) + "\n")
