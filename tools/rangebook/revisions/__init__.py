"""Two states of a book compared: entries, verdicts, chain ends, safety circuits, findings and pages that differ."""
