"""One rule, one file. To add one: a module here, a test module of the same name under ``tests/lint/rules/``."""
