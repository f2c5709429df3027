"""The rosette: an accordion whose ends are glued together to a ring, pressed flat, its folds the spokes of a wheel.

It is twice as wide as its strip. On the rim all pleats together reach once round: they must be as long as that circle,
or the ring stays a cone. One pleat is lost where the ends are glued. (Common practice of paper crafts; the
circumference of a circle.)
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, pi

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Bend, Blank, Drawn, ExactPoint
from foldwright.geometry.flat.forms.making import STEP
from foldwright.geometry.flat.points import kept
from foldwright.geometry.flat.thickness import Thickness
from foldwright.geometry.lengths import Ledger, LengthId
from foldwright.measure.length import Length
from foldwright.recipe.model import Piece, Recipe
from foldwright.recipe.pieces.remarks import ROSETTE
from foldwright.vocabulary.work import GLUING, PRESSING

_RULER = 0.8
"""How far two sizes measured with a ruler may be apart: half a millimetre or a thirty-second of an inch, and a hair."""


def rosette(blank: Blank, piece: Piece, recipe: Recipe, card: Thickness | None, ledger: Ledger) -> Blank:
    """An accordion that its author calls a rosette, or that steps glue to itself and press; any other as it is."""
    _, strips = blank.main_row
    if blank.form != "accordion" or blank.doubtful or len(strips) < 3 or not _is_pressed(piece, recipe):
        return blank
    high = blank.height if len(blank.across) > 1 else blank.width
    unit = ledger.lengths[strips[0].length].unit
    name = LengthId(blank.piece, "rosette", "diameter")
    ledger.lengths[name] = Length(2 * high, unit)
    ledger.worked_out.add(name)
    pleats = sum((strip.long for strip in strips[:-1]), Fraction(0))
    around = kept(2 * pi * float(high))
    if pleats < around:
        step = STEP[unit.system]
        least, most = ceil((around + strips[-1].long) / step) * step, floor(pleats / kept(2 * pi) / step) * step
        lengths = {"long": pleats, "around": ceil(around / step) * step, "least": least, "narrow": most}
        place = piece.across_place or piece.down_place or piece.name.place
        told = {fact: Length(mm, unit) for fact, mm in lengths.items()}
        ledger.misfit("rosette-too-short", place, piece=blank.piece, **told)
    if piece.finished:
        said = max(float(length.mm) for length in piece.finished.value.lengths[:2])
        if abs(said - 2 * float(high)) > _RULER + 2 * float(card.length.mm if card else 0):
            wide = ledger.lengths[name]
            ledger.misfit("rosette-of-another-size", piece.finished.place, piece=blank.piece, wide=wide)
    return replace(blank, pressed=True)


def _is_pressed(piece: Piece, recipe: Recipe) -> bool:
    if piece.fold is not None and ROSETTE in piece.fold.value.remarks:
        return True
    name = piece.name.value
    acts = [(one.act, one.subjects) for step in recipe.steps for one in step.doings if name in one.subjects]
    glued = any(act in GLUING and subjects == (name,) for act, subjects in acts)
    return glued and any(act == PRESSING for act, _ in acts)


def in_triangles(blank: Blank) -> Blank:
    """A rosette for pictures: a bend from corner to corner of every pleat, which is twisted when it is pressed, so that
    two triangles stand for it; and glue on the last pleat."""
    _, strips = blank.main_row
    zero, upright = Fraction(0), len(blank.across) > 1
    high = blank.height if upright else blank.width

    def place(along: Fraction, across: Fraction) -> ExactPoint:
        return (along, across) if upright else (across, along)

    bends = (Bend(place(strip.start, high), place(strip.end, zero), 0.0) for strip in strips)
    start, end = strips[-1].start, strips[-1].end
    glue = Drawn("glue area", (place(start, zero), place(end, zero), place(end, high), place(start, high)))
    return replace(blank, bends=tuple(bends), drawn=(*blank.drawn, glue))
