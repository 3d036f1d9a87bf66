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

from rangebook.book.load import Loaded, load_texts
from rangebook.cli import main
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.seats import find_seats
from rangebook.schema.store import load_schemas
from rangebook.site.api import table, urls
from rangebook.site.api.data import Api
from rangebook.site.facts.computed import Computed

KINDS = ("part", "family", "connector", "kit", "vehicle")


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
                # A vehicle is as its entry states it; a seat inside a part is closed by the part, which names one key more.
                close(inside, open_=name == "stated")

    close(made)
    for seat in (made.get("properties", {}).get("seats", {}).get("items", {}),):
        if "allOf" in seat:
            made["$defs"]["seat"].pop("additionalProperties", None)
    return made


def validator(schema: dict[str, Any]) -> Draft202012Validator:
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema, format_checker=FormatChecker())


@pytest.fixture(scope="session")
def index(site_dir: Path) -> dict[str, Any]:
    return read(site_dir, "api/v1/index.json")


def test_every_file_is_what_its_schema_says(site_dir: Path, index: dict[str, Any]) -> None:
    schemas = {name: closed(read(site_dir, address)) for name, address in index["schemas"].items()}
    checks = {name: validator(schema) for name, schema in schemas.items()}
    checks["index"].validate(index)
    seen = {index["table"], "api/v1/index.json", *index["schemas"].values(), *index["lists"].values()}
    plural = {"parts": "part", "families": "family", "connectors": "connector", "kits": "kit", "vehicles": "vehicle"}
    for kind, address in index["lists"].items():
        listing = read(site_dir, address)
        checks["list"].validate(listing)
        assert listing["items"]
        for one in listing["items"]:
            checks[plural[kind]].validate(read(site_dir, one["url"]))
            seen.add(one["url"])
    there = {path.relative_to(site_dir).as_posix() for path in (site_dir / "api").rglob("*") if path.is_file()}
    assert {path for path in there - seen if not path.startswith("api/v1/interchange/")} == set()


def test_the_schemas_can_fail(site_dir: Path, index: dict[str, Any]) -> None:
    """Each key that is taken out, and each verdict that is none, is noticed."""
    for kind, plural in zip(KINDS, ("parts", "families", "connectors", "kits", "vehicles"), strict=True):
        check = validator(closed(read(site_dir, index["schemas"][kind])))
        good = read(site_dir, read(site_dir, index["lists"][plural])["items"][0]["url"])
        assert check.is_valid(good)
        for key in good:
            assert not check.is_valid({name: value for name, value in good.items() if name != key}), f"{kind}: {key}"
        assert not check.is_valid({**good, "unheard_of": 1})
    part = read(site_dir, read(site_dir, index["lists"]["parts"])["items"][0]["url"])
    check = validator(closed(read(site_dir, index["schemas"]["part"])))
    for seat in part["seats"]:
        for one in seat["candidates"]:
            one["verdict"] = "perhaps"
    assert not check.is_valid(part)


def test_a_part_says_what_the_command_says(root: Path, site_dir: Path, loaded: Loaded, capsys: pytest.CaptureFixture[str]) -> None:
    """For every part of the demo book: the same seats, the same candidates, verdicts, needs, moves, pins and reasons."""
    for part in loaded.book.parts:
        assert main(["fit", part.number, "--json", "--root", str(root)]) == 0
        said = json.loads(capsys.readouterr().out)
        written = read(site_dir, f"api/v1/parts/{quote(part.key)}.json")
        assert written["number"] == said["removed"]
        ours = [
            {
                **{key: seat[key] for key in ("family", "plug", "came_with", "how", "plug_now", "applications", "offered", "withdrawn")},
                "candidates": [{key: value for key, value in one.items() if key != "url"} for one in seat["candidates"]],
            }
            for seat in written["seats"]
        ]
        beyond = ("stands_on", "fitting", "measure_first")
        assert ours == [{key: value for key, value in seat.items() if key not in beyond} for seat in said["seats"]]


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
    """What is about the whole book names the book's; any other file its own, which tells it from what it said before."""
    mark = read(site_dir, "edition.json")["mark"]
    own = []
    for path in (site_dir / "api").rglob("*.json"):
        if path.parent.name != "schema":
            edition = json.loads(path.read_text("utf-8"))["edition"]
            assert path.parent.name != "v1" or edition == mark, path
            own += [edition] if path.parent.name != "v1" else []
    assert all(re.fullmatch("[0-9a-f]{8}", one) for one in own) and len(set(own)) == len(own)


# The tables


def rows_of(path: Path) -> list[dict[str, str]]:
    data = path.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline=""), strict=True))


def test_the_table_has_each_part_on_each_seat(site_dir: Path, loaded: Loaded, fitter: Fitter) -> None:
    found = {
        (row["family"], row["came_with"], row["plug"], row["number"]): row["verdict"]
        for row in rows_of(site_dir / "api/v1/interchange.csv")
    }
    expected = {
        (seat.family.id, seat.original.number, seat.plug.name, one.part.number): str(one.kind)
        for seat in find_seats(loaded.book)
        for one in fitter.candidates(next(known for known in fitter.seats if known.key == seat.key))
    }
    assert {key: found[key] for key in expected} == expected
    assert len(found) == len(expected)


def test_the_tables_of_the_families_make_the_whole(site_dir: Path, loaded: Loaded) -> None:
    whole = rows_of(site_dir / "api/v1/interchange.csv")
    pieces = [row for family in loaded.book.families for row in rows_of(site_dir / f"api/v1/interchange/{family}.csv")]
    assert pieces == whole
    data = (site_dir / "api/v1/interchange.csv").read_bytes()
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


def test_a_number_with_odd_characters_has_an_address_of_its_own(small_book: Path) -> None:
    """A part's number may hold what no file name should: it gets its own file all the same, and nothing outside the folder is written."""
    from rangebook.site.generator.build import build_site
    from rangebook.site.generator.gate import checked

    entry = next((small_book / "entries" / "switches").glob("*.md"))
    text = entry.read_text("utf-8")
    number = next(line for line in text.split("\n") if "number:" in line).split("number:")[1].strip().split(",")[0].strip("{} ")
    odd = "..+A%2F_e#?x9"
    entry.write_text(text.replace(number, f'"{odd}"'), "utf-8")
    build_site(checked(small_book), small_book / "site")
    listing = read(small_book / "site", "api/v1/parts.json")
    (one,) = [item for item in listing["items"] if item["name"] == odd]
    assert read(small_book / "site", one["url"])["number"] == odd
    assert quote(one["url"]) == one["url"], "an address that needs no escaping"


def test_what_is_not_known_is_null(loaded: Loaded, site_dir: Path) -> None:
    bare = [part for part in loaded.book.parts if part.contacts is None or part.pins is None]
    assert bare
    for part in bare:
        written = read(site_dir, f"api/v1/parts/{quote(part.key)}.json")
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
    made = [urls.vehicle(name).rpartition("/")[2] for name in names]
    assert made[0] == "Corran_20Delver_202_2e4.json" and len(set(made)) == len(names)
    assert all(len(one.encode()) <= 255 and one.isascii() for one in made)
