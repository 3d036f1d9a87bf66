"""What the form says of a contact while it is typed is what the linter says of it: the same contacts, the same words."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tests.making import connector, family, part, texts
from tests.site.node import evaluate, needs_node

from rangebook.book.load import load, load_texts
from rangebook.lint.engine import lint
from rangebook.lint.registry import all_rules
from rangebook.schema.store import load_schemas
from rangebook.site.data.write import files
from rangebook.site.facts.computed import Computed

ROOT = Path(__file__).resolve().parents[2]
SCHEMAS = load_schemas(ROOT)
RULES = [all_rules()[name] for name in ("start-path", "backup-lamp")]
LEVER = ["P", "R", "N", "D", "2"]

EVALUATE = """{
  const map = (one) => new Map(Object.entries(one));
  const contact = ({ ohms, ...rest }) => map(ohms ? { ...rest, ohms: map(ohms) } : rest);
  return given.parts.map((one) => guard.notThere(given.guards, contact(one.contact), map(one.pins), one.number));
}"""


def parts() -> list[dict[str, Any]]:
    """Each guarded circuit with each other one and the housing, closed, overlapping or by ohms, in positions where it may be and not."""
    guarded = [one.name for one in SCHEMAS.circuits.values() if one.joined_in is not None]
    made: list[dict[str, Any]] = []
    for guard in guarded:
        for other in [*SCHEMAS.circuits, "case"]:
            pins, ends = {"1": guard, "2": other}, ["1", "2"]
            if other == "case":
                pins, ends = {"1": guard}, ["case", "1"]
            readings = (
                {"closed": LEVER},
                {"closed": ["P"], "overlaps": ["R"]},
                {"ohms": {"P": "470", "R": "open", "N": "4.70", "D": "open", "2": "1"}},
            )
            for facts in readings:
                made.append({"number": f"NB-{len(made)}", "pins": pins, "contact": {"pins": ends, **facts}})
    return made


def book_of(made: list[dict[str, Any]]) -> Any:
    family_of_all = family("f", [part(one["number"], pins=one["pins"], contacts=[one["contact"]]) for one in made], positions=LEVER)
    loaded = load_texts(texts(connector("c", 2), family_of_all), SCHEMAS)
    assert not loaded.book.lost
    return loaded


@needs_node
def test_the_same_contacts_in_the_same_words() -> None:
    made = parts()
    ((_, text),) = files(Computed(load(ROOT)))
    told = evaluate({"guard": "write/guard.js"}, EVALUATE, {"guards": json.loads(text)["guards"], "parts": made})
    found = [str(one.message) for one in lint(book_of(made), rules=RULES) if "there is a path from" in one.message]
    assert len(found) > 300
    assert sorted(words for each in told for words in each) == sorted(found)


@needs_node
def test_a_lever_whose_positions_have_names_of_their_own() -> None:
    """Two reverse gears: the lamps may light in both, and the linter names them as the family does."""
    lever = ["P", "R1", "R2", "N", "D"]
    one = {"number": "NB-1", "pins": {"1": "backup_feed", "2": "backup_out"}, "contact": {"pins": ["1", "2"], "closed": ["R1", "R2", "D"]}}
    parts_of = [part("NB-1", pins=one["pins"], contacts=[one["contact"]])]
    loaded = load_texts(texts(connector("c", 2), family("f", parts_of, positions=lever, means={"R1": "R", "R2": "R"})), SCHEMAS)
    ((_, text),) = files(Computed(loaded))
    (listed,) = json.loads(text)["families"]
    told = evaluate({"guard": "write/guard.js"}, EVALUATE, {"guards": listed["guards"], "parts": [one]})
    found = [str(one.message) for one in lint(loaded, rules=RULES) if "there is a path from" in one.message]
    assert len(found) == 1 and told == [found]
