"""The question that splits what is left best.

Suppose that what is in the hand is one of the parts that are left, each as likely as the next, and that the question is answered
truly; where the entry does not state it the answer would be "can't tell", and all stay. The best question is the one after which
fewest families are to be expected, then fewest parts, then the one that comes first in the list. It is picked in three rounds, a
later one only where nothing of the one before splits what is left: what can be looked at; what takes a calliper (it would often
split best and come first, and leave people standing who have none at hand; in the median it costs one answer more this way); and
the vehicle, for with a vehicle to go by one does not begin here.

The browser reckons the same in the same order of operations (additions of whole numbers and one division for each part), so
both ask the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rangebook.desk.identify.narrow import PATTERNS, STAMPED, Narrowed, State, narrow, ride_agrees, same_size
from rangebook.desk.identify.table import Place, Ride, Table
from rangebook.desk.identify.words import answer_words, question_words

LOOKED_AT = ("outline", "cavities", "face", "pins", "wires", "wired", "bolts", "shaft")
"""Questions about the part and its plug, in the order in which equally good ones are asked; marks come after them."""

MEASURED = ("across_mm",)
"""Questions that take a calliper."""

ABOUT_THE_VEHICLE = ("gearbox", "vehicle", "year")
"""Questions that are asked when nothing in the hand splits any more."""

MOST_OPTIONAL = 4
"""With more optional wires than this only the fewest and the most are reckoned with, not every choice of them."""

Answer = str | int | float | bool


@dataclass(frozen=True, slots=True)
class Question:
    """A question with its possible answers.

    ``kind`` is ``choice`` (one of ``answers``, or :data:`~rangebook.desk.identify.narrow.OTHER`), ``size`` (the same, or any
    number), ``yes_no``, or ``cavities``: then ``face`` is the id of the face to tap on, and there are no ``answers``. ``answers``
    are values with their words. ``families`` and ``parts`` are how many of each are to be expected once it is answered.
    """

    id: str
    words: str
    kind: str
    answers: tuple[tuple[Answer, str], ...]
    face: str | None
    families: float
    parts: float


@dataclass(frozen=True, slots=True)
class _Seen:
    """The answers that would be true of one part, and whether it also stays with any other one."""

    answers: tuple[Answer, ...]
    open: bool


def next_question(table: Table, state: State, vehicle: bool = True) -> Question | None:
    """The best question; ``None`` where none splits what is left. ``vehicle``: whether the vehicle may be asked for.

    Raises :class:`~rangebook.desk.identify.narrow.NotUnderstoodError`.
    """
    narrowed = narrow(table, state)
    for ids in ((*LOOKED_AT, *_marks(table, narrowed)), MEASURED, ABOUT_THE_VEHICLE if vehicle else ()):
        best: Question | None = None
        for name in ids:
            found = ask(table, state, narrowed, name)
            if found and (best is None or (found.families, found.parts) < (best.families, best.parts)):
                best = found
        if best:
            return best
    return None


def confirming_question(table: Table, state: State, vehicle: bool = True) -> Question | None:
    """One more question when :func:`next_question` has come to its end: what is left states it, and of the parts that a single answer
    has set aside it sets most aside once more, so that one wrong answer is noticed. ``None`` once it is answered."""
    narrowed = narrow(table, state)
    if not narrowed.rows or not any(value is not None for value in state.values()):
        return None
    before = list(state)[:-1]
    if _at_its_end(table, {name: state[name] for name in before}, vehicle):
        return None
    missed = _set_aside_by_one(table, state, narrowed)
    wide = Narrowed((*narrowed.rows, *missed), {**narrowed.places, **missed}, {})
    for ids in ((*LOOKED_AT, *_marks(table, wide)), MEASURED, ABOUT_THE_VEHICLE if vehicle else ()):
        best: tuple[int, Question] | None = None
        for name in ids:
            found = _confirm(table, state, narrowed, missed, name)
            if found and (best is None or found[0] > best[0]):
                best = found
        if best:
            return best[1]
    return None


def _at_its_end(table: Table, state: State, vehicle: bool) -> bool:
    """Whether one part or none is left, or no question splits what is left."""
    return len(narrow(table, state).rows) < 2 or next_question(table, state, vehicle) is None


def _set_aside_by_one(table: Table, state: State, narrowed: Narrowed) -> dict[int, tuple[int, ...]]:
    """The parts that are not left because of one answer alone, in the order of the answers, and what they may have come off then."""
    found: dict[int, tuple[int, ...]] = {}
    for name, value in state.items():
        if value is not None:
            other = narrow(table, {key: one for key, one in state.items() if key != name})
            for at in other.rows:
                if at not in narrowed.places:
                    found.setdefault(at, other.places[at])
    return found


def _confirm(
    table: Table, state: State, narrowed: Narrowed, missed: Mapping[int, tuple[int, ...]], name: str
) -> tuple[int, Question] | None:
    """A question with how many of ``missed`` it sets aside when it is answered truly of a part that is left."""
    near = missed
    if name in PATTERNS:
        # A face can be tapped on only where it is one and the same.
        faces = _faces(table, narrowed, name)
        near = {at: own for at, own in missed.items() if _faces(table, Narrowed((at,), {at: own}, {}), name) <= faces}
    wide = Narrowed((*narrowed.rows, *near), {**narrowed.places, **near}, {})
    question = ask(table, state, wide, name) if near else None
    if question is None:
        return None
    seen = {at: _seen(table, state, wide, name, at) for at in wide.rows}
    if any(not seen[at].answers or seen[at].open for at in narrowed.rows):
        return None
    told = [answer for at in narrowed.rows for answer in seen[at].answers]
    gone = sum(
        not one.open and not any(_same(name, answer, other) for answer in told for other in one.answers)
        for at, one in seen.items()
        if at in near
    )
    return (gone, question) if gone else None


def _same(name: str, one: Answer, other: Answer) -> bool:
    return same_size(one, other) if name == "across_mm" else one == other  # type: ignore[arg-type]


def ask(table: Table, state: State, narrowed: Narrowed, name: str) -> Question | None:
    """One question by its id; ``None`` where it is answered already, cannot be put yet, or splits nothing."""
    if name in state or not _can_be_put(table, state, narrowed, name):
        return None
    seen = {at: _seen(table, state, narrowed, name, at) for at in narrowed.rows}
    families, parts, splits = _expected(table, name, seen)
    if not splits:
        return None
    face = None
    kind = "yes_no" if name.startswith(STAMPED) else "size" if name == "across_mm" else "cavities" if name in PATTERNS else "choice"
    values: Sequence[Answer] = ()
    if kind == "cavities":
        (face_at,) = _faces(table, narrowed, name)
        face = table.faces[face_at].id
    elif kind == "yes_no":
        values = (True, False)
    else:
        values = sorted({_value(table, name, one) for two in seen.values() for one in two.answers})
    answers = tuple((value, answer_words(table, name, value)) for value in values)
    count = len(seen)
    return Question(name, question_words(name), kind, answers, face, families / count, parts / count)


def _marks(table: Table, narrowed: Narrowed) -> Iterator[str]:
    marks = {mark for at in narrowed.rows for mark in table.rows[at].marks}
    yield from (f"{STAMPED}{table.marks[mark]}" for mark in sorted(marks))


def _can_be_put(table: Table, state: State, narrowed: Narrowed, name: str) -> bool:
    """A face is shown for choice only when outline and cavities are settled, and can be tapped on only when it is known."""
    if name == "face":
        faces = [table.faces[at] for at in _faces(table, narrowed, "pins")]
        outlines, counts = {face.outline for face in faces}, {len(face.cavities) for face in faces}
        return ("outline" in state or len(outlines) == 1) and ("cavities" in state or len(counts) == 1)
    if name in PATTERNS:
        return len(_faces(table, narrowed, name)) == 1
    return True


def _faces(table: Table, narrowed: Narrowed, name: str) -> set[int]:
    """The faces of the parts that are left, or those of the plugs that they may have been taken off."""
    if name == "pins":
        found = {table.rows[at].face for at in narrowed.rows}
    else:
        found = {table.places[place].face for places in narrowed.places.values() for place in places}
    return {face for face in found if face is not None}


def _expected(table: Table, name: str, seen: Mapping[int, _Seen]) -> tuple[float, float, bool]:
    """Families and parts that stay, each summed over every part as the true one; and whether that is less than all of them."""
    families_all = len({table.rows[at].family for at in seen})
    stay = _staying(table, name, seen)
    families, parts = 0.0, 0.0
    for one in seen.values():
        if one.answers:
            families += sum(stay[answer][0] for answer in one.answers) / len(one.answers)
            parts += sum(stay[answer][1] for answer in one.answers) / len(one.answers)
        else:
            families += families_all
            parts += len(seen)
    splits = any(two[1] < len(seen) for two in stay.values())
    return families, parts, splits


def _staying(table: Table, name: str, seen: Mapping[int, _Seen]) -> dict[Answer, tuple[int, int]]:
    """Answer -> how many families and how many parts stay with it."""
    everywhere = [at for at, one in seen.items() if one.open]
    having: dict[Answer, list[int]] = {}
    for at, one in seen.items():
        if not one.open:
            for answer in one.answers:
                having.setdefault(answer, []).append(at)
        else:
            for answer in one.answers:
                having.setdefault(answer, [])
    always = {table.rows[at].family for at in everywhere}
    stay = {}
    for answer in having:
        near = [other for other in having if same_size(answer, other)] if name == "across_mm" else [answer]  # type: ignore[arg-type]
        rows = [at for other in near for at in having[other]]
        stay[answer] = len(always | {table.rows[at].family for at in rows}), len(everywhere) + len(rows)
    return stay


def _seen(table: Table, state: State, narrowed: Narrowed, name: str, at: int) -> _Seen:
    """What would be answered truly of one part that is left."""
    row = table.rows[at]
    if name.startswith(STAMPED):
        has = any(table.marks[mark] == name.removeprefix(STAMPED) for mark in row.marks)
        return _Seen((has,) if row.marks else (), not row.marks)
    if name in ("outline", "cavities", "face"):
        if row.face is None:
            return _Seen((), True)
        face = table.faces[row.face]
        return _Seen((face.outline if name == "outline" else len(face.cavities) if name == "cavities" else row.face,), False)
    if name == "pins":
        return _Seen((), True) if row.pins is None else _Seen((row.pins,), False)
    if name in ("bolts", "shaft", "across_mm"):
        stated = None if row.mounting is None else getattr(table.mountings[row.mounting], name)
        return _Seen((), True) if stated is None else _Seen((stated,), False)
    places = [table.places[place] for place in narrowed.places[at]]
    if name in ("wires", "wired"):
        each = [_wires(place) if name == "wires" else _patterns(place) for place in places]
    else:
        facts = {key: value for key, value in state.items() if key in ABOUT_THE_VEHICLE and value is not None}
        each = [_of_ride(table, name, ride) for place in places for ride in place.rides if ride_agrees(table, ride, facts)]
    return _Seen(tuple(dict.fromkeys(answer for answers in each for answer in answers)), any(not answers for answers in each))


def _wires(place: Place) -> Sequence[int]:
    return () if place.fewest is None or place.most is None else range(place.fewest, place.most + 1)


def _patterns(place: Place) -> Sequence[str]:
    """Every pattern of wires that a plug may have; empty where it is not known."""
    if place.must is None or place.may is None:
        return ()
    optional = [at for at, (sure, may) in enumerate(zip(place.must, place.may, strict=True)) if sure != may]
    if len(optional) > MOST_OPTIONAL:
        return (place.must, place.may)
    found = [place.must]
    for at in optional:
        found += [f"{pattern[:at]}1{pattern[at + 1 :]}" for pattern in found]
    return found


def _of_ride(table: Table, name: str, ride: Ride) -> Sequence[int]:
    if name == "gearbox":
        return ride.gearboxes
    if name == "vehicle":
        return () if ride.vehicle is None else (ride.vehicle,)
    return () if ride.first is None else range(ride.first, (ride.last or max(table.newest, ride.first)) + 1)


def _value(table: Table, name: str, answer: Answer) -> Answer:
    """An answer as it stands in a state: names instead of places in the table."""
    match name:
        case "face":
            return table.faces[answer].id  # type: ignore[index]
        case "gearbox":
            return table.gearboxes[answer]  # type: ignore[index]
        case "vehicle":
            return table.vehicles[answer]  # type: ignore[index]
        case _:
            return answer
