"""What is the same for every recipe of a studio, as it was written."""

from __future__ import annotations

from msgspec import Struct

from foldwright.finding import Said
from foldwright.measure.length import Length, System


class Trimmer(Struct, frozen=True):
    """`bed` is the longest cut; `reads` the finest mark on its scale (None: whatever is asked)."""

    bed: Said[Length] | None = None
    reads: Said[Length] | None = None


class NumberSteps(Struct, frozen=True):
    """How fine the numbers of a page are to be: the step of each unit system that was said, and the words for it."""

    steps: dict[System, Length]
    said: str


class Studio(Struct, frozen=True):
    """What is the same for all recipes; a recipe may overrule any of it."""

    name: Said[str] | None = None
    author: Said[str] | None = None
    licence: Said[str] | None = None
    money: Said[str] | None = None
    papers: tuple[Said[str], ...] = ()
    theme: Said[str] | None = None
    trimmer: Trimmer = Trimmer()
    card_thickness: Said[Length] | None = None
    hand: Said[str] | None = None
    hand_error: Said[Length] | None = None
    """How far a cut or a score made by hand may be off."""
    address: Said[str] | None = None
    numbers: Said[NumberSteps] | None = None
    spelling: Said[str] | None = None
    """Whose English the program writes: American or British. None when nobody asked for either."""
