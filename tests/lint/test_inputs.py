"""What is found in an entry depends on the inputs that its rule declares, and on nothing else."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from types import MappingProxyType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rangebook.book.load import Loaded, load_texts
from rangebook.lint.context import Basis, Input, Scope
from rangebook.lint.engine import Run, text_findings
from rangebook.lint.examples import example_book
from rangebook.lint.finding import Finding
from rangebook.lint.inputs import HOLDER, SCHEMA, TEXT, Ref, Values, inputs_of
from rangebook.lint.registry import all_rules
from rangebook.reading.photos import PhotoFile
from rangebook.schema.store import Schemas, load_schemas

FAMILY, OTHER = "entries/switches/tamblin-gate.md", "entries/switches/other-lever.md"
NINE, THIRTEEN, KIT = "entries/connectors/oval-9.md", "entries/connectors/oval-13.md", "entries/kits/oval-9-renewal.md"
PICTURE = "entries/kits/photos/oval-9-renewal/bag.jpg"

# A second family, whose vehicle came with a part of the first one, with a wire of another circuit than the pin that it meets.
BOOK = """
    # entries/switches/other-lever.md
    ---
    kind: switch
    id: other-lever
    title: Another lever
    positions: [P, R, N, D]
    parts: [{number: OL-1, sources: [{kind: seen, on: 2025-01-01}]}]
    plugs: {grey: {connector: oval-9, wires: {1: {circuit: start_feed}, 2: {circuit: start_out}, 3: {circuit: backup_out}}}}
    applications: [{vehicle: Corran Delver 3.0, plug: grey, came_with: TB-20417}]
    ---

and

    kind: kit
    photos: [{file: bag.jpg, shows: "the opened bag and its seals"}]
"""


@dataclass(frozen=True)
class State:
    """All that what is found may depend on."""

    files: dict[str, str]
    schemas: dict[str, object]
    day: date
    photos: dict[str, PhotoFile]

    def loaded(self) -> Loaded:
        loaded = load_texts({file: text.encode() for file, text in self.files.items()}, Schemas(MappingProxyType(self.schemas)))
        return replace(loaded, photos=self.photos)

    def put(self, file: str, found: str, text: str) -> State:
        return replace(self, files={**self.files, file: self.files.get(file, "").replace(found, text, 1)})

    def circuits(self, change: Callable[[dict], object]) -> State:
        schemas = copy.deepcopy(self.schemas)
        change(schemas["circuits"]["circuits"])
        return replace(self, schemas=schemas)


START = State(
    {file: data.decode() for file, data in example_book(BOOK).items()},
    dict(load_schemas(None).files),
    date(2026, 6, 1),
    {PICTURE: PhotoFile(1000, "JPEG", 10, 10)},
)

CHANGES: dict[str, Callable[[State], State]] = {
    "a later day": lambda was: replace(was, day=date(2046, 6, 1)),
    "an earlier day": lambda was: replace(was, day=date(2025, 12, 1)),
    "a circuit less": lambda was: was.circuits(lambda listed: listed.pop("backup_feed", None)),
    "another role": lambda was: was.circuits(lambda listed: listed["range_signal"].update(role="code")),
    "no picture": lambda was: replace(was, photos={}),
    "no real picture": lambda was: replace(was, photos={PICTURE: PhotoFile(1000, None, 0, 0)}),
    "a cavity less": lambda was: was.put(NINE, "[1, 2", "[2"),
    "a cavity more": lambda was: was.put(NINE, "[1, 2", "[1, 2, 99"),
    "a cavity twice": lambda was: was.put(THIRTEEN, "[1, 2", "[1, 2, 2"),
    "another housing of the part": lambda was: was.put(FAMILY, "connector: oval-9\n    mount", "connector: oval-13\n    mount"),
    "it mates": lambda was: was.put(THIRTEEN, "outline: oval", "mates: [oval-9]\noutline: oval"),
    "a pin with another circuit": lambda was: was.put(FAMILY, "1: start_feed, 2: start_out", "1: start_out, 2: start_feed"),
    "another number": lambda was: was.put(FAMILY, "number: TB-20417", "number: TB-2O417"),
    "an unreadable connector": lambda was: was.put(NINE, "kind: connector", "kind: [connector"),
    "an unreadable family": lambda was: was.put(FAMILY, "kind: switch", "kind: switsh"),
    "an id twice": lambda was: replace(was, files={"entries/switches/a.md": was.files[FAMILY], **was.files}),
    "spaces": lambda was: was.put(KIT, "\n---", "  \n---"),
    "a part that is not there": lambda was: was.put(OTHER, "came_with: TB-20417", "came_with: TB-1"),
    "two positions alike": lambda was: was.put(FAMILY, "closed: [R]", "ohms: {P: 5, R: 5, N: 1, D: 1, 2: 1, 1: 1}"),
    "a dead link": lambda was: was.put(FAMILY, "Set it in N.", "Set it in [N](nowhere.md)."),
    "a start contact closed in D": lambda was: was.put(FAMILY, "closed: [P, N]", "closed: [P, D]"),
    "an entry less": lambda was: replace(was, files={file: text for file, text in was.files.items() if file != KIT}),
    "a jumper in the plug of the kit": lambda was: was.put(KIT, "moves:", "loops: [[1, 2]]\nmoves:"),
    "a seal": lambda was: was.put(KIT, "moves:", "seals: [14, 14]\nmoves:"),
    "no source": lambda was: was.put(NINE, "sources:", "note: x\nsources:"),
}


def found_in(state: State, loaded: Loaded) -> dict[tuple[str, str], list[Finding]]:
    """What the rules of the scopes ``text`` and ``entry`` find, by rule and file, whatever entries allow."""
    rules = [rule for rule in all_rules().values() if rule.scope in (Scope.TEXT, Scope.ENTRY)]
    by_entry = Run(loaded, state.day, rules).of_entries()
    found: dict[tuple[str, str], list[Finding]] = {}
    for one in (*text_findings(loaded.entries, rules, Basis(loaded.schemas, state.day)), *by_entry):
        found.setdefault((one.rule, one.file), []).append(one)
    return found


def compared(old: State, new: State) -> Iterator[tuple[str, str, frozenset[str], bool]]:
    """Of each rule and each entry that both have: the kinds of its inputs that differ, and whether what is found differs."""
    sides = [(state, loaded, found_in(state, loaded), Values(loaded, state.day)) for state in (old, new) for loaded in [state.loaded()]]
    (_, before, old_found, was), (_, after, new_found, now) = sides
    files = {entry.file: entry for entry in after.entries}
    for rule in all_rules().values():
        for entry in before.entries:
            if entry.file in files:
                refs = inputs_of(rule, entry, before.book) | inputs_of(rule, files[entry.file], after.book)
                differing = frozenset(str(ref.kind) for ref in refs if was.of(ref) != now.of(ref))
                key = rule.name, entry.file
                yield *key, differing, old_found.get(key, []) != new_found.get(key, [])


def test_every_change_changes_something() -> None:
    assert [name for name, change in CHANGES.items() if change(START) == START] == []


changes = st.lists(st.sampled_from(sorted(CHANGES)), min_size=1, max_size=4, unique=True)


def changed(state: State, names: list[str]) -> State:
    for name in names:
        state = CHANGES[name](state)
    return state


@pytest.mark.parametrize("name", sorted(CHANGES))
def test_no_change_alone_changes_more_than_what_declares_it(name: str) -> None:
    for start in (START, changed(START, ["another housing of the part"])):
        for rule, file, differing, is_other in compared(start, CHANGES[name](start)):
            assert differing or not is_other, (rule, file)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.sampled_from([[], ["another housing of the part"]]), changes, changes)
@pytest.mark.slow
def test_what_is_not_declared_does_not_change_what_is_found(first: list[str], before: list[str], after: list[str]) -> None:
    old = changed(START, first + before)
    for rule, file, differing, is_other in compared(old, changed(old, after)):
        assert differing or not is_other, (rule, file)


@pytest.mark.parametrize(
    ("kind", "names", "rule", "file"),
    [
        (TEXT, ["spaces"], "trailing-space", KIT),
        (HOLDER, ["an id twice"], "missing-source", FAMILY),
        (Input.DAY, ["a later day"], "stale-check", FAMILY),
        (Input.CIRCUITS, ["a circuit less"], "unknown-circuit", FAMILY),
        (Input.CONNECTORS, ["a cavity less"], "pin-outside-housing", FAMILY),
        (Input.JUMPERS, ["a jumper in the plug of the kit"], "start-path", FAMILY),
        (Input.MATES, ["it mates"], "wire-circuit-disagrees", OTHER),
        (Input.PARTS, ["a pin with another circuit"], "wire-circuit-disagrees", OTHER),
        (Input.PICTURES, ["no picture"], "photo", KIT),
    ],
)
def test_each_kind_of_input_alone_changes_what_some_rule_finds(kind: str, names: list[str], rule: str, file: str) -> None:
    """Else nothing would be proved of it above: taken out of the declaration it is missed there."""
    start = START
    if kind == Input.MATES:
        start = changed(START, ["another housing of the part"])
    if kind == Input.JUMPERS:
        start = changed(START, ["another housing of the part", "a start contact closed in D"])
    if kind == HOLDER:
        start = START.put(FAMILY, 'sources: [{kind: seen, detail: "metered on the bench"', "note: x # [")
    told = {(one, where): (differing, is_other) for one, where, differing, is_other in compared(start, changed(start, names))}
    assert told[rule, file] == ({kind}, True)


def test_a_file_alone_is_what_most_rules_of_an_entry_go_by() -> None:
    """Else a change of a large book would take as long as linting both revisions whole."""
    loaded = START.loaded()
    entry = next(entry for entry in loaded.entries if entry.file == FAMILY)
    rules = [rule for rule in all_rules().values() if rule.scope in (Scope.TEXT, Scope.ENTRY)]
    alone = [rule for rule in rules if {ref.kind for ref in inputs_of(rule, entry, loaded.book)} <= {TEXT, HOLDER, SCHEMA}]
    assert len(alone) >= 0.7 * len(rules)


def test_the_inputs_are_named_one_by_one() -> None:
    loaded = START.loaded()
    entries = {entry.file: entry for entry in loaded.entries}
    found = inputs_of(all_rules()["wire-circuit-disagrees"], entries[OTHER], loaded.book)
    own = {Ref(TEXT, OTHER), Ref(HOLDER, "switch other-lever"), Ref(SCHEMA)}
    assert found == own | {Ref(Input.PARTS, "TB20417"), Ref(Input.MATES, "oval-9"), Ref(Input.CIRCUITS), Ref(Input.CONNECTORS, "oval-9")}
    found = inputs_of(all_rules()["photo"], entries[KIT], loaded.book)
    assert found == {Ref(TEXT, KIT), Ref(HOLDER, "kit oval-9-renewal"), Ref(SCHEMA), Ref(Input.PICTURES, PICTURE)}
    assert Path(PICTURE).name == "bag.jpg"


@pytest.mark.parametrize("rule", all_rules().values(), ids=lambda rule: rule.name)
def test_a_rule_declares_what_its_scope_has(rule) -> None:
    of_entries = {Input.CIRCUITS, Input.DAY, Input.CONNECTORS, Input.JUMPERS, Input.MATES, Input.PARTS, Input.PICTURES}
    if rule.scope is Scope.TEXT:
        assert not rule.inputs
    elif rule.scope is Scope.ENTRY:
        assert rule.inputs <= of_entries
    else:
        assert rule.inputs and not rule.inputs & of_entries
