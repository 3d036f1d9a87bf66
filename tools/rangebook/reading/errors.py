"""What is wrong with a book's layers as a whole."""


class LayersError(Exception):
    """The layers of a book cannot be told or found; the message says which and what to do."""
