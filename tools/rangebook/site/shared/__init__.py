"""Small things that every room of the site uses: addresses, templates to HTML, units, what a page may load."""
