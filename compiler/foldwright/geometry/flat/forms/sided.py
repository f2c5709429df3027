"""Trays with a regular floor of six or eight sides and a glue flap on every wall.

Each flap lies on the inside of the next wall, so that from side to side there is a flap at either end: the room is
smaller by two thicknesses more than the one that the two walls take. The flaps of a lid that goes over something are
stuck to the outside: inside they would take the room it needs. A remark after the form has the last word.

Places are worked out as complex numbers in millimetres, across and down, the middle of the floor being nought.
"""

from __future__ import annotations

from cmath import exp
from collections.abc import Iterator
from itertools import pairwise
from math import cos, degrees, pi, tan

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, Drawn, ExactPoint
from foldwright.geometry.flat.forms.making import GLUE, GLUE_AREA, SQUARE, Asked, blank_of, fold, remarks_of, round_ring
from foldwright.geometry.flat.points import kept
from foldwright.recipe.model import Piece

SIDES_OF_TRAYS = {"hexagonal box": 6, "octagonal box": 8}
"""How many sides each of these trays has."""
_PARTS = 10**12
_CLEAR = 0.75
"""Of the angle between two walls as they lie flat, how much the foot of a glue flap takes; 45 degrees at most."""
_SLANTS = 0.8
"""Of a wall's height, how much the two slanting ends of its flap take together at most."""
_ON_WALL = 0.5
"""Of the wall it is stuck to, how much a flap covers at most (these four: common practice, no source)."""
_GLUED = 0.7
"""How large the area for glue is, as a part of the flap."""


def hexagonal_box(asked: Asked) -> Blank | None:
    """A tray of six sides; its finished size is from flat side to flat side, and how high it is."""
    return _tray(asked, SIDES_OF_TRAYS["hexagonal box"])


def octagonal_box(asked: Asked) -> Blank | None:
    """A tray of eight sides, by the same two sizes."""
    return _tray(asked, SIDES_OF_TRAYS["octagonal box"])


def flaps_outside(piece: Piece) -> bool:
    """Whether its flaps lie outside: of a lid that goes over something, unless its author says where."""
    said = remarks_of(piece)
    return "flaps outside" in said or (bool(piece.fits_over) and "flaps inside" not in said)


def flap_layers(piece: Piece) -> tuple[int, int]:
    """What flaps add to the layers across and high: one at either end, where they lie inside."""
    return (0 if flaps_outside(piece) else 2), 0


class _SideWall(Struct, frozen=True):
    """One wall of the tray: its foot from left to right as seen from the middle, its rim, its glue flap from the foot
    to the rim, and where the flap of the wall before it comes to lie."""

    left: complex
    right: complex
    rim: tuple[complex, complex]
    flap: tuple[complex, ...]
    under: tuple[complex, ...]


def _tray(asked: Asked, count: int) -> Blank:
    across, upright = asked.made
    walls = list(_walls(asked, count))
    reach = [spot for wall in walls for spot in (*wall.rim, *wall.flap)]
    left, top = min(spot.real for spot in reach), min(spot.imag for spot in reach)

    def at(spot: complex) -> ExactPoint:
        return kept(spot.real - left, _PARTS), kept(spot.imag - top, _PARTS)

    size = at(complex(max(spot.real for spot in reach), max(spot.imag for spot in reach)))
    outline = [at(spot) for wall in walls for spot in (wall.left, *wall.rim, *reversed(wall.flap[1:-1]))]
    turn = kept(degrees(2 * pi / count), _PARTS)
    lines = [*round_ring([at(wall.left) for wall in walls], SQUARE)]
    lines += [fold(at(wall.flap[0]), at(wall.flap[-1]), -turn) for wall in walls]
    middles = [sum(wall.flap) / len(wall.flap) for wall in walls]
    outside = flaps_outside(asked.piece)
    for wall in walls:
        area = wall.under if outside else wall.flap
        middle = sum(area) / len(area)
        lines.append(Drawn(GLUE_AREA, tuple(at(middle + _GLUED * (spot - middle)) for spot in area)))
    (x, y), half = at(0), asked.sizes[0] / 2
    floor = BlankFace(x - half, x + half, y - half, y + half, across[0], across[0], "floor")
    # Flaps are set out by the walls they hang on: only what is scored is measured from the edges.
    corners = [at(spot) for wall in walls for spot in (wall.left, *wall.rim)]
    labels = tuple((GLUE_FLAP, at(middle)) for middle in middles)
    blank = blank_of(asked, size, tuple(outline), tuple(lines), (floor,), corners, labels=labels)
    return replace(blank, made=(across, across, upright), flaps_outside=outside)


def _walls(asked: Asked, count: int) -> Iterator[_SideWall]:
    """Round the floor, the one at the top first: a side lies level there, and at the bottom."""
    flat, high = (float(size) for size in asked.sizes)
    turn = 2 * pi / count
    corner = flat / 2 / cos(turn / 2)
    ring = [corner * exp(1j * (turn * (number - 0.5) - pi / 2)) for number in range(count)]
    # How far the foot of a flap slants for each millimetre that it is wide; its other end slants by 45 degrees.
    slant = 1 / tan(min(_CLEAR * turn, pi / 4))
    wide = min(float(GLUE[asked.system]), _ON_WALL * flat * tan(turn / 2), _SLANTS * high / (slant + 1))
    for left, right in pairwise((*ring, ring[0])):
        along = (right - left) / abs(right - left)
        out = -1j * along
        rim = left + high * out, right + high * out
        foot, end = right + slant * wide * out + wide * along, rim[1] - wide * out + wide * along
        under = left, left + wide * (slant * out + along), rim[0] + wide * (along - out), rim[0]
        yield _SideWall(left, right, rim, (right, foot, end, rim[1]), under)
