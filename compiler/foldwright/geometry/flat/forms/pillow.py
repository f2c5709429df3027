"""The pillow box: two panels that curve, closed by curved flaps."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, Drawn, ExactPoint
from foldwright.geometry.flat.forms.making import GLUE, TAPER, Asked, arc, blank_of

_FULL = Fraction(9, 10)
"""How thick a pillow box that is given too thick is drawn, as a part of what it may be."""


def pillow_box(asked: Asked) -> Blank | None:
    """Two panels and a glue flap, each end closed by curved flaps.

    The flap between the cut arc and the scored one, its mirror image, is as high in the middle as the pillow is thick:
    folded in, it stands upright there and reaches from one panel to the other.
    """
    wide, long, thick = asked.sizes
    thickest = min(wide, long) / 2
    if thick >= thickest:
        asked.ledger.misfit("pillow-too-thick", (asked.piece.finished or asked.piece.name).place, piece=asked.name)
        # Drawn as thick as it can be, and as doubtful: its arcs would run through one another.
        thick = thickest * _FULL
    glue, rise = GLUE[asked.system], thick / 2
    top, foot, x1, x2 = rise, rise + long, wide, 2 * wide
    outline, lines = _pillow_lines(x1, top, foot, glue, min(glue, long) * TAPER)
    across, down = x2 + glue, foot + rise
    ids = asked.made[0][0], asked.made[1][0]
    panels = (
        BlankFace(Fraction(0), x1, top, foot, *ids, "front"),
        BlankFace(x1, x2, top, foot, *ids, "back"),
        BlankFace(x2, across, top, foot, *ids, GLUE_FLAP),
    )
    blank = blank_of(asked, (across, down), outline, lines, panels, outline[-1:])
    return replace(blank, doubtful=frozenset({"across", "down"})) if thick != asked.sizes[2] else blank


def _pillow_lines(
    wide: Fraction, rise: Fraction, foot: Fraction, glue: Fraction, taper: Fraction
) -> tuple[tuple[ExactPoint, ...], tuple[Drawn, ...]]:
    """The outline, and the folds: two panels between `rise` and `foot`, with arcs that rise so far at either end."""
    top, x1, x2 = rise, wide, 2 * wide
    outline: list[ExactPoint] = []
    for left, right in ((Fraction(0), x1), (x1, x2)):
        outline += arc((left, top), ((left + right) / 2, Fraction(0)), (right, top))[:-1]
    outline += [(x2, top), (x2 + glue, top + taper), (x2 + glue, foot - taper), (x2, foot)]
    for right, left in ((x2, x1), (x1, Fraction(0))):
        outline += arc((right, foot), ((left + right) / 2, foot + rise), (left, foot))[1:]
    lines = [Drawn("score", ((x, top), (x, foot))) for x in (x1, x2)]
    for left, right in ((Fraction(0), x1), (x1, x2)):
        middle = (left + right) / 2
        lines.append(Drawn("score", ((left, top), (middle, top + rise), (right, top)), arc=True))
        lines.append(Drawn("score", ((left, foot), (middle, foot - rise), (right, foot)), arc=True))
    return tuple(outline), tuple(lines)
