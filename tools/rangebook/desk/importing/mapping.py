"""Which column of a shop's spreadsheet is what: a small YAML file, read as strictly as an entry is.

An example, with all that there can be::

    columns:                       # what: the column's heading. Only `number` has to be there
      number: Part No.
      family: Family               # id or title of a family; one that is not in the book is begun
      connector: Housing           # id of a connector of the book, see `values`
      status: Status
      pins: Pins                   # a cell such as `1=start_feed, 2=start_out`; or cavity by cavity:
                                   #   pins: {1: Pin 1, 2: Pin 2}
      contacts: Contacts           # a cell such as `1-2 closed P,N; 3-4 R; 5-6 never`, or contact by contact:
                                   #   contacts: {1-2: Starter, 3-4: Lamps}, with cells such as `P N`, `never`,
                                   #   or `?`, where it is not known when it is closed
      mount: Mount                 # the name of one of the family's mounts; where its hub stands:
      hub_position: Looked at in
      hub_at_deg: Hub at           # degrees from the bolts' datum to the hub's mark, anticlockwise
      hub_steps_deg: Detents       # degrees from each position to the next, as in `18 16 16 18 18`
      hub_turns: Turns             # `clockwise` or `anticlockwise`; needless where the degrees have signs
      signals_as_written: Outputs  # what has no form of its own for a cell stands there as in an entry, as in
                                   #   `[{pin: 5, supply: 8, ground: 6, kind: volts, values: {P: 1}}]`: so too
                                   #   `contacts_as_written` (with ohms, one way, ...), `revisions_as_written`
      tail_length_mm: Lead         # of the leads out of its housing, with `tail_ends` and `tail_leaves`
      sold_in_set: Set No.         # the number under which it is sold, or `sold_as_assembly`
      superseded_by: Replaced by
      since: Replaced since
      successor_vin_from: From VIN # for which vehicles: `successor_` before any of the conditions below, and
                                   #   before `built_from` and `built_to`
      vehicle: Vehicle             # with a vehicle the row also is an application
      years: Years
      gearbox: Gearbox
      plug: Plug                   # the name of one of the family's plugs
      loops: Jumpers               # in the shell of that plug, as in `5+6, 7+8`, or `none`
      came_with: Part No.          # only where the list says what the vehicle was built with
      optional_cavities: Maybe     # cavities in which some of these vehicles have no wire, as in `4 9`
      steering: Steering           # what tells it from others of its name: `left` or `right`; `built_for`, `marked`,
      vin_from: VIN from           #   `vin_from` and `vin_to`, as well of `serial` and `gearbox_serial`; and where
      stamped_at: Read at          #   that is read
      cranks_in: Cranks            # the positions in which its engine cranks, as in `P` or `P N`; what decides
      cranks_by: Cranked by        #   it, `switch` or `module`, and `cranks_side`: `feed` or `ground`
    fixed: {drive: four-wheel}     # what the list does not say because it is the same in every row
    values:                        # the list's words: the book's words
      connector: {14 wedge: wedge-14, 13 oval: oval-13}
      status: {NLA: discontinued, OK: current}
      pins: {starter in: start_feed, starter out: start_out}
    whole_numbers: [number]        # columns of an .xlsx or .ods whose cells are numbers and no text: say so once
                                   #   you have seen that no zero in front is lost
    split: {superseded_by: /}      # what parts several in one cell; left out: the cell is one
    notes: [Pin count, Remarks]    # columns that go into the part's note, each with its heading
    ignore: [Price, Shelf]         # columns that the book has no use for
    new_family:                    # what a family that is begun has beside its parts and vehicles, as in an entry
      positions: [P, R, N, D, 2, 1]
      means: {1: L}                # with its plugs' `loops` and `cranks`, its mounts, anything but what rows say
      plugs: {six: {connector: wedge-14, wires: {1: {circuit: start_feed}}}}
    source: {kind: catalogue, detail: "our own list of 2025", by: counter, on: 2026-02-11}

What a column can be is in :mod:`rangebook.desk.importing.columns`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rangebook.desk.importing.columns import CONTACTS, Columns
from rangebook.reading.located import Map, Mark
from rangebook.reading.nearest import nearest
from rangebook.reading.strict_yaml import parse
from rangebook.reading.text import decode
from rangebook.words.problems import problem_fix, problem_words

KEYS = ("columns", "fixed", "values", "whole_numbers", "split", "notes", "ignore", "new_family", "source")

_EACH = ("pins", CONTACTS)
"""What may have a column for each."""


class MappingError(Exception):
    """The mapping file will not do; the message says on which line, why and what to do."""


@dataclass(frozen=True)
class ColumnMapping:
    """``can_be`` is what a column may be; ``columns`` maps a name of those to its heading; ``pin_columns`` a cavity to its heading, where
    pins have a column each, and ``contact_columns`` two of them, as in ``1-2``. Cells of ``whole_numbers`` may be numbers and no text."""

    can_be: Columns
    columns: Mapping[str, str]
    pin_columns: Mapping[str, str]
    contact_columns: Mapping[str, str]
    fixed: Mapping[str, str]
    values: Mapping[str, Mapping[str, str]]
    whole_numbers: Sequence[str]
    split: Mapping[str, str]
    notes: Sequence[str]
    ignore: Sequence[str]
    new_family: Mapping[str, Any]
    source: Mapping[str, str] | None

    @property
    def wanted(self) -> tuple[str, ...]:
        """Every heading that the file must have, each once."""
        return tuple(dict.fromkeys([*self.columns.values(), *self.pin_columns.values(), *self.contact_columns.values(), *self.notes]))


def read_mapping(name: str, data: bytes, can_be: Columns) -> ColumnMapping:
    """Bytes of a mapping file called ``name`` -> mapping. Raises :class:`MappingError`."""
    text = decode(name, data)
    if not isinstance(text, str):
        raise MappingError(f"{name}: line {text.mark.line}: {problem_words(text)}; {problem_fix(text)}")
    front, problems = parse(name, text, 1, "mapping")
    if problems or front is None:
        first = problems[0]
        raise MappingError(f"{name}: line {first.mark.line}: {problem_words(first)}; {problem_fix(first)}")
    for where, words in _wrong(front, can_be):
        raise MappingError(f"{name}: line {where.line}: {words}")
    columns = dict(front["columns"])
    pins, contacts = (columns.pop(name) if isinstance(columns.get(name), dict) else {} for name in _EACH)
    return ColumnMapping(
        can_be,
        columns,
        pins,
        contacts,
        front.get("fixed", {}),
        {field: {folded_cell(cell): value for cell, value in listed.items()} for field, listed in front.get("values", {}).items()},
        front.get("whole_numbers", ()),
        front.get("split", {}),
        front.get("notes", ()),
        front.get("ignore", ()),
        front.get("new_family", {}),
        front.get("source"),
    )


def folded_cell(text: str) -> str:
    """A cell as it is looked up under ``values``: spaces and case do not count."""
    return " ".join(text.split()).casefold()


def _wrong(front: Map, can_be: Columns) -> Iterator[tuple[Mark, str]]:
    for key in front:
        if key not in KEYS:
            yield front.key_mark(key), f"there is no key `{key}` in a mapping{_near(key, KEYS)}"
    columns = front.get("columns")
    if not isinstance(columns, Map) or "number" not in columns:
        words = "`columns` has to say at least which column holds the part number, as in `columns: {number: Part No.}`"
        yield front.key_mark("columns"), words
        return
    for key in ("columns", "fixed", "values", "split", "new_family", "source"):
        node = front.get(key)
        if node is not None and not isinstance(node, Map):
            yield front.value_mark(key), f"`{key}` has to be `name: value` lines"
            return
    for key in ("columns", "fixed", "values", "split"):
        node = front.get(key, {})
        for field in node:
            if field not in can_be.names:
                yield node.key_mark(field), f"there is no field `{field}`{_near(field, can_be.names)}"
    for field, heading in columns.items():
        if not isinstance(heading, str) and not (field in _EACH and _is_texts(heading)):
            yield columns.value_mark(field), f"`{field}` has to be the heading of one column"
        elif heading == "":
            yield columns.key_mark(field), f"`{field}` has no heading"
    for key in ("fixed", "split"):
        node = front.get(key, {})
        for field, value in node.items():
            if not isinstance(value, str) or not value:
                yield node.value_mark(field), f"`{key}.{field}` has to be text"
            elif key == "split" and field not in can_be.several:
                yield node.key_mark(field), f"a row has one {field} only; what may be split is {', '.join(can_be.several)}"
            elif key == "fixed" and field in columns:
                yield node.key_mark(field), f"`{field}` is under `columns` too: take it out of one of the two"
    for field, listed in front.get("values", {}).items():
        if not _is_texts(listed):
            words = f"`values.{field}` has to be the list's words and the book's, as in `{{NLA: discontinued}}`"
            yield front["values"].value_mark(field), words
    yield from _wrong_lists(front, can_be)
    for key in ("kind", "id", "title", "parts", "applications", "gearboxes"):
        if key in front.get("new_family", {}):
            yield front["new_family"].key_mark(key), f"`new_family.{key}` comes from the rows; take it out here"


def _wrong_lists(front: Map, can_be: Columns) -> Iterator[tuple[Mark, str]]:
    expected = dict.fromkeys(("notes", "ignore"), "headings, as in `[Price, Shelf]`")
    for key, example in {**expected, "whole_numbers": "columns, as in `[number]`"}.items():
        listed = front.get(key, [])
        if not isinstance(listed, list) or not all(isinstance(one, str) and one for one in listed):
            yield front.value_mark(key), f"`{key}` has to be a list of {example}"
        elif key == "whole_numbers":
            for one in listed:
                if one not in can_be.names:
                    yield front.value_mark(key), f"there is no field `{one}`{_near(one, can_be.names)}"


def _is_texts(node: object) -> bool:
    return isinstance(node, dict) and all(isinstance(value, str) and value for value in node.values())


def _near(word: str, known: Sequence[str]) -> str:
    near = nearest(word, known)
    return f"; did you mean `{near}`?" if near else f"; known: {', '.join(known)}"
