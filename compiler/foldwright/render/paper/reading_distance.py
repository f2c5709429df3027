"""How large letters must be to be read from afar.

Characters are measured by the angle they fill: at least 16 minutes of arc, and 20 to 22 are preferred for reading
(NUREG-0700, revision 2, 1.3.1-4, which also has the formula; ISO 9241-3 has the same numbers). What is measured is the
height of a capital letter.
"""

from __future__ import annotations

import io
from functools import cache
from math import pi

from foldwright.render.fonts import FACES, whole_face
from foldwright.render.units import MM_PER_POINT

PREFERRED, LEAST = 20.0, 16.0
"""Minutes of arc."""
_FULL_TURN = 360 * 60


def height_mm(minutes: float, from_mm: float) -> float:
    """How high a letter is that fills such an angle from so far away."""
    return 2 * pi * from_mm * minutes / _FULL_TURN


def points_for(minutes: float, from_mm: float) -> float:
    """The size of type whose capitals are so high in every bundled face, in half points and never less."""
    exact = height_mm(minutes, from_mm) / capital() / MM_PER_POINT
    return -(-exact * 2 // 1) / 2


def read_from_mm(points: float) -> float:
    """From how far away type of such a size can be read."""
    return points * MM_PER_POINT * capital() / height_mm(LEAST, 1.0)


@cache
def capital() -> float:
    """How high the lowest capitals of the bundled faces are, as a part of the type size."""
    from fontTools.ttLib import TTFont

    fonts = [TTFont(io.BytesIO(whole_face(name)), lazy=True) for name in FACES]
    return float(min(font["OS/2"].sCapHeight / font["head"].unitsPerEm for font in fonts))
