"""The linter while somebody types: findings, what can stand here, what it means and where it leads, as data for an editor.

Nothing here decides: findings are the linter's, keys and words the schema's, ids and numbers the book's. Only
:mod:`rangebook.editor.server` knows the protocol that editors speak.
"""
