"""The table that identifies a switch, of the tables of parts: as if it had been made of the whole book."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rangebook.desk.identify.table import Face, Lists, Mounting, Place, Ride, Row, Table


def joined(tables: Sequence[Mapping[str, Any]], families: Sequence[str]) -> Table:
    """Each table is what :func:`rangebook.desk.identify.data.as_data` gives, with the rows of some families; places in lists are given
    anew in the order in which a table of the whole book comes to them."""
    rows_of: dict[int, list[tuple[Mapping[str, Any], Sequence[Any]]]] = {}
    for table in tables:
        for row in table["rows"]:
            rows_of.setdefault(row[1], []).append((table, row))
    making = _Joining()
    rows = tuple(making.row(table, row) for at in range(len(families)) for table, row in rows_of.get(at, ()))
    faces, mountings, marks = tuple(making.faces.listed), tuple(making.mountings.listed), tuple(making.marks.listed)
    gearboxes, vehicles, places = tuple(making.gearboxes.listed), tuple(making.vehicles.listed), tuple(making.places.listed)
    return Table(tuple(families), faces, mountings, marks, gearboxes, vehicles, places, rows)


class _Joining(Lists):
    def row(self, table: Mapping[str, Any], row: Sequence[Any]) -> Row:
        number, family, face, pins, mounting, marks, places = row
        return Row(
            number,
            family,
            self._face(table, face),
            pins,
            None if mounting is None else self.mountings[Mounting(*table["mountings"][mounting])],
            tuple(self.marks[table["marks"][at]] for at in marks),
            tuple(self.places[self._place(table, table["places"][at])] for at in places),
        )

    def _face(self, table: Mapping[str, Any], at: int | None) -> int | None:
        if at is None:
            return None
        name, title, outline, rows = table["faces"][at]
        return self.faces[Face(name, title, outline, tuple(map(tuple, rows)))]

    def _place(self, table: Mapping[str, Any], place: Sequence[Any]) -> Place:
        face, must, may, fewest, most, rides, seat = place
        made = tuple(self._ride(table, ride) for ride in rides)
        return Place(self._face(table, face), must, may, fewest, most, made, seat)

    def _ride(self, table: Mapping[str, Any], ride: Sequence[Any]) -> Ride:
        vehicle, first, last, gearboxes = ride
        at = tuple(self.gearboxes[table["gearboxes"][one]] for one in gearboxes)
        return Ride(None if vehicle is None else self.vehicles[table["vehicles"][vehicle]], first, last, at)
