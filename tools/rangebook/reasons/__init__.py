"""Reasons as data: what was checked, what came of it, whom it is about, and with which figures. No sentence, no language."""
