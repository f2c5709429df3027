"""Discs that close the ends of a tube."""

from __future__ import annotations

from collections.abc import Sequence

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.pictures.standing import extent_of, moved

_NEAR = 0.25
"""As a part of the width of a tube: what is no wider or narrower than it by so much is an end of it."""


def is_end(disc: Blank | None, tube: Blank | None) -> bool:
    """Whether a piece is round and about as wide as a tube."""
    if disc is None or tube is None or not disc.round or tube.form != "tube" or not tube.made:
        return False
    wide = tube.made[0][1]
    return abs(disc.width - wide) <= _NEAR * wide


def ends_on(tube: Sequence[Leaf], disc: Sequence[Leaf], count: int, off: float = 0.0) -> tuple[Leaf, ...]:
    """The discs at the ends of a tube that stands: one on top, of two the other below; each held `off` so far."""
    (x1, y1, low), (x2, y2, high) = extent_of(tube)
    (u1, v1, rest), (u2, v2, _) = extent_of(disc)
    across, away = (x1 + x2 - u1 - u2) / 2, (y1 + y2 - v1 - v2) / 2
    top = moved(disc, (across, away, high - rest + off))
    return (*top, *moved(disc, (across, away, low - rest - off))) if count > 1 else top
