"""Which switch it is, from what is in the hand.

``table`` makes a table of everything that can be seen of each part; ``narrow`` leaves what agrees with the known facts;
``questions`` picks the question that splits the rest best; ``words`` has what is said. All are pure functions of the table and of
the *state*, a mapping from the id of a question to its answer; ``data`` is for the browser, which does the same with it.

Ids of questions, and the answers that a state may hold. ``None`` is "can't tell": nothing is narrowed by it, and it is not asked
again. ``"other"`` is "none of these", for every question that has a list of answers.

=============  ===========================================================================================================
outline        ``oval``, ``rectangular``, ``round``, ``square`` or ``d-shaped``
cavities       how many cavities the connector has, a whole number
face           which face it is, by the id of a connector that has it
pins           which cavities carry a pin: ``{"face": id, "yes": [cavity, ...], "no": [cavity, ...]}``; in neither list: can't tell
wires          how many wires go into the vehicle's plug, a whole number
wired          which cavities of the vehicle's plug carry a wire, in the form of ``pins``
bolts          how many bolts hold it, a whole number
shaft          shape of the hole for the selector shaft, as the schema names them
across_mm      size of that hole across, in millimetres
stamped:TEXT   whether TEXT is stamped or moulded on it, ``True`` or ``False``
gearbox        the gearbox by its name
vehicle        the vehicle by its name
year           its model year; or a list of years, one of which it is
=============  ===========================================================================================================
"""
