"""The files for other programs: over the whole demo book they are what their schemas say, and they say what the command says.

Sources: JSON Schema 2020-12, checked by the library jsonschema (the site is written without it); RFC 4180, read by Python's own csv
module in its strict mode; RFC 3986 for addresses, by urllib.
"""

from __future__ import annotations

import copy
import csv
import io
import json
import re
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from jsonschema import Draft202012Validator, FormatChecker
from tests import making

from generate import generate
from rangebook.book.load import Loaded, load_texts
from rangebook.desk.fit import as_data, fit
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import find_seats
from rangebook.schema.store import load_schemas
from rangebook.site.api import table, urls
from rangebook.site.api.data import Api
from rangebook.site.facts.computed import Computed
from rangebook.site.shared.urls import file_name, seat_id


def read(site: Path, address: str) -> Any:
    return json.loads((site / address).read_text("utf-8"))


def closed(schema: dict[str, Any]) -> dict[str, Any]:
    """The schema with no key let through that it does not name, for a test alone: what is published must be written down."""
    made = copy.deepcopy(schema)

    def close(one: Any, open_: bool = False) -> None:
        if isinstance(one, dict):
            if "properties" in one and "additionalProperties" not in one and not open_:
                one["additionalProperties"] = False
            for name, inside in one.items():
                # A vehicle is as its entry states it.
                close(inside, open_=name == "stated")

    close(made)
    return made


def validator(schema: dict[str, Any]) -> Draft202012Validator:
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema, format_checker=FormatChecker())


@pytest.fixture(scope="session")
def index(site_dir: Path) -> dict[str, Any]:
    return read(site_dir, "api/v2/index.json")


def test_every_file_is_what_its_schema_says(site_dir: Path, index: dict[str, Any]) -> None:
    checks = {name: validator(closed(read(site_dir, address))) for name, address in index["schemas"].items()}
    checks["index"].validate(index)
    for kind, address in index["lists"].items():
        listing = read(site_dir, address)
        checks[kind].validate(listing)
        assert listing[kind]
    families = [one["url"] for one in read(site_dir, index["lists"]["families"])["families"].values()]
    for address in families:
        checks["family"].validate(read(site_dir, address))
    there = {path.relative_to(site_dir).as_posix() for path in (site_dir / "api").rglob("*") if path.is_file()}
    assert there == {index["table"], "api/v2/index.json", *index["schemas"].values(), *index["lists"].values(), *families}


def test_the_schemas_can_fail(site_dir: Path, index: dict[str, Any]) -> None:
    """Each key that is taken out, and each verdict that is none, is noticed."""
    family = read(site_dir, next(iter(read(site_dir, index["lists"]["families"])["families"].values()))["url"])
    files = {"index": index, "family": family, **{kind: read(site_dir, address) for kind, address in index["lists"].items()}}
    for kind, good in files.items():
        check = validator(closed(read(site_dir, index["schemas"][kind])))
        # Of a list the first of the kind as well, of a family its first part and seat.
        inside = [kind] if kind in index["lists"] else ["parts", "seats"] if kind == "family" else []
        for at in (good, *(first if isinstance(first := next(iter(good[name].values())), dict) else first[0] for name in inside)):
            assert check.is_valid(good)
            for key in list(at):
                value = at.pop(key)
                assert not check.is_valid(good) or key in ("fans", "plugs"), f"{kind}: {key}"
                at[key] = value
            at["unheard_of"] = 1
            assert not check.is_valid(good)
            del at["unheard_of"]
    check = validator(closed(read(site_dir, index["schemas"]["family"])))
    for wrong in ({"verdict": "perhaps"}, {"family": None}):
        (seat, *_) = family["seats"].values()
        seat["candidates"][0], kept = {**seat["candidates"][0], **wrong}, seat["candidates"][0]
        assert not check.is_valid(family)
        seat["candidates"][0] = kept


# What every part, vehicle and seat had in a file of its own until version 2


class Files:
    """What the files of a book say, by their places below the top of the version."""

    def __init__(self, api: Api) -> None:
        self.lists = {kind: one[kind] for kind, one in json.loads(json.dumps(api.listings())).items()}
        families = api.computed.book.families.values()
        self.families = {urls.family(one.id): json.loads(json.dumps(api.family(one))) for one in families}

    def family(self, name: str) -> dict[str, Any]:
        return self.families[self.lists["families"][name]["url"]]

    def seat(self, family: str, name: str) -> dict[str, Any]:
        """A seat by itself: its vehicles as they are stated, and each candidate known to be where it says."""
        there = self.family(family)
        seat = there["seats"][name]
        assert all(one["number"] in self.family(one["family"])["parts"] for one in seat["candidates"])
        candidates = [{key: value for key, value in one.items() if key != "family"} for one in seat["candidates"]]
        vehicles = [there["applications"][at] for at in seat["applications"]]
        return {**seat, "family": family, "applications": vehicles, "candidates": candidates}

    def part(self, key: str) -> dict[str, Any]:
        """A part by itself, with every seat that it may have come off."""
        at = self.lists["parts"][key]
        part = self.family(at["family"])["parts"][at["number"]]
        seats = [{**self.seat(one["family"], one["seat"]), **one} for one in part["seats"]]
        return {**part, "family": at["family"], "seats": seats}

    def vehicle(self, name: str) -> list[dict[str, Any]]:
        """A vehicle in every way in which it was built."""
        return [
            {
                "family": one["family"],
                "stated": self.family(one["family"])["applications"][one["application"]],
                "seat": one["seat"] and self.seat(one["family"], one["seat"]),
            }
            for one in self.lists["vehicles"][name]
        ]


@pytest.fixture(scope="module", params=["demo", "generated"])
def api(request: pytest.FixtureRequest, loaded: Loaded) -> Api:
    """The demo book, and one whose parts come off renewed plugs and seats of other families."""
    return Api(Computed(loaded if request.param == "demo" else load_texts(texts_of(generate(8, seed=4)))))


def texts_of(book: dict[str, str]) -> dict[str, bytes]:
    return {name: text.encode() for name, text in book.items()}


def test_a_part_says_what_the_command_says(api: Api) -> None:
    """For every part: the same seats, the same candidates, verdicts, needs, moves, pins and reasons, though each stands but once."""
    files = Files(api)
    keys = ("family", "plug", "came_with", "how", "plug_now", "applications", "offered", "withdrawn", "candidates")
    book, seen = api.computed.book, []
    for part in book.parts:
        written = files.part(part.key)
        assert (written["number"], written["key"], written["family"]) == (part.number, part.key, part.family)
        said = json.loads(json.dumps(as_data(fit(api.computed.fitter, part.number))))
        assert [[seat[key] for key in keys] for seat in written["seats"]] == [[seat[key] for key in keys] for seat in said["seats"]]
        seen += written["seats"]
    assert any(seat["plug_now"]["kits"] for seat in seen)
    # In the generated book no plug need be looked at; of the demo book it is known that some need.
    assert any(seat["plug_now"]["look"] for seat in seen) == ("grotham-truck" in book.families)
    assert len(files.lists["parts"]) == sum(len(family["parts"]) for family in files.families.values()) == len(book.parts)


def test_a_family_and_a_vehicle_have_their_seats(api: Api) -> None:
    """Each seat once, in the file of its family: those that vehicles were built with, and those of which a part came off a renewed plug."""
    files, computed = Files(api), api.computed
    taken = {
        (one["family"], one["seat"]) for family in files.families.values() for part in family["parts"].values() for one in part["seats"]
    }
    for name, family in computed.book.families.items():
        written = files.family(name)
        assert [dict(one.stated) for one in family.applications] == written["applications"]
        built = [one for one, seat in written["seats"].items() if not seat["plug_now"]["kits"]]
        seats = computed.seats_by_family.get(name, ())
        assert built == [seat_id(seat) for seat in seats]
        assert [files.seat(name, one)["applications"] for one in built] == [
            [dict(one.stated) for one in seat.applications] for seat in seats
        ]
        assert all((name, one) in taken for one in written["seats"] if one not in built)
    applications = [(family, one) for family in computed.book.families.values() for one in family.applications]
    assert list(files.lists["vehicles"]) == sorted({one.vehicle for _, one in applications})
    for vehicle in files.lists["vehicles"]:
        ways = [(family, one) for family, one in applications if one.vehicle == vehicle]
        assert [(way["family"], way["stated"]) for way in files.vehicle(vehicle)] == [(family.id, dict(one.stated)) for family, one in ways]
        for way, (family, one) in zip(files.vehicle(vehicle), ways, strict=True):
            seat = computed.seat_of(family, one)
            assert (way["seat"] is None) == (seat is None)
            if seat is not None:
                assert (way["seat"]["plug"], way["seat"]["came_with"]) == (one.plug, seat.original.number)
                assert dict(one.stated) in way["seat"]["applications"]
                assert [(two["number"], two["verdict"]) for two in way["seat"]["candidates"]] == [
                    (two.part.number, str(two.kind)) for two in computed.candidates(seat)
                ]


def test_a_connector_and_a_kit_say_who_has_them(api: Api) -> None:
    lists, book = Files(api).lists, api.computed.book
    assert list(lists["connectors"]) == list(book.connectors) and list(lists["kits"]) == list(book.kits)
    for name, one in lists["connectors"].items():
        connector = book.connectors[name]
        assert (one["id"], one["title"], one["cavities"]) == (name, connector.title, len(connector.cavities))
        assert one["parts"] == [part.number for part in book.parts if name in [socket.connector for socket in part.sockets]]
        assert one["kits_from"] == [kit.id for kit in book.kits.values() if name in kit.olds]
        assert one["kits_to"] == [kit.id for kit in book.kits.values() if name == kit.new]
    for name, one in lists["kits"].items():
        kit = book.kits[name]
        assert (one["number"], one["from_any"], one["to"], one["moves"]) == (kit.number, list(kit.olds), kit.new, dict(kit.moves))


def test_every_address_in_it_leads_somewhere(site_dir: Path, index: dict[str, Any]) -> None:
    def addresses(data: Any) -> Any:
        if isinstance(data, dict):
            for key, value in data.items():
                if key in ("url", "page") and isinstance(value, str):
                    yield value
                yield from addresses(value)
        elif isinstance(data, list):
            for one in data:
                yield from addresses(one)

    for path in (site_dir / "api").rglob("*.json"):
        if path.parent.name == "schema":
            continue
        for address in addresses(json.loads(path.read_text("utf-8"))):
            file, _, anchor = address.partition("#")
            target = site_dir / file
            if file.endswith("/"):
                assert not anchor or f'id="{anchor}"' in (target / "index.html").read_text("utf-8"), f"{path}: {address}"
            else:
                assert target.is_file(), f"{path}: {address}"


def test_the_edition_of_each(site_dir: Path) -> None:
    """What is about the whole book names the book's; the file of a family its own, which tells it from what it said before."""
    mark = read(site_dir, "edition.json")["mark"]
    assert {json.loads(path.read_text("utf-8"))["edition"] for path in (site_dir / "api/v2").glob("*.json")} == {mark}
    own = [json.loads(path.read_text("utf-8"))["edition"] for path in (site_dir / "api/v2/families").glob("*.json")]
    assert all(re.fullmatch("[0-9a-f]{8}", one) for one in own) and len(set(own)) == len(own) > 1


# The tables


def rows_of(path: Path) -> list[dict[str, str]]:
    data = path.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline=""), strict=True))


def test_the_table_has_each_part_on_each_seat(site_dir: Path, loaded: Loaded, fitter: Fitter) -> None:
    found = {
        (row["family"], row["came_with"], row["plug"], row["number"]): row["verdict"]
        for row in rows_of(site_dir / "api/v2/interchange.csv")
    }
    expected = {
        (seat.family.id, seat.original.number, seat.plug.name, one.part.number): str(one.kind)
        for seat in find_seats(loaded.book)
        for one in fitter.candidates(next(known for known in fitter.seats if known.key == seat.key))
    }
    assert {key: found[key] for key in expected} == expected
    assert len(found) == len(expected)


def test_the_table_is_by_its_form(site_dir: Path, loaded: Loaded) -> None:
    whole = rows_of(site_dir / "api/v2/interchange.csv")
    families = list(loaded.book.families)
    assert [row["family"] for row in whole] == sorted((row["family"] for row in whole), key=families.index), "families as the book has them"
    data = (site_dir / "api/v2/interchange.csv").read_bytes()
    assert data.endswith(b"\r\n")
    # RFC 4180, 2: a line break that ends a record is CRLF; one within quotation marks may be anything.
    unquoted = b"".join(data.split(b'"')[::2])
    assert unquoted.count(b"\n") == unquoted.count(b"\r\n") == len(whole) + 1


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", '=HYPERLINK("http://x.invalid")'])
def test_no_cell_is_a_formula(text: str) -> None:
    """What a spreadsheet would reckon out begins with an apostrophe, and is otherwise what it was. Source: OWASP, CSV injection (from
    memory): the signs = + - @, tab and carriage return."""
    (row,) = csv.reader(io.StringIO(table.text([["a", text, 'with "marks", and\nlines']]), newline=""), strict=True)
    assert row == ["a", f"'{text}", 'with "marks", and\nlines']


def test_a_number_with_odd_characters_is_no_address(small_book: Path) -> None:
    """A part's number may hold what no file name should: it is found all the same, and nothing outside the folder is written."""
    from rangebook.site.generator.build import build_site
    from rangebook.site.generator.gate import checked

    entry = next((small_book / "entries" / "switches").glob("*.md"))
    text = entry.read_text("utf-8")
    number = next(line for line in text.split("\n") if "number:" in line).split("number:")[1].strip().split(",")[0].strip("{} ")
    odd = "..+A%2F_e#?x9"
    entry.write_text(text.replace(number, f'"{odd}"'), "utf-8")
    build_site(checked(small_book), small_book / "site")
    listing = read(small_book / "site", "api/v2/parts.json")["parts"]
    (one,) = [item for item in listing.values() if item["number"] == odd]
    url = read(small_book / "site", "api/v2/families.json")["families"][one["family"]]["url"]
    assert read(small_book / "site", url)["parts"][odd]["number"] == odd
    assert quote(url) == url, "an address that needs no escaping"


def test_what_is_not_known_is_null(loaded: Loaded, site_dir: Path) -> None:
    bare = [part for part in loaded.book.parts if part.contacts is None or part.pins is None]
    assert bare
    for part in bare:
        written = read(site_dir, f"api/v2/families/{part.family}.json")["parts"][part.number]
        assert (written["contacts"] is None) == (part.contacts is None)
        assert (written["pins"] is None) == (part.pins is None)


def test_jumpers_fans_and_where_it_cranks_are_as_they_are_stated() -> None:
    """Reckoned from the entries by hand: ``None`` where nobody says anything, an empty list where somebody says that there is none."""
    wires = {"1": {"circuit": "start_feed", "side": "feed"}, "2": {"circuit": "start_out"}}
    source = {"kind": "service-manual", "detail": "sheet 4", "by": "bench", "on": "2024-09-24"}
    plugs = {
        "unsaid": {"connector": "c", "wires": wires},
        "none": {"connector": "c", "wires": wires, "loops": []},
        "some": {
            "connector": "c",
            "wires": wires,
            "loops": [["3", "4"], ["1", "5", "6"]],
            "cranks": {"by": "module", "in": ["P", "N"], "side": "ground", "sources": [source]},
        },
    }
    kit = {
        "kind": "kit",
        "id": "k",
        "number": "K",
        "title": "k",
        "from": "c",
        "to": "c",
        "moves": {"1": ["1", "4"], "2": "2"},
        "loops": [["5", "6"]],
    }
    entry = making.family("f", [making.part("A")], plugs=plugs)
    computed = Computed(load_texts(making.texts(making.connector("c", 6), kit, entry), load_schemas()))
    api = Api(computed)
    shown = api.family(computed.book.families["f"])["plugs"]
    assert [shown[name]["loops"] for name in plugs] == [None, [], [["3", "4"], ["1", "5", "6"]]]
    assert [shown[name]["cranks"] for name in plugs] == [
        None,
        None,
        {"by": "module", "in": ["P", "N"], "side": "ground", "sources": [source]},
    ]
    assert [shown["some"]["wires"][at]["side"] for at in "12"] == ["feed", None]
    of_kit = api.kit(computed.book.kits["k"])
    assert (of_kit["moves"], of_kit["fans"], of_kit["loops"]) == ({"1": "1", "2": "2"}, {"1": ["1", "4"]}, [["5", "6"]])


def test_a_long_name_is_a_file_of_its_own() -> None:
    """255 bytes are the most that ext4, NTFS and APFS take for a name (from memory)."""
    names = ["Corran Delver 2.4", "<" * 100, "<" * 99 + ">", "\U0001f697" * 100, "Ж" * 100]
    made = [file_name(name) for name in names]
    assert made[0] == "Corran_20Delver_202_2e4" and len(set(made)) == len(names)
    assert all(len(one.encode()) <= 255 and one.isascii() for one in made)
