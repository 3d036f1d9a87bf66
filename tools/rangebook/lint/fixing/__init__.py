"""Mending what has one right answer, in the text itself: every comment and every other character stays where it was.

A *mender* looks at the text of one entry and yields *mends*: a place, what stands there, and the few characters to put
instead. Each mend is checked by reading the text again, before and after; a book is changed only where its linter finds
nothing new afterwards.

    page (text with its layout) -> menders -> mends -> plan (checked on the whole book) -> write
"""
