"""Pieces out of sheets by straight cuts from edge to edge: the fewest sheets, and how to cut each. Numbers only."""
