"""A piece as it lies flat, good side up: rows of panels, scores, cuts, holes; every number exact, in millimetres."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from foldwright.geometry.lengths import LengthId


@dataclass(frozen=True, slots=True)
class Strip:
    """One panel of a row or column: from `start` to `end` along its side; `name` may be empty."""

    name: str
    start: Fraction
    end: Fraction
    length: LengthId
    doubtful: bool = False


@dataclass(frozen=True, slots=True)
class Cut:
    """A straight cut (or score) from point to point, and what it is for."""

    start: tuple[Fraction, Fraction]
    end: tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Opening:
    """A hole: its outline's box, whether it is round-ended or round."""

    shape: str
    left: Fraction
    top: Fraction
    width: Fraction
    height: Fraction


@dataclass(frozen=True, slots=True)
class Blank:
    """`across` are the strips from left to right, `down` from top to bottom (one strip when there is no score).

    `flap_cuts` free the corner flaps; `flaps_follow` says which strips they stay joined to (`down` when they belong to
    the top and bottom strips). `corners_removed` when the corners are cut away.
    """

    piece: str
    count: int
    width: Fraction
    height: Fraction
    across: tuple[Strip, ...]
    down: tuple[Strip, ...]
    flap_cuts: tuple[Cut, ...] = ()
    flaps_joined: tuple[str, ...] = ()
    corners_removed: bool = False
    openings: tuple[Opening, ...] = ()
    drawn: tuple[tuple[str, tuple[tuple[Fraction, Fraction], ...]], ...] = ()
    """Lines of the long form: kind and points."""
    doubtful: frozenset[str] = field(default_factory=frozenset)
    """Sides (`across`, `down`) that do not add up."""
