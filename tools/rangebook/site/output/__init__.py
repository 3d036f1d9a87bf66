"""Files of a site: written by address, in shares, and put in place in one step."""
