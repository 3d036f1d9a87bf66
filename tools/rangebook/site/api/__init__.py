"""The book for a shop's other programs: static JSON and CSV under ``api/v2/``, every verdict computed when the site was built.

Keys may be added within a version; none is taken away or changes what it means. The schemas under ``schemas/`` are published with the data.
"""
