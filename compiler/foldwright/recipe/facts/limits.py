"""How much a recipe may hold. Each limit is far above any real recipe, and passing one is said aloud."""

from __future__ import annotations

MOST_BYTES = 1024 * 1024
"""Of one text file."""
MOST_STEPS = 500
MOST_PIXELS = 40_000_000
"""Of one photograph: 40 megapixels."""
MOST_PHOTO_BYTES = 64 * 1024 * 1024
"""Of the file of one photograph."""
MOST_FACTS = 64 * 1024
"""Characters of facts, at the top of a recipe or in a studio's file; most recipes have fewer than three thousand."""
DEEPEST = 8
"""How many levels of indented lines may stand inside one another; the format needs four."""
LONGEST_WORD = 120
"""Characters before a colon; YAML 1.1 (7.4.2) allows 1024, quotes and all, on one line."""
MOST_PIECES = 10_000
"""Of one kind, for one making."""
MOST_SIZES = 12
"""Of one project."""
MOST_PANELS = 200
"""In one row."""
