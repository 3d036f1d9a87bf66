"""Files of a site: written by address, taken over from the last build, and put in place in one step."""
