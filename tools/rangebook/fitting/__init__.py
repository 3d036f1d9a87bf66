"""Verdicts: whether one part can stand in for another on a given vehicle's wires, and why."""
