"""The site while somebody writes: a changed entry's page at once, with what the linter has against it at its top."""
