"""How a thing on the table is looked at: a parallel projection from above, in front and a little to one side."""

from __future__ import annotations

from functools import lru_cache
from math import cos, radians, sin

from msgspec import Struct

from foldwright.geometry.folding.space import Spot
from foldwright.geometry.scene import Point

_AZIMUTH, _ELEVATION = 32.0, 30.0
"""Degrees: three sides of a box show, none of them edge on, and its floor stays wide enough to see into."""
AZIMUTHS = (_AZIMUTH, -_AZIMUTH, 20.0, -20.0, 48.0, -48.0)
"""Where a thing may be looked at from, the one that is usual first: how far to the side of the hand that works, in
degrees."""
_UPRIGHT, _FROM_ABOVE = cos(radians(_ELEVATION)), sin(radians(_ELEVATION))
_LIGHT = (-0.35, -0.45, 0.82)
"""Where the light comes from: above, the left and the front."""
_LIT, _DIM = 0.6, 0.1
"""How much a side looks at the light that takes the lightest and the middle shade."""


@lru_cache(maxsize=32)
def _turned(azimuth: float) -> tuple[float, float]:
    return cos(radians(azimuth)), sin(radians(azimuth))


class View(Struct, frozen=True):
    """Seen from the right front, for left-handed people from the left: the hand that works does not hide the work.

    `azimuth` is how far to that side, in degrees; below nothing it is the other side. The table's frame has x to the
    right, y away from the viewer and z up, in millimetres.
    """

    left_handed: bool = False
    azimuth: float = _AZIMUTH

    def project(self, spot: Spot) -> tuple[float, float, float]:
        """Across and down on the picture, and how near to the viewer."""
        x, y, z = spot
        straight, sideways = _turned(-self.azimuth if self.left_handed else self.azimuth)
        across = x * straight - y * sideways
        away = x * sideways + y * straight
        return across, -(z * _UPRIGHT + away * _FROM_ABOVE), z * _FROM_ABOVE - away * _UPRIGHT

    def point(self, spot: Spot) -> Point:
        across, down, _ = self.project(spot)
        return across, down

    def sees(self, direction: Spot) -> bool:
        """Whether a side that looks in this direction is seen."""
        return self.project(direction)[2] > 0

    @property
    def lit_from_right(self) -> bool:
        """Whether the light comes from the right: what is seen from the left has it from there."""
        return self.left_handed != (self.azimuth < 0)

    def shade(self, direction: Spot) -> int:
        """1 for a side that looks at the light, 3 for one that looks away."""
        x, y, z = direction
        lit = (-x if self.lit_from_right else x) * _LIGHT[0] + y * _LIGHT[1] + z * _LIGHT[2]
        return 1 if lit > _LIT else 2 if lit > _DIM else 3
