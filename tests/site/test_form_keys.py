"""Every key of the entry format through the form that writes an entry: put in, and given out as it was; or named as left to the text.

What is asked by a piece of its own is tried by hand in `test_write.py`; all others the form makes from the schema, and so does this: an
entry with every key that the schema knows goes into the pieces as it would be typed, and has to come out again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Page
from tests.schema.test_model_and_schema import full, known, resolved
from tests.site.conftest import ROOT

from rangebook.desk.writing import yaml_text
from rangebook.desk.writing.insertion import with_items
from rangebook.reading.entry import read_entry
from rangebook.schema.store import KINDS, load_schemas

SCHEMAS = load_schemas()
Way = tuple[str, ...]

CALL = re.compile(r'plainKeys\(book\.schemas, "(\w+)", \[([^\]]*)\], (\[[^\]]*\]|OWN)')
"""Where the form asks for what the schema knows of a mapping, but for some keys of its own."""

OWN_IN = {
    "switch": """kind id title gearboxes positions
        mounts mounts.shaft mounts.shaft.shape mounts.shaft.across_mm mounts.hub mounts.hub.position mounts.hub.at_deg mounts.hub.steps_deg
        mounts.bolts mounts.bolts.at_mm mounts.bolts.at_deg mounts.bolts.bolt_mm mounts.bolts.hole_mm mounts.bolts.slot_deg
        mounts.bolts.spacer_mm
        parts parts.number parts.connector parts.connectors parts.connectors.connector parts.mount parts.status parts.pins
        parts.contacts parts.contacts.pins parts.contacts.closed parts.contacts.ohms parts.contacts.tolerance_percent
        parts.superseded_by parts.superseded_by.number parts.superseded_by.since
        parts.sources parts.sources.kind parts.sources.detail parts.sources.by parts.sources.on
        parts.signals parts.signals.pin parts.signals.supply parts.signals.ground parts.signals.kind parts.signals.values
        parts.signals.tolerance
        plugs plugs.connector plugs.connectors plugs.wires plugs.wires.circuit plugs.wires.colour
        applications applications.vehicle applications.years applications.gearbox applications.plug applications.came_with""",
    "connector": """kind id title outline rows terminal terminal.style terminal.width_mm terminal.on_switch sealed
        sources sources.kind sources.detail sources.by sources.on""",
    "kit": "kind id number title from to moves seals blanks sources sources.kind sources.detail sources.by sources.on",
}
OWN = {kind: frozenset(tuple(one.split(".")) for one in text.split()) for kind, text in OWN_IN.items()}
"""Keys with a piece of their own."""

LEFT = frozenset({"photos", "allow", "for", "min", "max"})
"""Keys that the form leaves to the text, wherever they are, or ask for with a file: a picture; what is allowed names a finding, of which
facts a source tells alone is seldom said, and a least and a most have a shorter spelling."""

LEFT_HERE = frozenset({("switch", "sources"), ("switch", "parts", "superseded_by", "sources")})
"""Sources of a family and of a succession too: the form asks once how all is known, and writes it to the part, the connector or the kit."""


def calls() -> Iterator[tuple[str, list[str], list[str]]]:
    """Kind, way and keys of its own of each such place, from the scripts themselves."""
    for script in sorted((ROOT / "tools/rangebook/site/client/write").glob("*.js")):
        text = script.read_text("utf-8")
        for kind, way, own in CALL.findall(text):
            own = re.findall(r"const OWN = (\[[^\]]*\])", text)[0] if own == "OWN" else own
            steps = [one.strip().strip('"') for one in way.split(",") if one.strip()]
            yield kind, ["1" if one == "cavity" else one for one in steps], re.findall(r'"(\w+)"', own)


def samples(kind: str, way: list[str]) -> list[dict[str, Any]]:
    """What an entry with every key says at a way, of each item of a list and under each name."""
    (node, file), found = resolved(SCHEMAS.files[kind], kind), [full(kind)]
    for step in way:
        known_here = node.get("properties", {})
        if step in known_here:
            found = [one[step] for one in found if step in one]
        else:
            found = [inner for one in found for inner in (one.values() if isinstance(one, dict) else one)]
        node, file = resolved(known_here.get(step) or node.get("items") or node["additionalProperties"], file)
    return [spelled(one) for one in found if isinstance(one, dict)]


def spelled(value: Any) -> Any:
    """The same with a least and a most as the form spells them, in a list."""
    if isinstance(value, dict):
        return [value["min"], value["max"]] if set(value) == {"min", "max"} else {key: spelled(inner) for key, inner in value.items()}
    return [spelled(one) for one in value] if isinstance(value, list) else value


def named(kind: str, way: list[str]) -> Way:
    """A way without places in lists and without names that an entry gives."""
    (node, file), found = resolved(SCHEMAS.files[kind], kind), []
    for step in way:
        if step in node.get("properties", {}):
            found.append(step)
        inner = node.get("properties", {}).get(step) or node.get("items") or node["additionalProperties"]
        node, file = resolved(inner, file)
    return tuple(found)


def typed(value: Any) -> Any:
    """What stands in a piece for a value: a line of text, or what its pieces hold."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (str, int, float)):
        return str(value)
    if isinstance(value, list):
        if all(isinstance(one, dict) for one in value):
            return [{key: typed_in(inner) for key, inner in one.items()} for one in value]
        return ", ".join("+".join(one) if isinstance(one, list) else str(one) for one in value)
    if all(isinstance(one, dict) for one in value.values()):
        return [{"name": name, "piece": {key: typed_in(inner) for key, inner in one.items()}} for name, one in value.items()]
    return ", ".join(f"{key}: {inner}" for key, inner in value.items())


def typed_in(value: Any) -> Any:
    """The same below a key: a mapping of keys of the schema is folded away, one of names is not."""
    is_mapping = isinstance(value, dict) and not set(value) <= {"X1", "X2", "x1", "x2", "P0705", "P0706"}
    return [{key: typed_in(inner) for key, inner in value.items()}] if is_mapping else typed(value)


def plain(value: Any) -> Any:
    """What a script gave, maps as mappings."""
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value["pairs"]}
    return [plain(one) for one in value] if isinstance(value, list) else value


@pytest.fixture(scope="module")
def form(browser: Any, site_url: str) -> Page:
    made = browser.new_page(service_workers="block")
    made.goto(f"{site_url}write/")
    return made


AS_PAIRS = """const as_pairs = (one) => one instanceof Map ? { pairs: [...one].map(([k, v]) => [k, as_pairs(v)]) }
    : Array.isArray(one) ? one.map(as_pairs) : one?.typed === undefined ? one : Number(one.typed);"""
"""Maps as something that gets out of the page, and numbers that are kept as they were typed as numbers."""

CODE = (
    f"""async (given) => {{ {AS_PAIRS}"""
    """
    const { plainKeys } = await import('../book/write/plain.js');
    const { schemas } = await (await fetch('../data/write.json')).json();
    return Promise.all(given.map(async ([kind, way, own, states]) => {
        const made = plainKeys(schemas, kind, way, own);
        await made.restore(states);
        return [Object.keys(made.state()), as_pairs(made.whole() ?? new Map())];
    })); }"""
)


def test_every_key_goes_through_the_form_or_is_said_to_be_left_to_the_text(form: Page) -> None:
    asked = [(kind, way, own, one) for kind, way, own in calls() for one in samples(kind, way)]
    assert len({(kind, tuple(way)) for kind, way, _, _ in asked}) > 10
    given = [[kind, way, own, {key: typed_in(inner) for key, inner in one.items() if key not in own}] for kind, way, own, one in asked]
    wrong: list[str] = []
    through: dict[str, set[Way]] = {kind: set(OWN[kind]) for kind in KINDS}
    for (kind, way, own, one), (keys, whole) in zip(asked, form.evaluate(CODE, given), strict=True):
        out = plain(whole)
        wanted = {key: inner for key, inner in one.items() if key in keys and key not in own}
        before, after = without_left(wanted), without_left(out)
        wrong += [f"{kind} {way}: {key} {inner} came out as {after.get(key)}" for key, inner in before.items() if after.get(key) != inner]
        through[kind] |= {named(kind, way) + found for found in ways_by_schema(kind, way, out)}
    missing = {
        (kind, *way) for kind in KINDS for way in known(SCHEMAS.files[kind], kind) if way not in through[kind] and not left(kind, way)
    }
    assert not wrong, "\n".join(wrong)
    assert not missing, "\n".join(" ".join(one) for one in sorted(missing))


def test_a_lead_that_brings_a_wire_to_several_cavities_goes_through_the_form(form: Page) -> None:
    code = f"""async (state) => {{ {AS_PAIRS}
        const {{ kit }} = await import('../book/write/kit.js');
        const made = kit(await (await fetch('../data/write.json')).json(), () => {{}});
        await made.restore(state);
        return as_pairs(made.value()); }}"""
    state = {"number": "TW-9917", "from": "oval-9", "to": "oval-13", "moves": {"1": "1", "2": "2", "3": "4"}, "fans": "1: 5, 1: 8; 3: 9"}
    assert plain(form.evaluate(code, state))["moves"] == {"1": ["1", "5", "8"], "2": "2", "3": ["4", "9"]}
    assert plain(form.evaluate(code, {**state, "fans": ""}))["moves"] == {"1": "1", "2": "2", "3": "4"}


def test_two_wires_in_one_cavity_go_through_the_form(form: Page) -> None:
    code = f"""async (state) => {{ {AS_PAIRS}
        const {{ plugOf }} = await import('../book/write/plug.js');
        const {{ bookOf }} = await import('../book/shared/book.js');
        const data = await (await fetch('../data/write.json')).json();
        const made = plugOf({{ ...data, face: bookOf(document.querySelector('[data-write]')).face }}, () => {{}});
        made.housing.restore('round-5');
        await made.wires.restore(state);
        return as_pairs(made.value()); }}"""
    two = {"first": {"circuit": "backup_feed", "colour": "bu"}, "others": [{"circuit": "backup_feed", "colour": "RD"}]}
    # The second is kept as an older form kept it, before a cavity could hold several.
    state = {"first": {"yes": ["2", "4"], "no": ["1", "3", "5"], "asked": {"2": two, "4": {"circuit": "backup_out"}}}}
    assert plain(form.evaluate(code, state))["wires"] == {
        "2": [{"circuit": "backup_feed", "colour": "BU"}, {"circuit": "backup_feed", "colour": "RD"}],
        "4": {"circuit": "backup_out"},
    }


def left(kind: str, way: Way) -> bool:
    """Whether a key is left to the text."""
    return bool(LEFT & set(way)) or any((kind, *way)[: len(one)] == one for one in LEFT_HERE)


def without_left(value: Any) -> Any:
    """A value without what is left to the text."""
    if isinstance(value, list):
        return [without_left(one) for one in value]
    return {key: without_left(inner) for key, inner in value.items() if key not in LEFT} if isinstance(value, dict) else value


def ways_by_schema(kind: str, way: list[str], value: Any) -> Iterator[Way]:
    """The keys of the schema in what came out, without names that an entry gives."""
    node, file = resolved(SCHEMAS.files[kind], kind)
    for step in way:
        inner = node.get("properties", {}).get(step) or node.get("items") or node["additionalProperties"]
        node, file = resolved(inner, file)
    yield from _below(node, file, value)


def _below(node: Any, file: str, value: Any, way: Way = ()) -> Iterator[Way]:
    node, file = resolved(node, file)
    if isinstance(value, list):
        for one in value:
            yield from _below(node.get("items", {}), file, one, way)
    elif isinstance(value, dict):
        for key, inner in value.items():
            is_key = key in node.get("properties", {})
            below = node["properties"][key] if is_key else node.get("additionalProperties")
            here = (*way, key) if is_key else way
            if is_key:
                yield here
            if isinstance(below, dict):
                yield from _below(below, file, inner, here)


def test_a_part_put_into_an_entry_with_every_key_loses_none_of_them() -> None:
    """What the form gives goes in below `parts:`; every line that was there stays as it was, comments too."""
    front = full("switch")
    lines = [line for key, inner in front.items() for line in yaml_text.lines(key, inner)]
    lines = [line for one in lines for line in ((f"# of {one.split(':')[0]}", one) if re.match(r"\w+:", one) else (one,))]
    data = "\r\n".join(["---", *lines, "---", "", "What was said of it.", ""]).encode()
    entry = read_entry("entries/switches/x1.md", data)
    assert not entry.problems
    made = with_items(entry, data, "parts", [{"number": "X9", "status": "current"}], list(front)).decode().split("\r\n")
    new = ["  - number: X9", "    status: current"]
    at = made.index(new[0])
    assert made[at : at + 2] == new and [*made[:at], *made[at + 2 :]] == data.decode().split("\r\n")
