"""Values as the front matter of an entry, and pieces of it put into an entry that is there."""
