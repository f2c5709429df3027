"""The flat pocket: a front and a back with a fold at the bottom, held together by glue flaps at the sides."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, Drawn, ExactPoint, Opening
from foldwright.geometry.flat.forms.making import FLAT, GLUE, GLUE_AREA, TAPER, Asked, blank_of, fold
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length, System, Unit

_NOTCH = {System.METRIC: Fraction(20), System.IMPERIAL: Unit.INCH.mm * 3 / 4}
"""How wide a notch for the thumb is (common practice, no source); at most a third of the pocket's width."""


def pocket(asked: Asked) -> Blank | None:
    """The front above, the back below it with a glue flap at either side; both fold in behind the front."""
    wide, high = asked.sizes
    glue = min(GLUE[asked.system], wide / 3)
    left, right, end = glue, glue + wide, 2 * high
    taper = min(glue, high) * TAPER
    zero = Fraction(0)
    outline: tuple[ExactPoint, ...] = (
        (left, zero), (right, zero), (right, high), (right + glue, high + taper), (right + glue, end - taper),
        (right, end), (left, end), (zero, end - taper), (zero, high + taper), (left, high),
    )  # fmt: skip
    folds = (
        fold((left, high), (right, high), FLAT),
        *(fold((x, high), (x, end), FLAT) for x in (left, right)),
        Drawn(GLUE_AREA, ((zero, high + taper), (left, high), (left, end), (zero, end - taper))),
        Drawn(GLUE_AREA, ((right, high), (right + glue, high + taper), (right + glue, end - taper), (right, end))),
    )
    (across, _), (down, _) = asked.made
    faces = (
        BlankFace(left, right, zero, high, across, down, "front"),
        BlankFace(left, right, high, end, across, down, "back"),
        BlankFace(zero, left, high, end, across, down, GLUE_FLAP),
        BlankFace(right, right + glue, high, end, across, down, GLUE_FLAP),
    )
    blank = blank_of(asked, (right + glue, end), outline, folds, faces)
    notches = tuple(_notches(asked, (left + right) / 2)) if "thumb notch" in asked.remarks else ()
    # The front is what is looked at; it is folded onto the back, which lies still.
    return replace(blank, notches=notches, stays=faces[1].middle)


def _notches(asked: Asked, middle: Fraction) -> Iterator[Opening]:
    """Half a circle in the front's upper edge, by which what is in it is taken out."""
    wide = min(_NOTCH[asked.system], asked.sizes[0] / 3)
    size = LengthId(asked.name, "notch", "across")
    asked.ledger.lengths[size] = Length(wide, asked.unit)
    asked.ledger.worked_out.add(size)
    box = (middle - wide / 2, Fraction(0), wide, wide / 2)
    yield Opening("half round notch", *box, (size,), panel="front", edge="top")
