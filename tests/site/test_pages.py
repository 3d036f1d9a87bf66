"""The built pages as files: what they say, that every link leads somewhere, and that nothing in them can run."""

from __future__ import annotations

import gzip
import json
import posixpath
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from urllib.parse import unquote, urlsplit

import lxml.html
import pytest
from obd.codes import DTC
from scipy import constants

from rangebook.book import trouble_codes
from rangebook.book.load import Loaded
from rangebook.book.model import Connector, Family, Kit
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.standing import Group, group_of
from rangebook.fitting.verdict import VerdictKind
from rangebook.lint.registry import all_rules
from rangebook.site.shared import urls
from rangebook.words.book import verdict_short, verdict_words
from rangebook.words.measures import MM_PER_INCH, NM_PER_LBF_FT, millimetres, torque
from rangebook.words.reasons import reason_words


@cache
def page(path: Path) -> lxml.html.HtmlElement:
    return lxml.html.fromstring(path.read_bytes())


def pages(site_dir: Path) -> Iterator[tuple[str, lxml.html.HtmlElement]]:
    """Address from the top of the site and content of every page."""
    for path in sorted(site_dir.rglob("*.html")):
        yield path.relative_to(site_dir).as_posix().removesuffix("index.html"), page(path)


def text(element: lxml.html.HtmlElement) -> str:
    return " ".join(element.text_content().split())


def css(element: lxml.html.HtmlElement, selector: str) -> list[lxml.html.HtmlElement]:
    """What a selector of tags and classes, one below the other, selects (as ``.matrix tbody tr``)."""
    steps = []
    for step in selector.split():
        tag, *classes = step.split(".")
        has = "".join(f"[contains(concat(' ', normalize-space(@class), ' '), ' {name} ')]" for name in classes)
        steps.append(f"{tag or '*'}{has}")
    return element.xpath(".//" + "//".join(steps))


def at(site_dir: Path, address: str) -> lxml.html.HtmlElement:
    return page(site_dir / address / "index.html")


def test_every_link_leads_somewhere(site_dir: Path) -> None:
    """Every page, style, script and anchor that a page names is there, wherever the site is put: all are relative."""
    followed = 0
    for address, content in pages(site_dir):
        if address == "404.html":
            continue  # served at any address: its links are from the top of the host
        for element, name, link, _ in content.iterlinks():
            if element.tag == "use" or link.startswith("data:"):
                continue
            parts = urlsplit(link)
            assert not parts.scheme and not parts.netloc and not link.startswith("/"), f"{address}: {link}"
            target = posixpath.normpath(posixpath.join(address, unquote(parts.path))) if parts.path else address
            assert not target.startswith(".."), f"{address}: {link}"
            place = site_dir / target
            place = place / "index.html" if place.is_dir() else place
            assert place.is_file(), f"{address}: {name} {link}"
            if parts.fragment:
                there = page(place)
                assert there.get_element_by_id(unquote(parts.fragment), None) is not None, f"{address}: nothing at {link}"
            followed += 1
    assert followed > 2000


def test_anchors_are_there_once(site_dir: Path) -> None:
    for address, content in pages(site_dir):
        ids = [element.get("id") for element in content.iter() if element.get("id")]
        assert len(set(ids)) == len(ids), f"{address}: {sorted(one for one in set(ids) if ids.count(one) > 1)}"


def test_no_page_carries_a_script_or_a_style(site_dir: Path) -> None:
    """So that a strict content security policy can be sent with all of them."""
    for address, content in pages(site_dir):
        for element in content.iter():
            if not isinstance(element.tag, str):
                continue
            assert not any(name.startswith("on") or name == "style" for name in element.attrib), f"{address}: {element.attrib}"
            assert element.tag != "style", address
            if element.tag == "script" and element.get("type") != "application/json":
                assert element.get("src"), f"{address}: a script stands in the page"


@pytest.mark.parametrize("folder", ["switches", "connectors", "kits"])
def test_every_entry_has_its_page_with_cautions(site_dir: Path, loaded: Loaded, folder: str) -> None:
    owners = {"switches": loaded.book.families, "connectors": loaded.book.connectors, "kits": loaded.book.kits}[folder]
    assert owners
    for name, owner in owners.items():
        content = at(site_dir, f"{folder}/{name}")
        assert owner.title in text(content.find(".//h1"))
        (line,) = css(content, "p.caution")
        assert "Chocks, brake, battery off" in text(line) and line.find(".//a").get("href").endswith("cautions/")
        assert owner.entry.source.split("---")[1].strip().split("\n")[0] in content.text_content(), "the entry itself is shown"


def test_the_cautions_page_names_what_can_hurt(site_dir: Path) -> None:
    said = text(at(site_dir, "cautions")).lower()
    for word in ("chock", "parking brake", "battery", "cool", "licensed", "service information", "rules where you work", "crank"):
        assert word in said


def test_a_part_has_a_page_with_all_that_is_known_and_a_row_on_its_familys(site_dir: Path, loaded: Loaded) -> None:
    for family in loaded.book.families.values():
        overview = at(site_dir, f"switches/{family.id}")
        for part in family.parts:
            row = overview.get_element_by_id(urls.part_anchor(part))
            assert row.find(".//a").get("href") == f"../../{urls.part_url(part)}"
            sheet = at(site_dir, urls.part_url(part))
            assert text(sheet.find(".//h1")) == part.number
            assert part.number in text(sheet)
            rows = {text(row[0]): text(row[1]) for row in css(sheet, ".pins tbody tr")}
            assert set(rows) == set(part.pins or ())
            for cavity, circuit in (part.pins or {}).items():
                assert loaded.schemas.circuits[circuit].title in rows[cavity]
            table = css(sheet, ".behaviour")
            assert bool(table) == (part.contacts is not None or bool(part.signals))
            for source in part.sources:
                assert (source.detail or source.kind) in text(sheet) and (source.on or "") in text(sheet)


def test_a_part_leads_to_its_vehicles_sheets_label_and_data(site_dir: Path, loaded: Loaded, fitter: Fitter) -> None:
    for part in loaded.book.parts:
        own = at(site_dir, urls.part_url(part))
        links = {one.get("href") for one in own.iter("a")}
        assert {f"../../{url}" for url in (urls.proof_page_url(part), urls.lever_page_url(part), urls.label_page_url(part))} <= links
        data = next(link for link in links if link and link.endswith(".json"))
        family = json.loads((site_dir / urls.part_url(part) / data).read_bytes())
        assert family["parts"][part.number]["key"] == part.key
        said = text(own)
        for seat in fitter.seats_of.get(part.key, ()):
            for one in seat.applications:
                assert one.vehicle in said
        for link in part.superseded_by:
            assert link.number in said


def test_a_family_page_is_an_overview(site_dir: Path, loaded: Loaded) -> None:
    """At most 40 kB as gzip sends it, the matrix, a row for each part, and a fold for each plug."""
    for family in loaded.book.families.values():
        assert len(gzip.compress((site_dir / f"switches/{family.id}/index.html").read_bytes())) <= 40_000
        overview = at(site_dir, f"switches/{family.id}")
        assert len(css(overview.get_element_by_id("Parts"), "tbody tr")) == len(family.parts)
        folds = overview.get_element_by_id("Plugs").findall("details") if family.plugs else []
        assert len(folds) == len(family.plugs) and not any(one.get("open") for one in folds)


def test_the_behaviour_table_says_what_the_contacts_do(site_dir: Path, loaded: Loaded) -> None:
    """Read back from the page: closed, open and ohms, position by position, against the entry."""
    compared = 0
    for family in loaded.book.families.values():
        for part in family.parts:
            sheet = at(site_dir, urls.part_url(part))
            rows = {text(css(row, ".ends")[0]): css(row, "td") for row in css(sheet, ".behaviour tbody tr") if css(row, ".ends")}
            for contact in part.contacts or ():
                cells = [text(cell) for cell in rows[f"{contact.a} – {contact.b}"]]
                assert len(cells) == len(family.positions)
                for position, cell in zip(family.positions, cells, strict=True):
                    if contact.closed is not None:
                        assert cell == ("closed" if position in contact.closed or position in contact.overlaps else "open")
                    elif contact.ohms is None or position not in contact.ohms:
                        assert cell == "?"
                    elif contact.ohms[position] is None:
                        assert cell == "open"
                    else:
                        shown = float(cell.removesuffix("k")) * (1000 if cell.endswith("k") else 1)
                        assert shown == pytest.approx(contact.ohms[position], rel=1e-9)
                    compared += 1
    assert compared > 500


def test_the_interchange_table_is_what_was_computed(site_dir: Path, loaded: Loaded, fitter: Fitter) -> None:
    """Each cell of the overview, and each line under a seat: verdict in words, needs and reasons."""
    cells = 0
    for family in loaded.book.families.values():
        seats = [seat for seat in fitter.seats if seat.family.id == family.id]
        content = at(site_dir, f"switches/{family.id}")
        rows = css(content, ".matrix tbody tr")
        assert len(rows) == len(seats)
        heads = css(content, ".matrix thead th .number")
        for seat, row in zip(seats, rows, strict=True):
            for head, cell in zip(heads, css(row, "td"), strict=True):
                part = loaded.book.part(text(head))
                verdict = fitter.verdict(seat, part)
                # What is withdrawn is shown as what does not fit, whatever its verdict.
                withdrawn = group_of(verdict) is Group.WITHDRAWN
                word = VerdictKind.NO if withdrawn else verdict.kind
                assert text(cell) == ("withdrawn" if withdrawn else verdict_short(word))
                assert f"cell--{word}" in cell.get("class")
                assert css(cell, "use")[0].get("href") == f"../../book/marks.svg#{word}"
                cells += 1
            for verdict in fitter.candidates(seat):
                offer = content.get_element_by_id(f"{urls.seat_anchor(seat)}-{urls.anchor(verdict.part.key)}")
                withdrawn = group_of(verdict) is Group.WITHDRAWN
                assert text(css(offer, ".badge")[0]) == ("Withdrawn: do not fit" if withdrawn else verdict_words(verdict.kind))
                for reason in verdict.checked:
                    assert " ".join(reason_words(reason).split()) in text(offer)
                for need in verdict.needs:
                    assert loaded.book.kits[need.kit].number in text(offer)
    assert cells > 300


def test_who_replaces_whom(site_dir: Path, loaded: Loaded, fitter: Fitter) -> None:
    """The maker's claim and beside it the verdict on every seat that the part came with."""
    claims = 0
    for part in loaded.book.parts:
        for link in part.superseded_by:
            content = at(site_dir, f"switches/{part.family}")
            rows = [
                row
                for row in css(content.get_element_by_id("Chain"), "tbody tr")
                if text(row[0]) == part.number and link.number in text(row[1])
            ]
            assert len(rows) == 1
            assert (link.since or "") in text(rows[0][1])
            successor = loaded.book.part(link.number)
            for seat in fitter.seats_of.get(part.key, ()) if successor else ():
                wires = f"{len(seat.plug.wires)} wire{'s' if len(seat.plug.wires) != 1 else ''}"
                assert f"{verdict_short(fitter.verdict(seat, successor).kind)} on the plug with {wires}" in text(rows[0][3])
            claims += 1
    assert claims > 10


def test_seats_of_a_family_are_told_apart_by_what_is_seen_of_them(site_dir: Path, loaded: Loaded) -> None:
    """Rows of the matrix and the plugs' folds: no two say the same, and none says the name that the entry has for the plug."""
    for family in loaded.book.families.values():
        content = at(site_dir, f"switches/{family.id}")
        rows = [text(one) for one in css(content, ".matrix tbody th")]
        folds = [text(one) for one in css(content.get_element_by_id("Plugs"), "summary h3")] if family.plugs else []
        assert len(set(folds)) == len(folds), family.id
        assert len(set(rows)) == len(rows), family.id
        names = [name for name in family.plugs if "-" in name]
        assert not [name for name in names for one in (*rows, *folds) if name in one or name.replace("-", " ") in one.lower()]


def test_plugs_have_their_wires(site_dir: Path, loaded: Loaded) -> None:
    for family in loaded.book.families.values():
        content = at(site_dir, f"switches/{family.id}")
        for plug in family.plugs.values():
            fold = content.get_element_by_id(f"Plug-{urls.anchor(plug.name)}")
            rows = {text(row[0]): text(row) for row in css(fold, ".pins tbody tr")}
            assert set(rows) == set(plug.wires)
            for cavity, wire in plug.wires.items():
                assert not wire.colour or wire.colour in rows[cavity]
            assert "Wire side" in text(fold)


def test_settings_have_torque_in_both_units(site_dir: Path, loaded: Loaded) -> None:
    """1 lbf ft against scipy.constants (CODATA and exact definitions), 1 in = 25.4 mm exactly."""
    assert pytest.approx(constants.lbf * constants.foot) == NM_PER_LBF_FT
    assert pytest.approx(constants.inch * 1000) == MM_PER_INCH
    assert torque(10) == "10 N·m (7.4 lbf·ft)"
    assert millimetres(25.4) == "25.4 mm (1.000 in)"
    stated = [family for family in loaded.book.families.values() if family.fitting and family.fitting.torque_nm]
    assert stated
    for family in stated:
        said = text(at(site_dir, f"switches/{family.id}").get_element_by_id("Setting"))
        assert torque(family.fitting.torque_nm) in said


def test_trouble_codes_have_their_texts(site_dir: Path, loaded: Loaded) -> None:
    """Texts against PyPI obd (older SAE J2012 wording): case and punctuation apart they are the same."""

    def plain(words: str) -> str:
        return "".join(letter for letter in words.lower() if letter.isalnum())

    for code, words in trouble_codes.TEXTS.items():
        assert plain(words) == plain(DTC[code])
    for family in loaded.book.families.values():
        for code in family.trouble_codes:
            row = next(div for div in at(site_dir, f"switches/{family.id}").get_element_by_id("Codes").iter("div") if code in text(div))
            assert trouble_codes.TEXTS[code] in text(row)


def test_both_sides_of_a_connector_are_labelled(site_dir: Path, loaded: Loaded) -> None:
    """Two drawings, each saying in words which side it is, and the second the first in mirror image."""
    for connector in loaded.book.connectors.values():
        switch, wire = at(site_dir, f"connectors/{connector.id}").get_element_by_id("Face").iter("svg")
        assert "Switch side" in text(switch) and "Wire side" not in text(switch)
        assert "Wire side" in text(wire)
        labels = [[one.get("data-cavity") for one in side.iter() if one.get("data-cavity")] for side in (switch, wire)]
        assert sorted(labels[0]) == sorted(labels[1]) == sorted(connector.cavities)
        first = [label for label in connector.rows[0] if label]
        assert labels[0][: len(first)] == first
        assert labels[1][: len(first)] == first[::-1]


def test_a_connector_says_who_uses_it(site_dir: Path, loaded: Loaded) -> None:
    book = loaded.book
    for connector in book.connectors.values():
        content = at(site_dir, f"connectors/{connector.id}")
        rows = {text(row[0]): text(row[1]) for row in css(content.get_element_by_id("Parts"), "tbody tr")}
        assert set(rows) == {part.number for part in book.by_connector.get(connector.id, ())}
        for part in book.by_connector.get(connector.id, ()):
            count = "pins not stated" if part.pins is None else f"{len(part.pins)} pin{'s' if len(part.pins) != 1 else ''}"
            assert rows[part.number] == count
        assert len(css(content.get_element_by_id("Plugs"), "tbody tr")) == len(book.plugs_by_connector.get(connector.id, ()))


def test_a_kit_says_where_each_wire_goes_and_who_needs_it(site_dir: Path, loaded: Loaded, fitter: Fitter) -> None:
    for kit in loaded.book.kits.values():
        content = at(site_dir, f"kits/{kit.id}")
        rows = css(content, ".wiremap tbody tr")
        shown = {text(row[0]): text(row[2]) for row in rows}
        assert list(shown) == list(kit.moves)
        for wire, place in kit.moves.items():
            branches = kit.fans.get(wire, (place,))
            assert shown[wire].startswith(", ".join(branches)), (kit.id, wire)
        for size in kit.seals or ():
            assert str(size) in text(content.get_element_by_id("Bag"))
        needing = {
            f"{urls.family_url(seat.family.id)}#{urls.seat_anchor(seat)}"
            for seat in fitter.seats
            if any(need.kit == kit.id for one in fitter.candidates(seat) for need in one.needs)
        }
        shown = {a.get("href").removeprefix("../../") for a in css(content.get_element_by_id("Used"), "h3 a")}
        assert shown == needing


def test_the_lists_are_complete(site_dir: Path, loaded: Loaded) -> None:
    book = loaded.book
    numbers = [text(row[0]) for row in css(at(site_dir, "numbers"), "tbody tr")]
    assert sorted(numbers) == sorted([*(part.number for part in book.parts), *(kit.number for kit in book.kits.values())])
    applications = [one for family in book.families.values() for one in family.applications]
    assert len(css(at(site_dir, "vehicles"), ".row")) == len(applications)
    said = text(at(site_dir, "vehicles"))
    assert all(one.vehicle in said for one in applications)
    assert [text(head) for head in at(site_dir, "gearboxes").iter("h2")] == sorted(book.by_gearbox, key=str.casefold)


def test_every_rule_has_a_page_and_the_format_every_key(site_dir: Path, loaded: Loaded) -> None:
    for rule in all_rules().values():
        content = text(at(site_dir, f"handbook/rules/{rule.name}"))
        assert rule.title in content
        assert rule.fails.strip().split("\n")[0].strip() in content
    for kind in ("switch", "connector", "kit"):
        content = at(site_dir, f"handbook/format/{kind}")
        shown = {text(code) for code in css(content, ".keys dt code")}
        assert set(_keys(loaded, loaded.schemas.of(kind), kind)) <= shown
    listed = {text(row[0]) for row in css(at(site_dir, "handbook/format/circuits"), "tbody tr")}
    assert listed == set(loaded.schemas.circuits)
    joined = {text(row[0]): text(row[-1]) for row in css(at(site_dir, "handbook/format/circuits"), "tbody tr")}
    assert joined["start_out"] == "in P and N only" and joined["backup_out"] == "in R only" and joined["range_signal"] == ""


def _keys(loaded: Loaded, node: object, home: str) -> Iterator[str]:
    """Every key of a schema, however deep."""
    if not isinstance(node, dict):
        return
    node, home = loaded.schemas.resolve(node, home)
    for name, inner in node.get("properties", {}).items():
        yield name
        yield from _keys(loaded, inner, home)
    for inner in (node.get("items"), node.get("additionalProperties"), *node.get("anyOf", ())):
        yield from _keys(loaded, inner, home)


def test_prose_is_found_by_the_search_and_tables_are_not(site_dir: Path, loaded: Loaded) -> None:
    """The theme's search is for notes and the handbook; an index with every number in it would grow with the book."""
    index = json.loads((site_dir / "search" / "search_index.json").read_text("utf-8"))
    by_page: dict[str, str] = {}
    for one in index["docs"]:
        by_page[one["location"].split("#")[0]] = by_page.get(one["location"].split("#")[0], "") + one["text"]
    for family in loaded.book.families.values():
        page_text = by_page[f"switches/{family.id}/"]
        assert "Everything that was checked" not in page_text
    assert "cavity" in by_page["handbook/format/kit/"]


def test_every_page_names_its_edition(site_dir: Path, loaded: Loaded) -> None:
    """About an entry: by the newest check of that entry; about the whole book: by that of all; the handbook: by the program."""
    whole = json.loads((site_dir / "edition.json").read_text("utf-8"))
    assert whole["date"] == max(checked_on(item) for item in loaded.book.items)
    own = {f"{item.entry.folder}/{item.id}": checked_on(item) for item in loaded.book.items}
    own |= {f"parts/{part.key}": own[f"switches/{part.family}"] for part in loaded.book.parts}
    for address, content in pages(site_dir):
        edition = text(css(content, ".foot")[0]).split("Edition ")[1].split(".")[0]
        if address.startswith("handbook/") or address == "404.html":
            assert edition.startswith("of Rangebook "), address
        elif date := own.get(address.strip("/"), whole["date"]):
            assert edition.startswith(date), address
        if address.strip("/") not in own and not edition.startswith("of Rangebook "):
            assert edition == whole["words"].removeprefix("Edition "), address


def checked_on(item: Connector | Family | Kit) -> str:
    """The newest date of any source in an entry."""
    parts = item.parts if isinstance(item, Family) else ()
    links = [link for part in parts for link in part.superseded_by]
    return max((source.on for owner in (item, *parts, *links) for source in owner.sources if source.on), default="")


def test_nothing_of_the_front_matter_is_left_to_mkdocs(site_dir: Path, loaded: Loaded) -> None:
    """The facts stand in the folded text of the entry and in what was computed, never as paragraphs of prose."""
    for family in loaded.book.families.values():
        notes = css(at(site_dir, f"switches/{family.id}"), ".prose")
        for one in notes:
            assert "kind: switch" not in text(one)


def test_what_is_published(site_dir: Path) -> None:
    """No day of the build, no source maps of the theme, no entry as a file of MkDocs' own."""
    names = {path.relative_to(site_dir).as_posix() for path in site_dir.rglob("*") if path.is_file()}
    assert not [name for name in names if name.endswith((".md", ".map", ".gz")) or "sitemap" in name]
