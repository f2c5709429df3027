"""The cube, and prisms of three to twelve equal sides, glued together all round.

The walls stand side by side; one in the middle carries the top and the bottom, all others a tab at either end, on which
these are glued. From side to side of a cube there are half of either wall (one thickness), from front to back the glue
flap besides (two), from top to bottom a tab at either end (three).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import cos, pi, sin, tan

from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, ExactPoint
from foldwright.geometry.flat.forms.making import GLUE, SQUARE, STEP, Asked
from foldwright.geometry.flat.forms.walls import Flap, Wall, blank_of_walls, reach_above
from foldwright.geometry.flat.points import kept
from foldwright.geometry.lengths import Equal, LengthId

_ZERO, _PARTS = Fraction(0), 10**12
_LEAST, _MOST = 3, 12
_NAMES = ("back", "left", "front", "right")
_CUBE = (("across", 1), ("down", 2), ("high", 3))
"""The layers of a cube."""
_SLANTS = 0.35
"""Of a wall's width, how much one slanting end of a tab takes at most (common practice, no source)."""
_CLEAR = 0.75
"""Of the angle between a tab and the top beside it as they lie flat, how much the end of the tab takes."""


def cube(asked: Asked) -> Blank | None:
    """Six squares; its finished size is one of their sides."""
    (side, size), (length,) = asked.made[0], asked.lengths
    blank = _prism(asked, 4, size, size)
    made = tuple((LengthId(asked.name, "made", way), size) for way, _ in _CUBE)
    asked.ledger.lengths.update((own, length) for own, _ in made)
    asked.ledger.relations += (Equal(side, own) for own, _ in made)
    return replace(blank, made=made, layers=_CUBE)


def prism(asked: Asked) -> Blank | None:
    """Its finished size is how wide each side is, and how high; `5 sides` after the form says how many, else three."""
    said = next((one for one in asked.remarks if one.endswith("sides")), "3 sides")
    count = int(said.partition(" ")[0])
    if not _LEAST <= count <= _MOST:
        assert asked.piece.fold is not None
        asked.ledger.misfit("prism-of-how-many", asked.piece.fold.place, piece=asked.name, least=_LEAST, most=_MOST)
        return None
    return _prism(asked, count, *asked.sizes)


def _prism(asked: Asked, count: int, side: Fraction, high: Fraction) -> Blank:
    inner = pi - 2 * pi / count
    # Tabs that meet at a corner share its angle; one beside the top keeps clear of it on the flat blank.
    end = min(pi / 4, inner / 2, _CLEAR * 2 * pi / count)
    step = STEP[asked.system]
    wide = min(GLUE[asked.system], kept(_SLANTS * float(side) * tan(end), _PARTS))
    wide = wide // step * step or wide
    slant = kept(float(wide) / tan(end), _PARTS)
    tab_edge = ((_ZERO, _ZERO), (slant, wide), (side - slant, wide), (side, _ZERO))
    inset = wide / 8
    area = ((slant, inset), (slant, wide - inset), (side - slant, wide - inset), (side - slant, inset))
    tab = Flap(tab_edge, SQUARE, glue=(area,), labels=((GLUE_FLAP, (side / 2, wide / 2)),))
    bend = -kept(360 / count, _PARTS)
    middle = count // 2
    names = _NAMES if count == len(_NAMES) else tuple(f"side {number}" for number in range(1, count + 1))
    top, bottom = (_end(count, side, name) for name in ("top", "bottom"))
    walls = [Wall(side, bend, name, tab, tab) for name in names]
    walls[middle] = replace(walls[middle], above=top, below=bottom)
    upper = reach_above(walls)
    return blank_of_walls(asked, walls, high, tuple(_faces(asked, names, middle, upper, high)), upper)


def _end(count: int, side: Fraction, name: str) -> Flap:
    """A regular polygon on its hinge."""
    turn = 2 * pi / count
    around, across = float(side) / 2 / sin(turn / 2), float(side) / 2 / tan(turn / 2)
    ring: list[ExactPoint] = [(_ZERO, _ZERO)]
    for number in range(1, count - 1):
        angle = -pi / 2 - turn / 2 - turn * number
        ring.append((kept(float(side) / 2 + around * cos(angle), _PARTS), kept(across + around * sin(angle), _PARTS)))
    ring.append((side, _ZERO))
    # A square is one of the blank's faces.
    labels = () if count == len(_NAMES) else ((name, (side / 2, kept(across, _PARTS))),)
    return Flap(tuple(ring), labels=labels)


def _faces(asked: Asked, names: Sequence[str], middle: int, top: Fraction, high: Fraction) -> Iterator[BlankFace]:
    """The walls, the one that lies still first; then the ends where they are square."""
    side, upright = asked.made[0][0], asked.made[-1][0]
    wide = asked.sizes[0]
    for number in sorted(range(len(names)), key=lambda at: at != middle):
        yield BlankFace(number * wide, (number + 1) * wide, top, top + high, side, upright, names[number])
    if len(names) == len(_NAMES):
        left, right = middle * wide, (middle + 1) * wide
        yield BlankFace(left, right, top - wide, top, side, side, "top")
        yield BlankFace(left, right, top + high, top + high + wide, side, side, "bottom")
