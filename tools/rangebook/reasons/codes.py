"""Every code that a reason can have: the one list. What each means stands in its docstring, what it holds in its fields.

Units stand in the names: ``_mm``, ``_mm2``, ``_deg`` (anticlockwise about the shaft, looking at the plug side, latch up), ``_volts``,
``_amps``, ``_percent``; ohms are ohms. ``positions`` are those of the lever, ``cavities`` those of the vehicle's plug, ``pins`` cavities of
the part's housing.
A code is never renamed and never means something else: other programs go by it.
"""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from rangebook.reasons.reason import Detail, Outcome, Rank, Side, declared

FOR, AGAINST, MISSING = Outcome


# Records that parameters are made of --------------------------------------------------------------------------------------


class Terminal(NamedTuple):
    """A cavity of the vehicle's plug with every circuit that it is known as; ``case`` is the housing."""

    cavity: str
    circuits: tuple[str, ...]


class Between(NamedTuple):
    """What is between two terminals: ``path`` is ``joined``, ``open``, ``ohms``, ``unknown``, or through a diode ``one_way`` from the first
    to the second or ``one_way_back``; ``ohms`` to four figures."""

    path: str
    ohms: float | None


class Difference(NamedTuple):
    """What two parts do otherwise in some positions. ``tolerance_percent`` is how far apart two resistances may be; ``reading_unknown``
    where the module might still read them right, but nothing is stated of how it reads."""

    positions: tuple[str, ...]
    original: Between
    candidate: Between
    tolerance_percent: float | None
    reading_unknown: bool


class Mistake(NamedTuple):
    """A position that the module takes for another: surely, or only at the worst of both tolerances."""

    position: str
    taken_for: str
    sure: bool


class Overlap(NamedTuple):
    """A position whose reading may, at the worst of its tolerance, be that of another."""

    position: str
    other: str


class SignalValue(NamedTuple):
    """What two powered outputs give in one position, in the unit of their kind."""

    position: str
    original: float
    candidate: float


class ShaftSize(NamedTuple):
    """The hole for the shaft."""

    shape: str
    across_mm: float | None


class Turn(NamedTuple):
    """How far the switch can be turned for setting: ``left_deg``, and where its slots have more of their own ``of_deg``; ``scant``
    where it may be too little to set it."""

    left_deg: float
    of_deg: float | None
    scant: bool


class SpacerApart(NamedTuple):
    """Spacers at one bolt."""

    at_deg: float
    original_mm: float
    candidate_mm: float


class Bore(NamedTuple):
    """A bolt's size and the one that a hole is made for."""

    hole_for_mm: float
    bolt_mm: float


class Hole(NamedTuple):
    """How wide a hole is, and how far from the shaft."""

    hole_mm: float
    at_mm: float


class TerminalMade(NamedTuple):
    """The terminals of a connector, as its entry states them: ``style``, width of the blade or diameter of the pin, and which half sits on
    the switch; ``None`` where it is not stated."""

    style: str | None
    width_mm: float | None
    on_switch: str | None


class WireSize(NamedTuple):
    """A wire of the vehicle by its cavity, with its cross-section in square millimetres of copper."""

    cavity: str
    size_mm2: float


class WireOver(NamedTuple):
    """A wire of the vehicle by its cavity, with its thickness over the insulation in millimetres."""

    cavity: str
    outer_mm: float


class WideHole(NamedTuple):
    """A hole, the bolt in it, and the widest hole that such a bolt has."""

    hole_mm: float
    bolt_mm: float
    widest_mm: float


class SpareEar(NamedTuple):
    """An ear of the candidate that gets no bolt: where it is, and its spacer, ``None`` where that is not stated."""

    at_mm: float
    at_deg: float
    spacer_mm: float | None


class Detent(NamedTuple):
    """How far the hubs have turned in a position, from the first that was compared."""

    position: str
    original_deg: float
    candidate_deg: float


class Also(NamedTuple):
    """One thing that is needed beside a plug's kits: ``kind`` is ``part``, ``item``, ``work``, ``set`` or ``assembly`` (what the part is
    sold as), ``kit``, ``seal`` or ``blanks``; ``what`` is the number, the piece, the work or the kit's id, of a seal its wire holes, of
    blanking plugs how many. ``how_many`` and ``once`` are of a part or piece, ``using`` is what work is done with; ``None`` where that is
    not stated.
    """

    kind: str
    what: str
    how_many: int | None = None
    once: bool | None = None
    using: str | None = None
    note: str | None = None


class Move(NamedTuple):
    """A wire from one cavity of the plug to another."""

    old: str
    new: str


class Term(NamedTuple):
    """One thing that a condition asks for. ``what`` is ``serial``, ``vin``, ``gearbox_serial``, ``built``, ``marked``, ``steering`` or
    ``built_for``, or ``wires``: a wire in a cavity; that is ``exactly`` so, or from ``since`` to ``until``, ``None`` where it is open."""

    what: str
    exactly: str | None
    since: str | None
    until: str | None


class Clause(NamedTuple):
    """A condition of the original, the candidate, the vehicle or its plug (``side``): ``terms`` hold together; ``otherwise`` where that is
    not so. Without terms nobody knows what to go by."""

    side: Side
    terms: tuple[Term, ...]
    otherwise: bool


class Case(NamedTuple):
    """One of several answers, and the conditions on which it is the right one."""

    clauses: tuple[Clause, ...]
    verdict: str


class Reading(NamedTuple):
    """Something to read: ``what`` as in a term, of whom (``side``), and where it is stamped, ``None`` where the book does not say."""

    what: str
    side: Side
    stamped_at: str | None


class PlugNamed(NamedTuple):
    """One of several plugs or connectors: its name in the entry, empty where it has none, and what people call its connector."""

    name: str
    title: str


class Danger(StrEnum):
    """What a path that must not be there does."""

    STARTER = "starter_in_gear"
    BACKUP = "backup_lamps_not_in_reverse"
    OTHER = "safety_circuit_joined"


class Contradiction(StrEnum):
    """Which stated facts cannot all be so. The linter's rule of this name tells of the place."""

    BACKUP_LAMP = "backup-lamp"
    CAVITY_TWICE = "cavity-twice"
    CONTACT_TO_ITSELF = "contact-to-itself"
    CONTACT_WITHOUT_PIN = "contact-without-pin"
    CRANKING = "cranking"
    DUPLICATE_NUMBER = "duplicate-number"
    HOLE_TOO_SMALL = "hole-too-small"
    ID_AND_FILE = "id-and-file"
    KIT_MOVES = "kit-moves"
    KIT_SEALS = "kit-seals"
    LAYERS_CONTRADICT = "layers-contradict"
    LEVER_ORDER = "lever-order"
    ORIGINAL_MISFIT = "original-misfit"
    OVERLAP_APART = "overlap-apart"
    POSITION_MEANING = "position-meaning"
    PIN_OUTSIDE_HOUSING = "pin-outside-housing"
    POSITION_TWICE = "position-twice"
    POSITIONS_ALIKE = "positions-alike"
    SIGNAL_FACTS = "signal-facts"
    SIGNAL_TWICE = "signal-twice"
    SIGNAL_WITHOUT_PIN = "signal-without-pin"
    START_PATH = "start-path"
    SUPPLY_BEYOND = "supply-beyond"
    TERMINAL_OUTSIDE = "terminal-outside"
    UNKNOWN_CIRCUIT = "unknown-circuit"
    UNKNOWN_CONNECTOR = "unknown-connector"
    UNKNOWN_MOUNT = "unknown-mount"
    UNKNOWN_POSITION = "unknown-position"
    WINDOWS_OVERLAP = "windows-overlap"
    WIRE_CIRCUIT_DISAGREES = "wire-circuit-disagrees"
    WIRE_OUTSIDE_PLUG = "wire-outside-plug"


# Mount --------------------------------------------------------------------------------------------------------------------


@declared("mount.came_with", FOR)
class MountCameWith(Detail):
    """It is the part that the vehicle was built with; how either bolts on is not stated and need not be."""


@declared("mount.same", FOR)
class SameMount(Detail):
    """Both parts are of one family and have its mount of this name."""

    mount: str
    turn: Turn | None


@declared("mount.fits", FOR)
class MountFits(Detail):
    """The shaft is the same and the holes take the bolts; ``bore`` where the holes are made for bolts of another size."""

    shaft: ShaftSize
    bolts: int
    bore: Bore | None
    turn: Turn


@declared("mount.companion_fits", FOR)
class CompanionMountFits(Detail):
    """``number``, which does the work together with the candidate, bolts on where ``original`` was; what else they are has a place of its
    own."""

    number: str
    original: str


@declared("mount.moved_alike", FOR)
class MovedAlike(Detail):
    """Both are moved in the same way that is not a shaft, and bolt on alike; ``bolts`` is 0 and ``turn`` ``None`` where they snap in.
    ``shaft`` where one is stated of both."""

    motion: str
    shaft: ShaftSize | None
    bolts: int
    bore: Bore | None
    turn: Turn | None


@declared("mount.not_stated", MISSING, Rank.CHECK)
class MountNotStated(Detail):
    """How a part, or either of them, bolts on is not stated."""


@declared("mount.companion_not_stated", MISSING, Rank.CHECK)
class CompanionMountNotStated(Detail):
    """Whether ``number``, which does the work together with the candidate, bolts on where ``original`` was, whose plugs it takes, is not
    known."""

    number: str
    original: str


@declared("mount.taken_place_not_stated", MISSING, Rank.CHECK)
class TakenPlaceNotStated(Detail):
    """Whether the candidate bolts on where ``original`` was, whose plugs it takes while another part sits in the original's place, is not
    known."""

    original: str


@declared("mount.motion_not_stated", MISSING, Rank.CHECK)
class MotionNotStated(Detail):
    """One of the two is said to be moved by ``motion``; by what the subject is moved is not stated."""

    motion: str


@declared("mount.shaft_not_stated", MISSING, Rank.CHECK)
class ShaftNotStated(Detail):
    """Shape or size of the hole for the shaft is not stated."""


@declared("mount.bolts_not_stated", MISSING, Rank.CHECK)
class BoltsNotStated(Detail):
    """Where the bolt holes are is not stated."""


@declared("mount.bolt_size_not_stated", MISSING, Rank.CHECK)
class BoltSizeNotStated(Detail):
    """How thick the original's bolts are, or how wide the candidate's holes, is not stated."""


@declared("mount.spacer_not_stated", MISSING, Rank.CHECK)
class SpacerNotStated(Detail):
    """The spacers at these bolts (by their angle on the gearbox) are not stated for the subject, and so not known to be the same."""

    at_deg: tuple[float, ...]


@declared("mount.hub_not_stated", MISSING, Rank.CHECK)
class HubNotStated(Detail):
    """Where the hub stands among the bolts, or how far it turns from detent to detent, is not stated for the subject: so the contacts might
    be those of another position. ``position`` is the one in which hubs are best held against each other."""

    position: str


@declared("mount.hole_too_wide", MISSING, Rank.CHECK)
class HoleTooWide(Detail):
    """Holes of the candidate are wider than any hole for such a bolt (ISO 273, coarse series): one of the figures is wrong, or a bush
    belongs in the hole."""

    holes: tuple[WideHole, ...]


@declared("mount.slot_too_long", MISSING, Rank.CHECK)
class SlotTooLong(Detail):
    """Slots of the candidate are so long that it could be set a whole detent off; they have to stay below ``limit_deg``."""

    slots_deg: tuple[float, ...]
    limit_deg: float


@declared("mount.spare_ear_may_foul", MISSING, Rank.CHECK)
class SpareEarMayFoul(Detail):
    """The candidate has more ears than the gearbox has bolts, with a spacer or with one that is not stated: it may foul the gearbox."""

    ears: tuple[SpareEar, ...]


@declared("mount.motion_differs", AGAINST)
class MotionDiffers(Detail):
    """The gearbox moves the original in another way than the candidate is made for: ``shaft``, ``fork``, ``gear``, ``slider`` or
    ``snap_in``."""

    original: str
    candidate: str


@declared("mount.shaft_shape_differs", AGAINST)
class ShaftShapeDiffers(Detail):
    """The holes for the shaft have different shapes."""

    original: ShaftSize
    candidate: ShaftSize


@declared("mount.shaft_size_differs", AGAINST)
class ShaftSizeDiffers(Detail):
    """The holes for the shaft are of one shape and of different sizes across."""

    original_mm: float
    candidate_mm: float


@declared("mount.too_few_holes", AGAINST)
class TooFewHoles(Detail):
    """The gearbox has more bolts than the candidate has holes."""

    bolts: int
    holes: int


@declared("mount.spacer_differs", AGAINST)
class SpacerDiffers(Detail):
    """The bolts stand right and the spacers are different."""

    spacers: tuple[SpacerApart, ...]


@declared("mount.mirror_image", AGAINST)
class MirrorImage(Detail):
    """The holes would take the bolts if the candidate were turned over."""


@declared("mount.no_hole_for_bolt", AGAINST)
class NoHoleForBolt(Detail):
    """No hole is wide enough for a bolt that stands so far from the shaft."""

    bolt_mm: float
    at_mm: float
    holes: tuple[Hole, ...]


@declared("mount.holes_elsewhere", AGAINST)
class HolesElsewhere(Detail):
    """Each bolt finds a hole at its distance, but no turn about the shaft brings all together."""

    bolts_deg: tuple[float, ...]
    holes_deg: tuple[float, ...]


@declared("mount.hub_elsewhere", AGAINST)
class HubElsewhere(Detail):
    """At no turn that the bolts allow does the hub stand right: where its mark stands in this position, on the original and on the
    candidate, each from where its bolts are counted."""

    position: str
    original_deg: float
    candidate_deg: float


@declared("mount.inside_not_stated", MISSING, Rank.CHECK)
class InsideNotStated(Detail):
    """The other part sits inside the gearbox, behind a connector in its case; whether the subject does is not stated."""


@declared("mount.inside_differs", AGAINST)
class InsideDiffers(Detail):
    """One of the parts sits inside the gearbox, behind a connector in its case, and the other does not; ``candidate`` is whether the
    candidate does."""

    candidate: bool


@declared("mount.companion_differs", AGAINST)
class CompanionMountDiffers(Detail):
    """``number``, which does the work together with the candidate, does not bolt on where ``original`` was, whose plugs it takes."""

    number: str
    original: str


@declared("mount.taken_place_differs", AGAINST)
class TakenPlaceDiffers(Detail):
    """The candidate does not bolt on where ``original`` was, whose plugs it takes while another part sits in the original's place."""

    original: str


@declared("mount.detents_differ", AGAINST)
class DetentsDiffer(Detail):
    """From detent to detent the hub does not turn as the original's does, or turns the other way."""

    detents: tuple[Detent, ...]


@declared("mount.order_differs", AGAINST)
class OrderDiffers(Detail):
    """The candidate has the lever's positions (``positions``) in another order (``own``)."""

    positions: tuple[str, ...]
    own: tuple[str, ...]


# Mating -------------------------------------------------------------------------------------------------------------------


@declared("mating.goes_on", FOR)
class GoesOn(Detail):
    """The plug goes on as it is: it is the ``same`` connector, or one that mates. ``title`` is the housing's."""

    title: str
    same: bool


@declared("mating.kit_needed", FOR)
class KitNeeded(Detail):
    """The plug goes on with a kit: ``number`` and ``title`` are the kit's. ``seal`` is the rear seal that is used, by its number of holes,
    ``None`` where there is none; ``fewest_wires`` is stated where some vehicles have fewer; ``blanks`` are the blanking plugs that are
    used, ``blanks_before`` those of them that the bags of kits before it leave, ``blanks_to_order`` those that are in neither, ``None``
    where what is in a bag is not stated; the rest is left over."""

    number: str
    title: str
    seals_stated: bool
    seal: int | None
    fewest_wires: int | None
    blanks: int
    blanks_in_bag: int | None
    blanks_to_order: int | None
    seals_left: tuple[int, ...]
    blanks_left: int
    blanks_before: int


@declared("mating.adapter_needed", FOR)
class AdapterNeeded(Detail):
    """A kit without loose terminals: ``joins`` is ``plug_in`` (an adapter lead that goes between, nothing is cut) or ``splice`` (a plug
    with leads, each joined to its wire). It needs no rear seal and no blanking plugs."""

    number: str
    title: str
    joins: str


@declared("mating.also_needed", FOR)
class AlsoNeeded(Detail):
    """What is needed beside the plug's kits, parts, pieces or work, whoever asks for it: the part itself, what it goes with, how it is
    sold, or the makers' chain that leads to it."""

    also: tuple[Also, ...]


@declared("mating.companion_housing_not_stated", MISSING, Rank.CHECK)
class CompanionHousingNotStated(Detail):
    """Some plug finds no connector of the candidate's, and which connector ``number`` has, which does the work together with it, is not
    stated."""

    number: str


@declared("mating.companion_not_in_book", MISSING, Rank.CHECK)
class CompanionNotInBook(Detail):
    """The candidate does the work together with other parts, and the book does not have these: what they do is not known."""

    numbers: tuple[str, ...]


@declared("mating.plug_goes_on", FOR)
class PlugGoesOn(Detail):
    """Of several plugs or connectors: the vehicle's plug of this name goes on the part's connector of this name, with ``kits`` (their
    numbers) where there are any. A name is empty where there is but one without."""

    plug: str
    connector: str
    title: str
    kits: tuple[str, ...]


@declared("mating.connector_unused", FOR)
class ConnectorUnused(Detail):
    """Connectors of the candidate on which no plug of the vehicle goes."""

    connectors: tuple[PlugNamed, ...]


@declared("mating.plugs_alike", FOR)
class PlugsAlike(Detail):
    """These plugs go on each other's connectors as well. ``either`` where it does the same and is safe either way; else they are told
    apart by their names alone, and it is safe the other way round too; or the part is the one that the vehicle was built with."""

    plugs: tuple[str, ...]
    either: bool


@declared("mating.tail_compare", FOR)
class TailCompare(Detail):
    """Leads out of the housing whose length is not stated of both parts, and so to be compared: of the plug's connector on the original and
    on the candidate."""

    plug: str
    original_mm: float | None
    candidate_mm: float | None


@declared("mating.plugs_not_told", MISSING, Rank.CHECK)
class PlugsNotTold(Detail):
    """These plugs go on each other's connectors as well, it matters, and nothing stated keeps them apart; ``unsafe`` where the wrong way
    round it is not known to be safe."""

    plugs: tuple[str, ...]
    unsafe: bool


@declared("mating.plug_left_hanging", AGAINST)
class PlugLeftHanging(Detail):
    """Plugs of the vehicle for which the candidate has no connector; ``housings`` are those that it has."""

    plugs: tuple[PlugNamed, ...]
    housings: tuple[str, ...]


@declared("mating.tail_too_short", AGAINST)
class TailTooShort(Detail):
    """The leads to the connector are shorter than those of the original."""

    plug: str
    original_mm: float
    candidate_mm: float


@declared("mating.bare_leads", AGAINST)
class BareLeads(Detail):
    """The candidate ends in bare leads: no plug goes on them."""


@declared("mating.housing_not_stated", MISSING, Rank.ALL_THAT_FOLLOWS)
class HousingNotStated(Detail):
    """Which connector the candidate has is not stated."""


@declared("mating.connector_not_in_book", MISSING, Rank.ALL_THAT_FOLLOWS)
class ConnectorNotInBook(Detail):
    """The connector that the candidate or the plug is said to have has no entry."""

    connector: str


@declared("mating.entry_not_read", MISSING, Rank.ALL_THAT_FOLLOWS)
class EntryNotRead(Detail):
    """No way onto the housing is known, and entries of connectors or kits that might hold one could not be read."""

    files: tuple[str, ...]


@declared("mating.terminal_not_stated", MISSING, Rank.CHECK)
class TerminalNotStated(Detail):
    """The plug of one connector is said to go on the housing of another; these facts (``style``, ``width_mm``, ``on_switch``) about the
    terminals of the subject are not stated. ``cavities`` are the plug's in which that is so, where a housing mixes its terminals; none:
    in all."""

    facts: tuple[str, ...]
    cavities: tuple[str, ...]


@declared("mating.plating_not_stated", MISSING, Rank.CHECK)
class PlatingNotStated(Detail):
    """What the terminals of one half are plated with (``other``) is stated, and not what those of the subject are, in these cavities of
    the plug."""

    other: str
    cavities: tuple[str, ...]


@declared("mating.wires_together_not_stated", MISSING, Rank.CHECK)
class WiresTogetherNotStated(Detail):
    """Several wires share a cavity, and whether the terminals of a kit's plug, or (``part`` is ``seal``) its seal, take so many is not
    stated, or of the wires how thick they are."""

    number: str
    part: str
    cavities: tuple[str, ...]


@declared("mating.sealing_not_stated", MISSING, Rank.CHECK)
class SealingNotStated(Detail):
    """The plug of one connector is said to go on the housing of another; whether the subject is sealed is not stated."""


@declared("mating.cavities_not_matched", MISSING, Rank.ALL_THAT_FOLLOWS)
class CavitiesNotMatched(Detail):
    """The plug is said to go on the housing, and which of its cavities meets which is not stated: they have other labels, or the map that
    is stated cannot be right."""

    plug_title: str
    housing_title: str


@declared("mating.map_lacks_wires", MISSING, Rank.ALL_THAT_FOLLOWS)
class MapLacksWires(Detail):
    """The map of a plug's cavities onto the housing's does not name these, which carry a wire."""

    cavities: tuple[str, ...]


@declared("mating.original_not_on_plug", MISSING, Rank.ALL_THAT_FOLLOWS)
class OriginalNotOnPlug(Detail):
    """By their connectors the vehicle's plug does not go on the part that it was built with, or it is not stated which cavity meets which:
    so it is not known which of that part's pins each wire meets, and what is asked of another part."""

    plug: str
    housing: str


@declared("mating.bag_not_stated", MISSING, Rank.CHECK)
class BagNotStated(Detail):
    """A kit supplies a plug that is ``sealed``, or of which that is not stated, and which rear seals are in its bag is not stated."""

    number: str
    title: str
    wires: int
    sealed: bool


@declared("mating.rows_differ", AGAINST)
class RowsDiffer(Detail):
    """The plug is said to go on the housing, each cavity on the one of its label, and their cavities are not in the same places."""

    plug_title: str
    housing_title: str


@declared("mating.outline_differs", AGAINST)
class OutlineDiffers(Detail):
    """The plug is said to go on the housing, and they have not one outline."""

    plug: str
    housing: str


@declared("mating.terminal_differs", AGAINST)
class TerminalDiffers(Detail):
    """The plug is said to go on the housing, and their terminals have not one style, width and sex: in these ``cavities`` of the plug
    where a housing mixes its terminals; none named: in all."""

    plug: TerminalMade
    housing: TerminalMade
    cavities: tuple[str, ...]


@declared("mating.plating_differs", AGAINST)
class PlatingDiffers(Detail):
    """Terminals plated with tin would meet others that are not, in these cavities of the plug."""

    plug: str
    housing: str
    cavities: tuple[str, ...]


@declared("mating.sealing_differs", AGAINST)
class SealingDiffers(Detail):
    """The plug is said to go on the housing, and one of them is sealed and the other is not."""

    plug: bool
    housing: bool


@declared("mating.wire_size_differs", AGAINST)
class WireSizeDiffers(Detail):
    """Wires of the vehicle are too thin or too thick for the terminals of a kit's plug, or (``part`` is ``seal``) for its seal."""

    number: str
    part: str
    smallest_mm2: float
    largest_mm2: float
    wires: tuple[WireSize, ...]


@declared("mating.wire_too_thick", AGAINST)
class WireTooThick(Detail):
    """What a kit's terminals take is not stated, and wires of the vehicle are thicker than any terminal of their width is made for."""

    number: str
    width_mm: float
    largest_mm2: float
    wires: tuple[WireSize, ...]


@declared("mating.wire_over_differs", AGAINST)
class WireOverDiffers(Detail):
    """Wires of the vehicle are too thin or too thick over their insulation for the seals of a kit's terminals."""

    number: str
    smallest_mm: float
    largest_mm: float
    wires: tuple[WireOver, ...]


@declared("mating.wires_together", AGAINST)
class WiresTogether(Detail):
    """Several wires share each of these cavities, and a kit's terminals and their seals take no more than ``most``."""

    number: str
    most: int
    cavities: tuple[str, ...]


@declared("mating.wire_seals_lacking", AGAINST)
class WireSealsLacking(Detail):
    """A kit has too few seals for single wires that close round the wires in these cavities."""

    number: str
    cavities: tuple[str, ...]


@declared("mating.no_way", AGAINST)
class NoWay(Detail):
    """The plug does not go on the candidate's housing, and no kit leads there."""

    plug_title: str
    housing_title: str


@declared("mating.kit_lacks_wires", AGAINST)
class KitLacksWires(Detail):
    """Kits, by their numbers, that have no place for the wires in these cavities."""

    numbers: tuple[str, ...]
    cavities: tuple[str, ...]


@declared("mating.kit_joins_wires", AGAINST)
class KitJoinsWires(Detail):
    """A kit sends several wires to one cavity."""

    number: str
    cavities: tuple[str, ...]
    new: str


@declared("mating.kit_lacks_seal", AGAINST)
class KitLacksSeal(Detail):
    """No rear seal of a kit has holes enough; ``seals`` are those that it has."""

    number: str
    title: str
    wires: int
    seals: tuple[int, ...]


# Behaviour ----------------------------------------------------------------------------------------------------------------


@declared("behaviour.came_with", FOR)
class BehaviourCameWith(Detail):
    """It is the part that the vehicle was built with, each wire in its place."""


@declared("behaviour.agrees", FOR)
class Agrees(Detail):
    """Between each two wires, and each wire and the housing, both parts do the same in these positions. ``closed_paths`` and
    ``resistances`` are how many of these were found and agree; ``ladder_apart`` where the ladder was judged by its reading instead."""

    wires: int
    positions: tuple[str, ...]
    closed_paths: int
    resistances: int
    ladder_apart: bool


@declared("behaviour.ladder_read_right", FOR)
class LadderReadRight(Detail):
    """The module reads each position of the ladder as itself; at the worst of both tolerances so many volts are left, in this position.
    ``differs`` where the resistances are not the same within the original's tolerance."""

    cavities: tuple[str, ...]
    margin_volts: float
    position: str
    differs: bool


@declared("behaviour.moves_needed", FOR)
class MovesNeeded(Detail):
    """It agrees if these wires move. ``equal`` is in how many ways, ``or_more`` where they were not counted on. ``fewest`` where no fewer
    will do; else fewer might, depending on what is not stated."""

    moves: tuple[Move, ...]
    equal: int
    or_more: bool
    fewest: bool


@declared("behaviour.rating_compare", FOR)
class RatingCompare(Detail):
    """Contacts between these cavities' wires of which it is not stated that they are made for what the wires carry: their circuits have
    the same names in both parts, and the ratings are to be compared."""

    cavities: tuple[str, ...]


@declared("behaviour.idle_pins", FOR)
class IdlePins(Detail):
    """Pins of the candidate that get no wire."""

    pins: tuple[str, ...]


@declared("behaviour.condition_met", FOR)
class ConditionMet(Detail):
    """The maker says that it takes the original's place on a condition, and these vehicles meet it."""

    terms: tuple[Term, ...]


@declared("behaviour.condition_not_met", AGAINST)
class ConditionNotMet(Detail):
    """The maker says that it takes the original's place on a condition, and these vehicles do not meet it."""

    terms: tuple[Term, ...]


@declared("behaviour.positions_lacking", AGAINST)
class PositionsLacking(Detail):
    """Positions that the lever has and the candidate has not; ``own`` are the candidate's."""

    positions: tuple[str, ...]
    own: tuple[str, ...]


@declared("behaviour.positions_unclear", MISSING, Rank.ALL_THAT_FOLLOWS)
class PositionsUnclear(Detail):
    """Positions of the lever that may be one or another of the subject's, by what their names mean."""

    positions: tuple[str, ...]


@declared("behaviour.differs", AGAINST)
class Differs(Detail):
    """Two terminals between which the two parts do not do the same."""

    a: Terminal
    b: Terminal
    differences: tuple[Difference, ...]


@declared("behaviour.ladder_misread", AGAINST)
class LadderMisread(Detail):
    """The module would take positions for others."""

    cavities: tuple[str, ...]
    mistakes: tuple[Mistake, ...]


@declared("behaviour.rating_too_low", AGAINST)
class RatingTooLow(Detail):
    """The contacts between two terminals are made for less than the wires carry."""

    a: Terminal
    b: Terminal
    rated_amps: float
    carries_amps: float


@declared("behaviour.supply_differs", AGAINST)
class SupplyDiffers(Detail):
    """A wire supplies the electronics of one part and not of the other; ``of`` is the one that it does."""

    cavity: str
    of: Side
    not_of: Side


@declared("behaviour.supply_beyond", AGAINST)
class SupplyBeyond(Detail):
    """What the vehicle feeds through a wire is not what the candidate's electronics are made for; both in volts, a range as ``9 to 16``."""

    cavity: str
    given: str
    made_for: str


@declared("behaviour.signal_of_one_only", AGAINST)
class SignalOfOneOnly(Detail):
    """One part gives a powered signal on a wire and the other surely none."""

    cavity: str
    of: Side
    not_of: Side


@declared("behaviour.signal_kind_differs", AGAINST)
class SignalKindDiffers(Detail):
    """The powered signals on a wire are of different kinds: ``volts``, ``duty_percent``, ``frequency_hz`` or ``serial``."""

    cavity: str
    original_kind: str
    candidate_kind: str


@declared("behaviour.signal_value_differs", AGAINST)
class SignalValueDiffers(Detail):
    """The powered signals on a wire are of one kind and not the same; values and ``tolerance`` are in its unit."""

    cavity: str
    kind: str
    values: tuple[SignalValue, ...]
    tolerance: float | None


@declared("behaviour.signal_end_differs", AGAINST)
class SignalEndDiffers(Detail):
    """Supply or ground (``end``) of a powered output does not meet the same wire; ``None`` for a pin without a wire."""

    cavity: str
    end: str
    original: str | None
    candidate: str | None


@declared("behaviour.signal_fact_differs", AGAINST)
class SignalFactDiffers(Detail):
    """What drives a powered output is not the same. ``fact`` is its key in the entry: ``supply_volts``, ``frequency_hz``, ``pull_up_ohms``,
    ``pull_up_volts``, ``polarity``, ``output``, ``ratiometric`` or ``protocol``; the values are as they would be typed, a range as ``9 to
    16``."""

    cavity: str
    fact: str
    original: str
    candidate: str


@declared("behaviour.ladder_unsure", MISSING, Rank.COMPARISONS)
class LadderUnsure(Detail):
    """At nominal values the module reads each position as itself; at the worst of both tolerances these are not left enough. So many volts
    are left in the one that has least, negative beyond the boundary."""

    cavities: tuple[str, ...]
    overlaps: tuple[Overlap, ...]
    margin_volts: float


@declared("behaviour.ladder_without_wire", MISSING, Rank.COMPARISONS)
class LadderWithoutWire(Detail):
    """The module is said to read a ladder over cavities that carry no wire."""

    cavities: tuple[str, ...]


@declared("behaviour.readings_overlap", MISSING, Rank.COMPARISONS)
class ReadingsOverlap(Detail):
    """Resistances or a powered signal (then it is one cavity) of which at the worst of the tolerance one position may read as another; how
    the module tells them apart is not stated."""

    cavities: tuple[str, ...]
    overlaps: tuple[Overlap, ...]


@declared("behaviour.tolerance_too_wide", MISSING, Rank.COMPARISONS)
class ToleranceTooWide(Detail):
    """The tolerance of the resistances between these pins is wider than that of any resistor, and so does not say what they read."""

    pins: tuple[str, ...]
    tolerance_percent: float
    widest_percent: float


@declared("behaviour.rating_not_stated", MISSING, Rank.COMPARISONS)
class RatingNotStated(Detail):
    """Whether the contacts between two terminals are made for what the wires carry is not known: it is not stated, and either the names of
    a safety circuit differ (``names_differ``), or the candidate's contacts are made for less than the original's. ``None``: not stated."""

    a: Terminal
    b: Terminal
    names_differ: bool
    carries_amps: float | None
    original_amps: float | None
    candidate_amps: float | None


@declared("behaviour.depends", MISSING, Rank.ALL_THAT_FOLLOWS)
class Depends(Detail):
    """The answer is another one on other conditions: what the maker says it holds for, which of several designs under one number it is, or
    whether a wire is there that some vehicles lack. ``read`` is what to look at, ``cases`` are the answers."""

    read: tuple[Reading, ...]
    cases: tuple[Case, ...]


@declared("behaviour.companion_depends", MISSING, Rank.ALL_THAT_FOLLOWS)
class CompanionDepends(Detail):
    """The answer is another one for each design of ``number``, which does the work together with a part. ``read`` is what to look at on
    it, ``cases`` are the answers."""

    number: str
    read: tuple[Reading, ...]
    cases: tuple[Case, ...]


@declared("behaviour.contacts_not_stated", MISSING, Rank.COMPARISONS)
class ContactsNotStated(Detail):
    """What closes inside a part is not stated, nor, where ``pins_stated`` is false, which pins it has. ``pins`` are those to be metered
    against each other and the housing."""

    pins_stated: bool
    pins: tuple[str, ...]
    positions: tuple[str, ...]


@declared("behaviour.pin_not_stated", MISSING, Rank.COMPARISONS)
class PinNotStated(Detail):
    """No contact and no signal says what a pin does."""

    pin: str
    positions: tuple[str, ...]


@declared("behaviour.left_to_companion", MISSING, Rank.COMPARISONS)
class LeftToCompanion(Detail):
    """What the original does between ``a`` and ``b`` the candidate does not, and a part that it goes with does or may: which wires get to
    that one is not stated."""

    a: Terminal
    b: Terminal
    companions: tuple[str, ...]


@declared("behaviour.pair_not_stated", MISSING, Rank.COMPARISONS)
class PairNotStated(Detail):
    """What is between two terminals in these positions is not stated."""

    a: Terminal
    b: Terminal
    positions: tuple[str, ...]


@declared("behaviour.signal_not_stated", MISSING, Rank.COMPARISONS)
class SignalNotStated(Detail):
    """The other part (``of``) gives a powered signal on a wire; what the subject gives there is not stated."""

    cavity: str
    of: Side


@declared("behaviour.signal_kind_not_stated", MISSING, Rank.COMPARISONS)
class SignalKindNotStated(Detail):
    """Of which kind the powered signal on a wire is, is not stated."""

    cavity: str


@declared("behaviour.signal_value_not_stated", MISSING, Rank.COMPARISONS)
class SignalValueNotStated(Detail):
    """What a powered output gives in these positions is not stated."""

    cavity: str
    positions: tuple[str, ...]


@declared("behaviour.signal_end_not_stated", MISSING, Rank.COMPARISONS)
class SignalEndNotStated(Detail):
    """Which pin is supply or ground (``end``) of a powered output is not stated."""

    cavity: str
    end: str


@declared("behaviour.signal_fact_not_stated", MISSING, Rank.COMPARISONS)
class SignalFactNotStated(Detail):
    """What drives a powered output is stated of the other part or of the vehicle only, or of serial data of neither; ``fact`` is its key in
    the entry."""

    cavity: str
    fact: str


@declared("behaviour.supply_volts_not_stated", MISSING, Rank.COMPARISONS)
class SupplyVoltsNotStated(Detail):
    """What the vehicle feeds through a wire is not stated, and the original's electronics work with some of it with which the candidate's
    do not; both in volts, a range as ``9 to 16``."""

    cavity: str
    original: str
    candidate: str


@declared("behaviour.signal_twice", MISSING, Rank.COMPARISONS)
class SignalTwice(Detail):
    """More than one powered output is stated for one pin, so which of them it gives is not known."""

    cavity: str


@declared("behaviour.supply_not_stated", MISSING, Rank.COMPARISONS)
class SupplyNotStated(Detail):
    """A wire supplies the electronics of the other part (``of``); what it meets inside the subject is not stated."""

    cavity: str
    of: Side


@declared("behaviour.supply_without_wire", MISSING, Rank.COMPARISONS)
class SupplyWithoutWire(Detail):
    """No wire meets the supply or the ground (``end``) of either part's electronics, and they are different pins."""

    cavity: str
    end: str


@declared("behaviour.moves_uncertain", MISSING)
class MovesUncertain(Detail):
    """As the wires lie it differs; with these moves it might agree. What is not stated has reasons of its own."""

    moves: tuple[Move, ...]


@declared("behaviour.search_given_up", MISSING)
class SearchGivenUp(Detail):
    """Whether moving wires would help was not settled; nothing can be measured for that."""

    wires: int
    steps: int


# Safety -------------------------------------------------------------------------------------------------------------------


@declared("safety.path", AGAINST)
class HazardPath(Detail):
    """A path between an output (``out``) and another terminal, by their circuits, in positions where it can hurt someone. The other one is
    called ``feed`` since the first version, whatever it is: ``case`` is the housing, and no ``feed`` that nobody says what it is for."""

    danger: Danger
    feed_cavity: str
    feed: str | None
    out_cavity: str
    out: str
    positions: tuple[str, ...]


@declared("safety.path_not_stated", MISSING, Rank.COMPARISONS)
class HazardNotStated(Detail):
    """The same where it is not stated whether there is a path."""

    danger: Danger
    feed_cavity: str
    feed: str | None
    out_cavity: str
    out: str
    positions: tuple[str, ...]


@declared("safety.driven", AGAINST)
class HazardDriven(Detail):
    """Electronics of the candidate drive an output in these positions as they do where they may."""

    danger: Danger
    out_cavity: str
    out: str
    positions: tuple[str, ...]


@declared("safety.driven_not_known", MISSING, Rank.COMPARISONS)
class HazardDrivenNotKnown(Detail):
    """Electronics of the candidate give a signal on an output, and it is not known that this does not drive it in these positions."""

    danger: Danger
    out_cavity: str
    out: str
    positions: tuple[str, ...]


@declared("safety.wire_not_named", MISSING, Rank.CHECK)
class WireNotNamed(Detail):
    """Wires of which neither the plug nor a pin of the two parts says what they are for: one of them may be the starter's."""

    cavities: tuple[str, ...]


@declared("safety.positions_not_listed", MISSING, Rank.CHECK)
class GuardNotStated(Detail):
    """Wires of a safety circuit of which the list of circuits does not say in which positions it may be joined."""

    circuit: str
    cavities: tuple[str, ...]


@declared("safety.lever_incomplete", MISSING, Rank.CHECK)
class LeverIncomplete(Detail):
    """The lever is said to lack positions that it must have; ``no_forward`` where it has no forward range at all."""

    lever: tuple[str, ...]
    lacking: tuple[str, ...]
    no_forward: bool


@declared("safety.module_cranks", MISSING, Rank.CHECK)
class ModuleCranks(Detail):
    """An output of the starter (``out``) has a path in forward positions in which a module is said to crank the engine by itself: whether
    it is by this wire is not known, so nothing is called safe by it."""

    out_cavity: str
    out: str
    positions: tuple[str, ...]


@declared("safety.facts_contradict", MISSING, Rank.ALL_THAT_FOLLOWS)
class FactsContradict(Detail):
    """What is stated of the subject cannot all be so, whether the linter's finding of the rule ``contradiction`` is allowed or not:
    nothing is built on it until somebody has looked again. ``names`` are the pins, cavities, positions, circuits or ids that it is about,
    which of them the subject says; none where it is about the whole."""

    contradiction: Contradiction
    names: tuple[str, ...]
