"""Everything that the facts of a book allow to be seen as wrong, one rule a file."""
