"""How far it is round a thing: along the three ways a band may run about it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from math import pi

from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.inside import rooms
from foldwright.geometry.flat.thickness import Thickness
from foldwright.recipe.model import Supply

ACROSS, DOWN, SIDES = "across", "down", "sides"
"""Round its width and height, as one wraps a belt about a card; from top to bottom; round its upright sides."""
_LONG = re.compile(r"\b(?:long way|lengthwise|lengthways)\b", re.IGNORECASE)
_SHORT = re.compile(r"\b(?:short way|crosswise|widthways)\b", re.IGNORECASE)
_WAYS = (
    (DOWN, re.compile(r"\b(?:down|top (?:to|and) bottom)\b", re.IGNORECASE)),
    (SIDES, re.compile(r"\b(?:sides|walls|upright)\b", re.IGNORECASE)),
    (ACROSS, re.compile(r"\b(?:across|left (?:to|and) right|side to side)\b", re.IGNORECASE)),
)
_PARTS = 1000
"""What has a root or pi in it is kept to a thousandth of a millimetre."""

type Girths = Mapping[str, Fraction]
"""By way; a way that is not known is not there."""


def way_said(remark: str, girths: Girths) -> str:
    """The way a remark names (`the long way`, `from top to bottom`), if it is known; else nothing."""
    flat = [way for way in (ACROSS, DOWN) if way in girths]
    for words, choose in ((_LONG, max), (_SHORT, min)):
        if words.search(remark) and flat:
            return choose(flat, key=lambda way: girths[way])
    said = next((way for way, words in _WAYS if words.search(remark)), "")
    return said if said in girths else ""


def girths_of(blank: Blank, card: Thickness | None) -> Girths:
    """Round a piece as it is when folded, its own card counted; nothing where its shape is not known."""
    thick = card.length.mm if card else Fraction(0)
    if blank.form == "pillow box" and blank.made:
        # Its two panels keep their width however they bulge.
        return {ACROSS: 2 * blank.made[0][1] + 4 * thick}
    if blank.form == "hexagonal box" and blank.made:
        side = (blank.made[0][1] + 2 * thick) / Fraction(3**0.5)
        return {SIDES: Fraction(round(6 * side * _PARTS), _PARTS)}
    if blank.form == "pyramid":
        return {}
    known = {room.side: room.outside for room in rooms(blank, thick)}
    if "deep" in known:
        return _box(known["across"], known["down"], known["deep"])
    if "wide" in known:
        return _box(known["wide"], blank.height, known["high"])
    if blank.made:
        across, down = blank.made[0][1], blank.made[1][1]
    else:
        across, down = (max(strip.long for strip in row) for row in (blank.across, blank.down))
    return _flat(across, down, thick * len(blank.across) * len(blank.down) if blank.form else thick)


def girths_of_supply(supply: Supply) -> Girths:
    """Round something that is bought, by its size across x down x high; one number is how far it is across, round."""
    if supply.size is None:
        return {}
    sizes = [length.mm for length in supply.size.value.lengths]
    if len(sizes) == 1:
        return {ACROSS: Fraction(round(float(sizes[0]) * pi * _PARTS), _PARTS)}
    if len(sizes) > 2:
        return _box(*sizes)
    return _flat(sizes[0], sizes[1], supply.thickness.value.mm if supply.thickness else Fraction(0))


def _flat(across: Fraction, down: Fraction, thick: Fraction) -> Girths:
    """Nobody wraps a card round its edges."""
    return {ACROSS: 2 * (across + thick), DOWN: 2 * (down + thick)}


def _box(across: Fraction, down: Fraction, high: Fraction) -> Girths:
    return {ACROSS: 2 * (across + high), DOWN: 2 * (down + high), SIDES: 2 * (across + down)}
