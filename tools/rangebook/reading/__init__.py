"""From files to located values: every scalar stays the text that was typed, every value keeps its line and column."""
