"""What a change to the book does to every answer that the book gives.

``states`` makes two books of two sets of files and shares what is the same; ``touched`` finds what can have other verdicts,
``verdicts``, ``chains`` and ``safety_circuits`` compare, ``report`` puts it together; ``text``, ``markdown`` and ``data`` write it.
"""
