"""Whether one switch bolts on where another one did."""
