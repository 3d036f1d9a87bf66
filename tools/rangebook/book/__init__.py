"""The book: entries that passed the schema, as a typed, immutable model with its indexes."""
