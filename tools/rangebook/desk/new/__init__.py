"""A new entry: from what somebody knows of a thing to the text of its file, with the places marked that are not known yet.

``fields`` is what can be said of a kind, out of its schema; ``values`` turns typed text into values; ``compose`` writes the entry;
``yaml_text`` is how values are written.
"""
