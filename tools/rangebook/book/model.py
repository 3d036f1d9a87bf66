"""What a book consists of. Every object is immutable and knows its ``path``: the way to it from the top of its file.

Lengths are millimetres, angles degrees, resistances ohms, torques newton metres. ``None`` means that it is not known,
never that there is none.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields, replace
from types import MappingProxyType
from typing import Any, NamedTuple

from rangebook.reading.entry import Entry
from rangebook.schema.store import Circuit as Circuit  # noqa: PLC0414 - what a wire or pin is for is a part of the book

KeyPath = tuple[str | int, ...]

CASE = "case"
"""The metal housing, as an end of a contact."""

NOT_CONNECTED = "not_connected"
"""The circuit of a pin that is known to be joined to nothing inside."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where something is known from, and when and by whom it was looked at. ``covers`` are the facts that it stands for, empty where
    it stands for all that is said beside it."""

    kind: str
    detail: str | None = None
    by: str | None = None
    on: str | None = None
    covers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture beside an entry: its file's name, from where it was taken, and what is to be seen on it."""

    file: str
    view: str | None
    shows: str
    path: KeyPath


@dataclass(frozen=True, slots=True)
class Terminal:
    """The terminals of a connector, of a kit's bag or of a single cavity. ``wires`` is how many wires one of them, and its seal, takes at
    the most; ``plating`` is ``tin``, ``silver`` or ``gold``; ``seal_mm`` are the thinnest and the thickest wire, over the insulation in mm,
    that its own seal closes round."""

    style: str | None = None
    width_mm: float | None = None
    on_switch: str | None = None
    wire_mm2: tuple[float, float] | None = None
    """The smallest and the largest wire, in mm2 of copper, that the plug's terminals are made for."""
    family: str | None = None
    wires: int | None = None
    plating: str | None = None
    seal_mm: tuple[float, float] | None = None

    def over(self, other: Terminal | None) -> Terminal:
        """What this one states, and where it does not what the other one does."""
        if other is None:
            return self
        stated = {one.name: found for one in fields(self) if (found := getattr(self, one.name)) is not None}
        return replace(other, **stated)


@dataclass(frozen=True, slots=True)
class Mate:
    """A further connector whose plug goes on a housing. ``cavities`` maps the plug's cavity to the one of the housing that it meets;
    ``None`` where each meets the one of its own label."""

    connector: str
    cavities: Mapping[str, str] | None
    path: KeyPath


@dataclass(frozen=True, slots=True, eq=False)
class Connector:
    """A housing: ``rows`` of cavity labels, looking into the switch with the latch up, ``None`` where there is no cavity."""

    id: str
    title: str
    outline: str
    rows: tuple[tuple[str | None, ...], ...]
    terminal: Terminal | None
    sealed: bool | None
    seal_wire_mm2: tuple[float, float] | None
    mates: tuple[Mate, ...]
    note: str | None
    sources: tuple[Source, ...]
    entry: Entry = field(compare=False, repr=False)
    photos: tuple[Photo, ...] = ()
    terminals: Mapping[str, Terminal] = field(default_factory=dict)
    """What single cavities have otherwise than ``terminal`` says."""
    former_ids: tuple[str, ...] = ()
    """Ids that it had before."""

    @property
    def cavities(self) -> tuple[str, ...]:
        """The labels of all cavities, row by row. Their count is the capacity."""
        return tuple(label for row in self.rows for label in row if label is not None)

    def terminal_at(self, cavity: str) -> Terminal:
        """The terminal of one cavity."""
        own = self.terminals.get(cavity)
        return own.over(self.terminal) if own else self.terminal or Terminal()


@dataclass(frozen=True, slots=True)
class Tail:
    """Leads out of a part's housing: what is at their end (``connector`` or ``bare``), how long they are, where they leave the housing."""

    ends: str | None
    length_mm: float | None
    leaves: str | None


class Socket(NamedTuple):
    """One connector of a part, or of a vehicle's plugs, by its id. ``name`` tells it from the others, empty where it is the only one and
    has none."""

    name: str
    connector: str

    def label(self, cavity: str) -> str:
        """What a cavity of it is called in the part or plug that it belongs to: ``lamp.1``, or ``1`` where it has no name."""
        return f"{self.name}.{cavity}" if self.name else cavity


Sockets = tuple[Socket, ...]


def ids_of(sockets: Sockets) -> tuple[str, ...]:
    """The connectors' ids, each once."""
    return tuple(dict.fromkeys(one.connector for one in sockets))


def socket_of(sockets: Sockets, label: str) -> Socket | None:
    """The one that a terminal's label names; ``None`` where there is none of that name."""
    name, _ = socket_and_cavity(label)
    return next((one for one in sockets if one.name == name), None)


def socket_path(socket: Socket) -> KeyPath:
    """The way to a connector from the part or plug that has it."""
    return ("connectors", socket.name) if socket.name else ("connector",)


def only(sockets: Sockets) -> str | None:
    """The connector's id of the one that has no name; ``None`` where there is none such."""
    return sockets[0].connector if sockets and not sockets[0].name else None


def by_name(sockets: Sockets) -> Mapping[str, str] | None:
    """The connectors' ids by their names; ``None`` where they have none."""
    return {one.name: one.connector for one in sockets} if sockets and sockets[0].name else None


def socket_and_cavity(label: str) -> tuple[str, str]:
    """The name of a connector and its cavity that a terminal's label is made of; the name is empty where it has none."""
    name, _, cavity = label.rpartition(".")
    return name, cavity


@dataclass(frozen=True, slots=True)
class Shaft:
    """The selector shaft."""

    shape: str | None
    across_mm: float | None


@dataclass(frozen=True, slots=True)
class Bolt:
    """One bolt, polar about the shaft. A slot is an arc of ``slot_deg``, 0 for a plain hole, its middle at ``at_deg``."""

    at_mm: float
    at_deg: float
    bolt_mm: float | None
    hole_mm: float | None
    slot_deg: float
    spacer_mm: float | None
    torque_nm: float | None = None
    """Its own, where it is not that of the others."""


@dataclass(frozen=True, slots=True)
class Fitting:
    """How switches are fitted and set."""

    set_in: str | None
    method: str | None
    torque_nm: float | None
    cautions: tuple[str, ...]
    set_by: str | None = None
    """``pin``, ``line``, ``gauge`` or ``scan_tool``."""


@dataclass(frozen=True, slots=True)
class Hub:
    """Where the mark on the hub stands in ``position``, in degrees about the shaft as the bolts do, and the turn from each of the family's
    positions to the next, negative clockwise; empty where that is not stated."""

    position: str | None
    at_deg: float | None
    steps_deg: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Mount:
    """One way of bolting on. ``positions`` are its family's, in lever order: ``hub`` goes by them. From ``set_in`` on: how what is
    bolted on so is set, where the mount says otherwise than its family."""

    name: str
    shaft: Shaft | None
    bolts: tuple[Bolt, ...]
    note: str | None
    path: KeyPath
    hub: Hub | None = None
    positions: tuple[str, ...] = ()
    set_in: str | None = None
    method: str | None = None
    torque_nm: float | None = None
    cautions: tuple[str, ...] = ()
    set_by: str | None = None
    motion: str | None = None
    """How the gearbox moves it: ``shaft``, ``fork``, ``gear``, ``slider`` or ``snap_in``."""


@dataclass(frozen=True, slots=True)
class Contact:
    """One contact between ``a`` and ``b`` (pins, or :data:`CASE`).

    A switching contact has ``closed``, the positions in which it is closed; a resistive one has ``ohms`` by position,
    ``None`` in it for an open path. With neither, what the contact does is not known. ``rated_a`` is the current, in amperes, that it is
    made to switch. ``overlaps`` are neighbouring positions into which it stays closed: it is judged as closed there too. Where it is
    ``one_way`` a diode lets current through from ``a`` to ``b`` only, in the positions in which it is closed.
    """

    a: str
    b: str
    closed: frozenset[str] | None
    ohms: Mapping[str, float | None] | None
    tolerance_percent: float | None
    path: KeyPath
    listed: tuple[str, ...] | None = field(default=None, compare=False, repr=False)
    """``closed`` in the order, and with the doublings, in which it was typed."""
    rated_a: float | None = None
    overlaps: tuple[str, ...] = ()
    one_way: bool = False


Volts = float | tuple[float, float]
"""So many volts, or the least and the most."""


@dataclass(frozen=True, slots=True)
class Signal:
    """One powered output: ``kind`` is ``volts``, ``duty_percent``, ``frequency_hz`` or ``serial``, ``values`` by position in that unit.

    The electronics are made for ``supply_volts``; ``frequency_hz`` is the carrier of a duty cycle; ``pull_up_ohms`` and
    ``pull_up_volts`` are what the output needs to be pulled up by; ``polarity`` is ``high`` or ``low``: the level that is given, and of a
    duty cycle the one whose share of the time counts. ``output`` is ``push_pull``, ``open_low`` or ``open_high``; where it is
    ``ratiometric`` its volts are a share of its supply; ``protocol`` is that of ``serial`` data.
    """

    pin: str
    supply: str | None
    ground: str | None
    kind: str | None
    values: Mapping[str, float]
    tolerance: float | None
    path: KeyPath
    supply_volts: Volts | None = None
    frequency_hz: float | None = None
    pull_up_ohms: float | None = None
    pull_up_volts: float | None = None
    polarity: str | None = None
    output: str | None = None
    ratiometric: bool | None = None
    protocol: str | None = None


@dataclass(frozen=True, slots=True)
class Range:
    """Numbers or months from ``since`` up to ``until``, both of them too; ``None`` where it is open."""

    since: str | None
    until: str | None


@dataclass(frozen=True, slots=True)
class When:
    """On what condition something holds: all that is said together; a key that is ``None`` does not matter. Of the ranges of one key any
    will do. ``stamped_at`` is where it is read."""

    serial: tuple[Range, ...] | None = None
    vin: tuple[Range, ...] | None = None
    gearbox_serial: tuple[Range, ...] | None = None
    built: tuple[Range, ...] | None = None
    marked: str | None = None
    steering: str | None = None
    built_for: str | None = None
    stamped_at: str | None = None


@dataclass(frozen=True, slots=True)
class Need:
    """What someone says has to be ordered or done with a part. ``kit`` is a kit's id, ``seal`` a number of wire holes; ``part`` a number,
    ``item`` a piece without an entry, ``count`` of either; ``once`` whether the piece is renewed each time; ``work`` what is done, and
    ``using`` what it is done with."""

    kit: str | None = None
    seal: int | None = None
    blanks: int | None = None
    note: str | None = None
    part: str | None = None
    item: str | None = None
    count: int | None = None
    once: bool | None = None
    work: str | None = None
    using: str | None = None


@dataclass(frozen=True, slots=True)
class Succession:
    """A maker's statement that ``number`` takes a part's place. ``needs`` is ``None`` where nothing is said about them."""

    number: str
    since: str | None
    needs: tuple[Need, ...] | None
    note: str | None
    sources: tuple[Source, ...]
    path: KeyPath
    when: When | None = None
    """The vehicles for which the maker says so; all where it is ``None``."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """What was tried in the bay: ``outcome`` is ``works`` or ``fails``, ``on`` a day as year-month-day."""

    outcome: str
    on: str | None
    by: str | None
    vehicle: str | None
    note: str | None
    path: KeyPath


@dataclass(frozen=True, slots=True)
class OtherNumber:
    """Another number of a part. ``key`` is the number as it is compared, ``by`` whose it is."""

    number: str
    key: str
    by: str | None
    path: KeyPath


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """One part number, or one of the designs under it. ``key`` is the number as it is compared; ``family`` the id of its switch family.
    ``sockets`` are its connectors, none where that is not stated; ``tails`` those on leads, by the socket's name. From ``set_in`` on: how
    it is set, where that is not as its mount or family says.

    ``revisions`` are the designs that the entry tells of beside what it says of the part; each is a part of the same number with a key of
    its own, ``when`` says which parts are so, and ``restates`` which facts the revision states itself; the others are the part's.
    """

    number: str
    key: str
    family: str
    sockets: Sockets
    mount: str | None
    status: str | None
    stamped: tuple[str, ...]
    pins: Mapping[str, str] | None
    contacts: tuple[Contact, ...] | None
    signals: tuple[Signal, ...]
    superseded_by: tuple[Succession, ...]
    note: str | None
    sources: tuple[Source, ...]
    path: KeyPath
    photos: tuple[Photo, ...] = ()
    set_in: str | None = None
    method: str | None = None
    torque_nm: float | None = None
    cautions: tuple[str, ...] = ()
    plating: str | None = None
    """What its pins are plated with, where that is not as its connector says."""
    set_by: str | None = None
    needs: tuple[Need, ...] = ()
    """What has to be ordered or done whenever it is fitted."""
    goes_with: tuple[str, ...] = ()
    """Numbers of the parts that do the work together with it."""
    joined: tuple[str, ...] = ()
    """The keys of those whose connectors and contacts are told of here too: they are judged as one."""
    sold_as: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """``set`` or ``assembly`` -> the number that is ordered, where it is not sold by its own."""
    condition: str | None = None
    counterfeit_marks: tuple[str, ...] = ()
    when: When | None = None
    restates: tuple[str, ...] = ()
    revisions: tuple[Part, ...] = ()
    tails: Mapping[str, Tail] = field(default_factory=dict)
    inside: bool | None = None
    also_numbered: tuple[OtherNumber, ...] = ()
    fitted: tuple[Fitted, ...] = ()

    @property
    def designs(self) -> tuple[Part, ...]:
        """Every design that parts of this number have: the revisions, and before them what is said of the part itself, unless there are
        several of them and it leaves out just what they say. One alone is that of some parts, and the others are not known."""
        restated = {fact for one in self.revisions for fact in one.restates}
        itself = len(self.revisions) < 2 or any(getattr(self, fact) not in (None, (), {}) for fact in restated)
        return (self, *self.revisions) if itself else self.revisions

    def home(self, fact: str) -> KeyPath:
        """The way to what states a fact of it: of what a revision does not say itself, the part."""
        return self.path if fact in self.restates else self.path[:2]

    @property
    def connector(self) -> str | None:
        """The id of its one connector, where it has one without a name."""
        return only(self.sockets)

    @property
    def connectors(self) -> Mapping[str, str] | None:
        """The ids of its connectors by their names, where they have names."""
        return by_name(self.sockets)

    @property
    def tail(self) -> Tail | None:
        """The tail of its one connector, where it has one without a name."""
        return self.tails.get("")

    @property
    def keys(self) -> frozenset[str]:
        """All numbers that it goes by, as they are compared."""
        return frozenset((self.key.partition("/")[0], *(other.key for other in self.also_numbered)))

    @property
    def facts(self) -> tuple[str, ...]:
        """What is stated of it that a verdict is computed from, by the names that a source's ``for`` has for it; ``contacts`` are its
        powered outputs too."""
        stated = {
            "connector": self.sockets or None,
            "pins": self.pins,
            "contacts": self.contacts or self.signals or None,
            "mount": self.mount,
        }
        return tuple(name for name, value in stated.items() if value is not None)


@dataclass(frozen=True, slots=True)
class Wire:
    """One wire of a plug; ``colour`` by IEC 60757; ``carries_a`` is the most current, in amperes, that goes through it on the vehicle,
    ``gives_volts`` what the vehicle feeds through it, ``outer_mm`` how thick it is over its insulation. ``others`` are the wires that
    share its terminal."""

    cavity: str
    circuit: str | None
    colour: str | None
    size_mm2: float | None
    note: str | None
    carries_a: float | None = None
    gives_volts: Volts | None = None
    outer_mm: float | None = None
    others: tuple[Wire, ...] = ()
    side: str | None = None
    """``feed`` or ``ground``: which end of the coil or lamp the switch closes."""

    @property
    def all(self) -> tuple[Wire, ...]:
        """The wires of its terminal, this one first."""
        return (self, *self.others)

    @property
    def circuits(self) -> tuple[str, ...]:
        """What the wires of its terminal are for, as far as it is stated."""
        if not self.others:
            return (self.circuit,) if self.circuit else ()
        return tuple(one.circuit for one in self.all if one.circuit)

    @property
    def amps(self) -> float | None:
        """The most current through its terminal; ``None`` where it is not stated of each wire."""
        return _sum(one.carries_a for one in self.all)

    @property
    def mm2(self) -> float | None:
        """The copper in its terminal, in mm2; ``None`` where it is not stated of each wire."""
        return _sum(one.size_mm2 for one in self.all)


def _sum(values: Iterable[float | None]) -> float | None:
    stated = list(values)
    return None if None in stated else sum(one for one in stated if one is not None)


@dataclass(frozen=True, slots=True)
class Reads:
    """How the vehicle's module reads a resistance: across ``pins`` (signal, ground), pulled up to ``volts``."""

    pins: tuple[str, str]
    pull_up_ohms: float
    volts: float


@dataclass(frozen=True, slots=True)
class Cranks:
    """Where the engine cranks: ``by`` is ``switch`` or ``module``, ``positions`` are the lever's, ``side`` is ``feed`` or ``ground``, the
    end of the starter relay's coil that the switch closes. ``None``: not stated, so by the switch in P and N."""

    by: str | None
    positions: tuple[str, ...] | None
    side: str | None
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Plug:
    """The vehicle's side, one plug or several that belong together: ``wires`` by the cavity that carries them, ``loops`` the cavities that
    a jumper in a plug's shell joins."""

    name: str
    family: str
    sockets: Sockets
    wires: Mapping[str, Wire]
    reads: Reads | None
    note: str | None
    path: KeyPath
    loops: tuple[tuple[str, ...], ...] = ()
    cranks: Cranks | None = None
    plating: str | None = None
    """What its terminals are plated with, where that is not as its connector says."""
    loops_stated: bool = False
    """Whether somebody says which jumpers there are, or that there is none."""

    def each(self) -> Iterator[tuple[KeyPath, Wire]]:
        """Every wire with the way to it, those that share a terminal one by one."""
        for cavity, wire in self.wires.items():
            way = (*self.path, "wires", cavity)
            if not wire.others:
                yield way, wire
                continue
            for index, one in enumerate(wire.all):
                yield (*way, index), one

    @property
    def connector(self) -> str | None:
        """The id of its connector, where it has one without a name."""
        return only(self.sockets)

    @property
    def connectors(self) -> Mapping[str, str] | None:
        """The ids of its connectors by their names, where they have names."""
        return by_name(self.sockets)


@dataclass(frozen=True, slots=True, eq=False)
class Application:
    """One vehicle. ``first_year`` and ``last_year`` are model years; the last is ``None`` while it is still built."""

    vehicle: str
    years: str | None
    first_year: int | None
    last_year: int | None
    built_from: str | None
    built_to: str | None
    gearbox: str | None
    engine: str | None
    drive: str | None
    plug: str | None
    came_with: str | None
    lever: tuple[str, ...] | None
    optional_cavities: tuple[str, ...]
    fitted: tuple[Fitted, ...]
    note: str | None
    path: KeyPath
    stated: Mapping[str, Any] = field(compare=False, repr=False)
    """The application as it stands in the entry."""
    cranks: Cranks | None = None
    when: When | None = None

    @property
    def built(self) -> tuple[str | None, str | None]:
        """From and up to when it was built, wherever that is said."""
        ranges = self.when.built if self.when is not None else None
        since, until = (ranges[0].since, ranges[0].until) if ranges else (None, None)
        return self.built_from or since, self.built_to or until


@dataclass(frozen=True, slots=True)
class Allowance:
    """A finding that stands, with the reason why. ``at`` is its place in the entry by its name; ``None`` where none is named."""

    rule: str
    reason: str
    at: str | None
    path: KeyPath


@dataclass(frozen=True, slots=True, eq=False)
class Family:
    """A family of range switches. ``positions`` are in lever order; ``means`` says what some of them mean by the usual name."""

    id: str
    title: str
    also_called: tuple[str, ...]
    gearboxes: tuple[str, ...]
    positions: tuple[str, ...]
    mounts: Mapping[str, Mount]
    parts: tuple[Part, ...]
    plugs: Mapping[str, Plug]
    applications: tuple[Application, ...]
    fitting: Fitting | None
    trouble_codes: tuple[str, ...]
    note: str | None
    sources: tuple[Source, ...]
    entry: Entry = field(compare=False, repr=False)
    photos: tuple[Photo, ...] = ()
    means: Mapping[str, str] = field(default_factory=dict)
    former_ids: tuple[str, ...] = ()
    """Ids that it had before."""

    @property
    def designs(self) -> tuple[Part, ...]:
        """What is said of each part, and of each design of one number."""
        return tuple(one for part in self.parts for one in (part, *part.revisions))


@dataclass(frozen=True, slots=True)
class WireSeals:
    """``count`` seals for single wires of one size: the smallest and the largest wire that they close round, in mm2 of copper and in mm
    over the insulation."""

    count: int
    colour: str | None
    wire_mm2: tuple[float, float] | None
    outer_mm: tuple[float, float] | None


@dataclass(frozen=True, slots=True, eq=False)
class Kit:
    """A plug renewal kit for any of the plugs ``olds``. ``moves`` maps old cavity to new; ``seals`` are numbers of wire holes; both
    ``None`` if not known. ``terminal`` and ``terminals`` are what is in the bag, where that is not as the new plug's connector says.
    ``loops`` are the cavities of the new plug that a jumper in its shell joins."""

    id: str
    number: str
    key: str
    title: str
    olds: tuple[str, ...]
    new: str
    moves: Mapping[str, str]
    seals: tuple[int, ...] | None
    blanks: int | None
    note: str | None
    sources: tuple[Source, ...]
    entry: Entry = field(compare=False, repr=False)
    photos: tuple[Photo, ...] = ()
    loops: tuple[tuple[str, ...], ...] = ()
    """``fans`` among them, the last: where a lead brings one wire to several cavities these are joined."""
    fans: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Old cavity -> every cavity that its wire goes to, where that is more than the one in ``moves``."""
    terminal: Terminal | None = None
    terminals: Mapping[str, Terminal] = field(default_factory=dict)
    wire_seals: tuple[WireSeals, ...] | None = None
    joins: str | None = None
    """``cut``, ``plug_in`` or ``splice``; where it is not stated the old plug is cut off."""
    cautions: tuple[str, ...] = ()
    """What goes wrong with it."""
    former_ids: tuple[str, ...] = ()
    """Ids that it had before."""

    @property
    def jumpers(self) -> tuple[tuple[str, ...], ...]:
        """Those of ``loops`` that are in the shell of the new plug: what a lead fans out to is joined in the lead."""
        return self.loops[: len(self.loops) - len(self.fans)]

    def places(self, old: str) -> tuple[str, ...]:
        """Every cavity of the new plug to which the wire from an old one goes; none where it has no place."""
        return self.fans.get(old) or ((self.moves[old],) if old in self.moves else ())

    def terminal_for(self, cavity: str, supplied: Connector | None) -> Terminal:
        """The terminal that goes into a cavity of the new plug, whose connector is ``supplied``."""
        common = supplied.terminal_at(cavity) if supplied else Terminal()
        for own in (self.terminal, self.terminals.get(cavity)):
            common = own.over(common) if own else common
        return common
