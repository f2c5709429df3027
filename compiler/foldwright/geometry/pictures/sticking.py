"""Foam squares and strips of tape under what they hold: where they go on the piece below."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.geometry.folding.space import Spot
from foldwright.geometry.pictures.solid import Leaf
from foldwright.geometry.pictures.stuff import STICKERS, fits_role, number_of, supplies_meant
from foldwright.geometry.scene import LineKind, Point, Tone
from foldwright.recipe.model import Doing, Recipe, Step, Supply
from foldwright.recipe.needs import supply_kind

_FOAM = 12.0
"""Millimetres along a side of a foam square (common practice, no source)."""
_HIGH = 2.0
"""Millimetres a foam square is high (common practice, no source)."""
_TAPE = 6.0
"""How wide tape is, in millimetres, when nobody says (common practice, no source)."""
_INSET = 3.0
"""Millimetres from the edge of the piece that is held."""
_SMALLEST = 0.4
"""Of the shorter side of a piece, what a foam square takes at most."""
_DASHES = 3

type Rectangle = tuple[float, float, float, float]
"""Left, top, right, bottom, in the frame of the piece that is held."""


def sticker_of(recipe: Recipe, step: Step, doing: Doing) -> Supply | None:
    """The foam or tape a step names; a piece that is taped is taped with the recipe's tape."""
    meant, others = supplies_meant(recipe, step, doing)
    able = [one for one in meant if fits_role(one, STICKERS)]
    if doing.act == "tape" and not able:
        able = [one for one in others if (kind := supply_kind(one)) and kind.name.endswith("tape")]
    return able[0] if able else None


def places_of(supply: Supply, wide: float, high: float, copies: int) -> tuple[Rectangle, ...]:
    """Where it goes on a piece: foam at the corners (two of them side by side, one in the middle), tape along the long
    edges. `copies` of the piece share what one making uses."""
    kind = supply_kind(supply)
    if kind is None or kind.name != "foam adhesive":
        return tuple(_strips(float(supply.width.value.mm) if supply.width else _TAPE, wide, high))
    side = min(_side(supply), _SMALLEST * min(wide, high))
    inset = min(_INSET, side / 2)
    lefts, tops = (inset, wide - inset - side), (inset, high - inset - side)
    each = max(number_of(supply) // max(copies, 1), 1)
    if each == 1 or min(wide, high) < 2 * side + 3 * inset:
        return ((wide / 2 - side / 2, high / 2 - side / 2, wide / 2 + side / 2, high / 2 + side / 2),)
    corners = [(x, y) for y in tops for x in lefts]
    spots = [(x, tops[1]) for x in lefts] if each in (2, 3) else corners
    return tuple((x, y, x + side, y + side) for x, y in spots)


def _side(supply: Supply) -> float:
    return float(supply.size.value.lengths[0].mm) if supply.size else _FOAM


def _strips(thick: float, wide: float, high: float) -> Iterator[Rectangle]:
    thick = min(thick, 0.25 * min(wide, high))
    inset = min(_INSET, thick / 2)
    if wide >= high:
        for top in (inset, high - inset - thick):
            yield inset, top, wide - inset, top + thick
    else:
        for left in (inset, wide - inset - thick):
            yield left, inset, left + thick, high - inset


def pads_of(supply: Supply, places: tuple[Rectangle, ...]) -> tuple[Leaf, ...]:
    """The foam or tape as it lies on the piece below, in the frame of the piece above: x right, y down, z up."""
    kind = supply_kind(supply)
    foam = kind is not None and kind.name == "foam adhesive"
    high = (float(supply.thickness.value.mm) if supply.thickness else _HIGH) if foam else 0.1
    return tuple(leaf for place in places for leaf in _pad(place, high, Tone.FOAM if foam else Tone.TAPE))


def _pad(place: Rectangle, high: float, tone: Tone) -> Iterator[Leaf]:
    left, top, right, bottom = place
    ring = _ring(place)
    yield Leaf(tuple((x, y, high) for x, y in ring), (0.0, 0.0, 1.0), (LineKind.CUT,) * 4, stuff=tone)
    if high < 1.0:
        return
    sides: tuple[tuple[Point, Point, Spot], ...] = (
        ((left, bottom), (right, bottom), (0.0, 1.0, 0.0)),
        ((right, bottom), (right, top), (1.0, 0.0, 0.0)),
        ((right, top), (left, top), (0.0, -1.0, 0.0)),
        ((left, top), (left, bottom), (-1.0, 0.0, 0.0)),
    )
    for (ax, ay), (bx, by), good in sides:
        corners = (ax, ay, 0.0), (bx, by, 0.0), (bx, by, high), (ax, ay, high)
        yield Leaf(corners, good, (LineKind.CUT,) * 4, stuff=tone)


def seen_through(places: tuple[Rectangle, ...]) -> tuple[tuple[Spot, ...], ...]:
    """The same places as dashes on the piece above: what lies behind it."""
    found = []
    for place in places:
        ring = _ring(place)
        for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
            for step in range(_DASHES):
                parts = (step + 0.2) / _DASHES, (step + 0.8) / _DASHES
                found.append(tuple((ax + (bx - ax) * part, ay + (by - ay) * part, 0.0) for part in parts))
    return tuple(found)


def _ring(place: Rectangle) -> tuple[Point, ...]:
    left, top, right, bottom = place
    return (left, top), (right, top), (right, bottom), (left, bottom)
