"""Which acts do which work on a piece of paper: names of `acts`, in groups that pictures and lists go by."""

from __future__ import annotations

CUTTING = frozenset({"cut", "trim", "slice", "die cut", "laser cut"})
"""The first of these cuts a piece out of its sheet; later ones free its flaps and open its holes."""
SCORING = frozenset({"score", "perforate"})
SLITTING = frozenset({"slit", "snip", "notch", "cut", "trim"})
PIERCING = frozenset({"punch", "pierce", "cut", "slit", "die cut", "laser cut"})
FOLDING = frozenset({"fold", "crease", "pleat", "roll", "assemble", "form", "shape"})
GLUING = frozenset({"tape", "glue", "stick", "paste", "attach", "fasten", "mount", "assemble"})
PRESSING = "press"
CLOSING = frozenset({"close"})
"""Shutting what is otherwise made: until then its last end is open."""
