"""A shop's own spreadsheet -> entries: ``table`` reads it, ``mapping`` says which column is what, ``rows`` makes facts of its rows,
``plan`` says what that does to which entry, ``insertion`` puts lines into an entry without touching any other byte, and ``run`` leaves out
what the linter would have anything against."""
