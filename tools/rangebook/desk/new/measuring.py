"""How somebody finds out what an entry has to say, with the part on the bench. Common practice, no source."""

from __future__ import annotations

HOW: dict[tuple[str, str], str] = {
    ("connector", "outline"): "look into the housing and go round its edge",
    ("connector", "rows"): "look into the switch, latch up, count from the top left; count cavities, not pins",
    ("connector", "terminal"): "calipers across one blade, or through one pin",
    ("connector", "sealed"): "is there a rubber mat, or a seal on each wire, at the back of the plug?",
    ("kit", "from"): "the housing of the plug that is cut off; `rangebook look` finds it by a word of its title",
    ("kit", "to"): "the housing of the plug in the bag",
    ("kit", "moves"): "the leaflet in the bag, or trace each wire from the old plug's cavity to the new one's",
    ("kit", "seals"): "open the bag and count the holes of each rear seal",
    ("kit", "blanks"): "open the bag and count the blanking plugs",
    ("switch", "gearboxes"): "the plate on the gearbox",
    ("switch", "positions"): "move the lever from one end to the other and write down each stop",
    ("switch", "mounts"): (
        "lay the switch down, plug side up and latch up: calipers across the hole for the shaft; from the middle of the shaft to "
        "each bolt; a protractor for the angle, anticlockwise; slot, hole and spacer of each bolt"
    ),
    ("switch", "connector"): "compare its housing with the connectors in the book: outline, cavities, latch",
    ("switch", "mount"): "compare shaft, bolts and spacers with the `mounts` of this entry",
    ("switch", "status"): "ask at the parts counter",
    ("switch", "pins"): "look into the housing, latch up, and note each cavity with a pin; the wiring diagram says what each is for",
    ("switch", "contacts"): (
        "meter each pin against every other and against the housing, in every position; under 1 ohm it is closed, over 1 megohm open, "
        "between the two write down the ohms"
    ),
    ("switch", "plugs"): "look into the vehicle's plug: which cavities carry a wire, its colour, and where it goes",
    ("switch", "applications"): "the vehicle that it came out of, its plug by the name under `plugs`, and its first switch's number",
    ("switch", "fitting"): "the maker's service manual: in which position it is set, and the torque of its bolts",
}
"""Kind and key -> how to find out."""
