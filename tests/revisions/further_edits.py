"""Forty more one-line edits of the demo book that can hurt somebody, and twenty that cannot: of other keys and of the text below them."""

from __future__ import annotations

Edit = tuple[str, str, str]

LEVER, DRUM, LINE, TWIN, VAN = (
    f"switches/{name}" for name in ("tamblin-lever", "tamblin-drum", "halvik-line", "wexcombe-twin", "ostrand-van")
)
OVAL_KIT, TAIL, GOLD, ROUND, BAYONET = (
    f"kits/{name}" for name in ("oval-13-renewal", "square-6-pigtail", "mixed-6-gold", "round-9-to-rect-14", "square-9-to-bayonet-9")
)
FLAT = "connectors/flat-9"

HARMFUL: tuple[Edit, ...] = (
    # Jumpers: in the shell of a kit's plug, in a vehicle's.
    (TAIL, r"loops: \[\[5, 6\]\]\n", ""),
    (TAIL, r"loops: \[\[5, 6\]\]", "loops: [[5, 4]]"),
    (ROUND, r"blanks: 2", "blanks: 2\nloops: [[1, 2]]"),
    # Who cranks, and by what.
    ("switches/wexcombe-belt", r"cranks: \{by: module", "cranks: {by: switch"),
    ("switches/wexcombe-belt", r"cranks: \{by: module, in: \[P, N\]", "cranks: {by: module, in: [R]"),
    # What is asked for with a part.
    (LEVER, r"needs: \[\{kit: oval-9-to-13, seal: 4\}\]", "needs: []"),
    (LEVER, r"needs: \[\{kit: oval-9-to-13, seal: 4\}\]", "needs: [{kit: oval-9-to-13, seal: 6}]"),
    (LEVER, r'needs: \[\{kit: oval-13-renewal, note: "the mat by the number of wires: six or nine"\}\]', "needs: []"),
    (LINE, r'      - \{item: "screw M6 with locking patch", count: 2, once: yes\}\n', ""),
    (LINE, r'"screw M6 with locking patch", count: 2', '"screw M6 with locking patch", count: 1'),
    # How it bolts on.
    (LEVER, r"(at_mm: 43, at_deg: 30, .*) spacer_mm: 3\}", r"\1 spacer_mm: 0}"),
    (LEVER, r"(at_mm: 43, at_deg: 30), bolt_mm: 6", r"\1, bolt_mm: 8"),
    (LEVER, r"hole_mm: 6.4, slot_deg: 18", "hole_mm: 6.4, slot_deg: 30"),
    (LEVER, r"shaft: \{shape: double-flat, across_mm: 10.5\}", "shaft: {shape: double-flat, across_mm: 12}"),
    (LEVER, r"steps_deg: \[21, 20, 20, 21, 21\]", "steps_deg: [21, 20, 20, 21, 27]"),
    (VAN, r"    torque_nm: 8\n", "    torque_nm: 18\n"),
    (VAN, r"    torque_nm: 18\n", ""),
    (VAN, r"    cautions: \[\"M8 bolts.*\n", ""),
    # What its contacts and wires are made for.
    (LINE, r"\[1, 2\], closed: \[R\], rated_a: 6", "[1, 2], closed: [R], rated_a: 60"),
    (LINE, r"\{circuit: backup_feed, colour: GN, size_mm2: 0.75, carries_a: 4\}", "{circuit: backup_feed, colour: GN, size_mm2: 0.75}"),
    (LINE, r"size_mm2: 0.5, gives_volts: \{min: 11, max: 15\}", "size_mm2: 0.5, gives_volts: {min: 11, max: 30}"),
    (LINE, r"supply_volts: \{min: 8, max: 18\}", "supply_volts: {min: 8, max: 36}"),
    (LINE, r"pin: 5, supply: 3, ground: 4", "pin: 5, supply: 4, ground: 3"),
    (LINE, r"values: \{P: 1, R: 2, N: 3, D: 4\}", "values: {P: 1, R: 3, N: 2, D: 4}"),
    (LEVER, r"ohms: \{P: 220, R: 470, N: 820", "ohms: {P: 220, R: 820, N: 470"),
    (TWIN, r"reads: \{pins: \[8, 9\], pull_up_ohms: 1500", "reads: {pins: [11, 12], pull_up_ohms: 1500"),
    # What positions mean, and where a wire goes in a kit.
    (VAN, r"means: \{L: 1\}", "means: {L: R}"),
    (ROUND, r"moves: \{1: 1, 2: 2, 3: 8, 4: 13", "moves: {1: 1, 2: 8, 3: 2, 4: 13"),
    (BAYONET, r"moves: \{A: 1, C: 4", "moves: {A: 4, C: 1"),
    # What is in the bag.
    (OVAL_KIT, r"seals: \[4, 6, 9\]", "seals: [4, 6, 10]"),
    (OVAL_KIT, r"blanks: 2", "blanks: 9"),
    (GOLD, r"terminal: \{wire_mm2: \[0.35, 0.85\], plating: gold\}", "terminal: {wire_mm2: [0.35, 0.85], plating: tin}"),
    (GOLD, r"  1: \{wire_mm2: \[0.75, 2.5\]\}", "  1: {wire_mm2: [0.1, 6]}"),
    (GOLD, r"joins: cut", "joins: plug_in"),
    # What may lie together.
    ("connectors/square-16-long-latch", r"mates: \[square-16\]", "mates: [square-16, square-9]"),
    # The text below.
    (OVAL_KIT, r"^Disconnect the battery\. Slide", "Slide"),
    (OVAL_KIT, r" Chock the wheels, set the brake, ring 1 to 8 through the switch, and only then turn the key\.", ""),
    (ROUND, r"^Battery off, wheels chocked, brake on\. ", ""),
    (FLAT, r" A plug without its rib is scrap\.", ""),
    (TAIL, r" Meter it before it is used anywhere\.", ""),
    ("kits/rect-9-from-flat-9", r"^Battery off first\. The wire", "The wire"),
    (FLAT, r"\*\*the engine cranks in R\*\*", "nothing happens"),
    (FLAT, r"\*\*the engine cranks in R\*\*", "**the engine cranks in N**"),
)  # fmt: skip

HARMLESS: tuple[Edit, ...] = (
    (TAIL, "A plug on six ready leads, to be joined one by one behind a burnt one.", "A plug on six leads, joined one by one."),
    (OVAL_KIT, "There are three, with", "It has three, with"),
    (OVAL_KIT, "## Which mat", "## The mats"),
    (ROUND, "Penvose Reach book, sheet R4", "Penvose Reach book, R4"),
    (ROUND, r"number: PV.70213", "number: PV 70213"),
    (ROUND, r"Nine wires take the other seal\.", "With nine wires take the other seal."),
    (GOLD, r"^The same plug with yellow terminals instead of grey ones\.", "The same plug, its terminals yellow."),
    (VAN, r"The heavy van is another matter\.", "The heavy van is something else."),
    (VAN, r"title: Ostrand van switch, Lovick Carrier", "title: Ostrand van switch"),
    (VAN, r"shows: \"drawing, not a photograph: ", 'shows: "a drawing: '),
    (LINE, r"torque_nm: 9$", "torque_nm: 9.0"),
    (LEVER, r"view: \"plug side, side, into the connector\"", 'view: "side, plug side, into the connector"'),
    (LEVER, r"note: \"thirteen blades instead of nine; 4, 5, 11 and 12 meet no wire\"", 'note: "thirteen blades, not nine"'),
    (LEVER, r"stamped: \[\"three bars under the latch\", \"L in a box on the lid\"\]", 'stamped: ["three bars under the latch"]'),
    (LEVER, r"detail: \"Tamblin web list\", by: counter", 'detail: "Tamblin list on the web", by: counter'),
    (LEVER, r"since: 2013-06", "since: 2013-07"),
    (TWIN, r"Red paint on an ear is the Mirren's\.", "An ear painted red is the Mirren's."),
    (TWIN, r"tolerance_percent: 5", "tolerance_percent: 5.0"),
    ("connectors/d-13", r"Grease from the column lock gets in instead\.", "Grease of the column lock gets in instead."),
    (FLAT, r"^title: .*$", "title: Nine-way flat, one rib"),
    ("connectors/ring-16", r"Sixteen thin pins in a ring, counted clockwise", "A ring of sixteen thin pins, counted clockwise"),
    (DRUM, r"^also_called: \[", "also_called: [drum switch, "),
)  # fmt: skip
