"""Fixing what has one right answer, in the text itself: every comment and every other character stays where it was.

A *fixer* stands with its rule. It looks at the text of one entry and yields *fixes*: a place, what stands there, and the few
characters to put instead. Each fix is checked by reading the text again, before and after; a book is changed only where its
linter finds nothing new afterwards.

    page (text with its layout) -> fixers -> fixes -> plan (checked on the whole book) -> written by the command line
"""
