"""An edition of a book as one file to hand on: the site, its data as tables, and the hash of every file."""
