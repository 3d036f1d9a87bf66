"""The room that knows MkDocs: a book becomes a site in a folder, whole or one page of it."""
