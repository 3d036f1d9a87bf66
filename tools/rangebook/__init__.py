"""Rangebook: a plain-text knowledge base of gearbox range switches.

Data flows one way through the folders of this package::

    reading -> schema -> book -> electrics, mounting -> fitting -> lint, site, desk -> cli

Entries state what can be seen or measured; every verdict is computed from them.
"""

__version__ = "0.2.0"
