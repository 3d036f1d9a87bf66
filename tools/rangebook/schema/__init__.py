"""JSON Schema 2020-12 under ``schema/``, the one source of truth on what an entry may say."""
