"""What is wrong with a schema as a whole."""


class SchemaError(Exception):
    """A schema file is missing, is not JSON, or is not of the shape that entries are checked by; the message names it."""
