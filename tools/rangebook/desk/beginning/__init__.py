"""A book of one's own, begun: the files that it starts with. ``files/`` has those of every book, ``forges/`` what runs the checks on a
forge of git, in a folder for each."""
