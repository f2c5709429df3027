"""How the lengths of one measure belong together."""

from __future__ import annotations

from enum import Enum


class Shape(Enum):
    """One length or several, and what joins them."""

    SINGLE = "single"
    CROSS = "cross"
    """A x B (or A x B x C)."""
    RANGE = "range"
    """A to B."""
    LIST = "list"
    """Several lengths that share the unit of the last: `1 3/4 and 2 1/2 in`."""
