"""The tuck box: four walls, a lid that is tucked in over two dust flaps, and a bottom of one of four kinds.

Where the layers of card lie (every fold in the middle of the card, half a thickness on either side of it):

- across, from left to right: only the two side walls. Half of each stands inside its fold: one thickness.
- deep, from front to back: the two walls take one, the glue flap inside the back wall a second, the tuck inside the
  front wall a third. The second tuck of a reverse tuck box lies inside the back wall, on the glue flap: four.
- high: lid and bottom take one, the dust flaps under the lid a second. At a tucked bottom there are dust flaps again:
  three. A snap-lock, automatic or glued bottom has three flaps on one another, two of them inside its fold: four.

The trade numbers such cartons (from memory): FEFCO 0215 has a tucked lid and a snap-lock bottom, 0713 a tucked lid and
an automatic one.
"""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_TRIANGLE, Blank, BlankFace, ExactPoint
from foldwright.geometry.flat.forms.making import SQUARE, Asked, remarks_of
from foldwright.geometry.flat.forms.walls import Flap, Wall, blank_of_walls, flipped, reach_above
from foldwright.geometry.lengths import Clearance, LengthId
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.model import Piece

REVERSE, TUCK, SNAP_LOCK, AUTOMATIC, GLUED = (
    "reverse",
    "tuck bottom",
    "snap-lock bottom",
    "automatic bottom",
    "glued bottom",
)
_TUCK = {System.METRIC: Fraction(15), System.IMPERIAL: Unit.INCH.mm * 5 / 8}
"""How long a tuck is where there is room for it (common practice, no source)."""
_WHOLE = {System.METRIC: Fraction(1), System.IMPERIAL: Unit.INCH.mm / 16}
"""Lengths of flaps that nothing else depends on are taken down to whole steps of this."""
_HALF, _THIRD, _ZERO = Fraction(1, 2), Fraction(1, 3), Fraction(0)
_DUST = Fraction(2, 3)
"""How long a dust flap is at most, as a part of the depth: enough to hold the lid up (common practice, no source)."""
_FLAT = Fraction(0)
_LEAST = 12
"""So many clear edges wide is the smallest box: an ear or tongue is a quarter of it, a clear edge on either side."""


class _Box(Struct, frozen=True):
    """The sizes from fold to fold; how far one edge keeps clear of another for one layer of card, and for two."""

    wide: Fraction
    deep: Fraction
    high: Fraction
    ease: Fraction
    shoulder: Fraction
    whole: Fraction
    longest: Fraction

    def down(self, length: Fraction) -> Fraction:
        """Taken down to a whole step, where that leaves anything."""
        return length // self.whole * self.whole or length


def tuck_box(asked: Asked) -> Blank | None:
    """Back, left, front and right side by side; the lid on the back, the bottom as the remarks have it."""
    asked = asked.on_ruler()
    wide, deep, high = asked.sizes
    ease = asked.easing(1)
    box = _Box(wide, deep, high, ease, 2 * ease, _WHOLE[asked.system], _TUCK[asked.system])
    if min(wide, deep, high) < _LEAST * ease:
        place = (asked.piece.finished or asked.piece.inside or asked.piece.name).place
        asked.ledger.misfit("tuck-box-too-small", place, piece=asked.name)
        return None
    bottom = next((one for one in (SNAP_LOCK, AUTOMATIC, GLUED) if one in asked.remarks), TUCK)
    if REVERSE in asked.remarks and bottom != TUCK and asked.piece.fold:
        asked.ledger.thought("reverse-of-one-tuck", asked.piece.fold.place, piece=asked.name, bottom=bottom)
    dust, lid = _dust_flap(box), _lid(box, "")
    below = _bottom(box, bottom, REVERSE in asked.remarks)
    walls = (
        Wall(wide, SQUARE, "back", lid, below[0]),
        Wall(deep, SQUARE, "left", dust, below[1]),
        Wall(wide, SQUARE, "front", None, below[2]),
        Wall(deep, SQUARE, "right", flipped(dust, deep), below[3]),
    )
    top = reach_above(walls)
    blank = blank_of_walls(asked, walls, high, _faces(asked, box, top), top)
    asked.ledger.relations.append(Clearance(asked.made[1][0], LengthId(asked.name, "made", "lid")))
    return blank


def more_layers(piece: Piece) -> tuple[int, ...]:
    """What remarks add to the layers of a straight tuck box, across, deep and high (see the module)."""
    remarks = remarks_of(piece)
    tucked = not {SNAP_LOCK, AUTOMATIC, GLUED} & set(remarks)
    return (0, int(tucked and REVERSE in remarks), int(not tucked))


def _faces(asked: Asked, box: _Box, top: Fraction) -> tuple[BlankFace, ...]:
    """The walls and the lid; the front, which lies still, first."""
    (across, wide), (deep, long), (high, tall) = asked.made
    foot = top + tall
    lid = LengthId(asked.name, "made", "lid")
    asked.ledger.lengths[lid] = Length(long - box.ease, asked.unit)
    asked.ledger.worked_out.add(lid)
    return (
        BlankFace(wide + long, 2 * wide + long, top, foot, across, high, "front"),
        BlankFace(_ZERO, wide, top, foot, across, high, "back"),
        BlankFace(wide, wide + long, top, foot, deep, high, "left"),
        BlankFace(2 * wide + long, 2 * (wide + long), top, foot, deep, high, "right"),
        BlankFace(_ZERO, wide, top - long + box.ease, top, across, lid, "lid"),
    )


def _lid(box: _Box, which: str) -> Flap:
    """As deep as the box less a layer, so that its tuck goes down inside the front wall; the tuck is narrower by a
    layer at either end, so that it goes down between the side walls, and its corners are cut off."""
    wide, deep, ease = box.wide, box.deep - box.ease, box.ease
    tuck = box.down(min(box.longest, box.deep * _HALF, box.high * _THIRD))
    corner = min(tuck * _HALF, wide / 4)
    end = deep + tuck
    edge = (
        *((_ZERO, _ZERO), (_ZERO, deep), (ease, deep), (ease, end - corner), (ease + corner, end)),
        *((wide - ease - corner, end), (wide - ease, end - corner), (wide - ease, deep), (wide, deep), (wide, _ZERO)),
    )
    names = (which or "lid", (wide / 2, deep / 2)), (f"{which} tuck".strip(), (wide / 2, deep + tuck / 2))
    return Flap(edge, SQUARE, (((ease, deep), (wide - ease, deep), SQUARE),), (), names)


def _dust_flap(box: _Box) -> Flap:
    """Beside a lid that hangs on the left: clear of it by a layer, and slanting; straight on the right, where it leaves
    room for the tuck and the wall before it. Two of them never meet."""
    deep = box.deep
    long = box.down(min(box.wide * _HALF - box.ease, deep * _DUST))
    left, right = box.ease, deep - box.shoulder
    corner = min(long, right - left) * Fraction(1, 3)
    edge = (
        (left, _ZERO),
        (left + corner * _HALF, long),
        (right - corner, long),
        (right, long - corner),
        (right, _ZERO),
    )
    return Flap(edge, labels=(("dust flap", (deep / 2, long / 2)),))


def _bottom(box: _Box, kind: str, reverse: bool) -> tuple[Flap | None, ...]:
    """The flaps below back, left, front and right. Those of a glued bottom are glued one on the other: the sides first,
    then the back, the front over all."""
    if kind == SNAP_LOCK:
        return _snap_back(box), _snap_side(box, "left"), _snap_front(box), flipped(_snap_side(box, "right"), box.deep)
    if kind == AUTOMATIC:
        sides = (_automatic_side(box, which) for which in ("left", "right"))
        mains = (_automatic_main(box, which) for which in ("back", "front"))
        return tuple(flap for pair in zip(mains, sides, strict=True) for flap in pair)
    if kind == GLUED:
        long, short = box.deep - box.ease, box.down(min(box.wide * _HALF - box.ease, box.deep * _DUST))
        back, front = (_glued_flap(box.wide, long, box.ease, which) for which in ("back", "front"))
        left, right = (_glued_flap(box.deep, short, box.ease, which) for which in ("left", "right"))
        return back, left, replace(front, glue=()), right
    dust, lid = _dust_flap(box), _lid(box, "bottom")
    if reverse:
        return None, flipped(dust, box.deep), lid, dust
    return lid, dust, None, flipped(dust, box.deep)


def _name(which: str, at: ExactPoint) -> tuple[tuple[str, ExactPoint], ...]:
    """`left bottom flap`, by a place on it."""
    return ((f"{which} bottom flap", at),)


def _glued_flap(hinge: Fraction, long: Fraction, ease: Fraction, which: str) -> Flap:
    """A flap a little narrower at its end, with glue on it."""
    slant, clear = ease + min(hinge, long) / 16, min(hinge, long) / 8
    edge = ((ease, _ZERO), (slant, long), (hinge - slant, long), (hinge - ease, _ZERO))
    left, right = slant + clear, hinge - slant - clear
    area = ((left, clear), (left, long - clear), (right, long - clear), (right, clear))
    return Flap(edge, glue=(area,), labels=_name(which, (hinge / 2, long / 2)))


# --- the snap-lock bottom: the flaps of back, both sides and front are folded in in this order, and the last one's
# --- tongue is pushed in over the first. The sides are cut away where the tongue goes through. Shares of width and
# --- depth are common practice, no source.


def _snap_back(box: _Box) -> Flap:
    """Half as deep as the box in the middle, where the tongue goes in, with an ear at either end."""
    wide, ease, quarter, half = box.wide, box.ease, box.wide / 4, box.deep * _HALF
    ear = box.deep * 3 / 4
    corner = min(quarter, ear - half) * _HALF
    one = ((ease, _ZERO), (ease, ear - corner), (ease + corner, ear), (quarter - ease, ear), (quarter - ease, half))
    other = tuple((wide - u, v) for u, v in reversed(one))
    return Flap((*one, *other), labels=(("slotted flap", (wide / 2, half / 2)),))


def _snap_front(box: _Box) -> Flap:
    """Half as deep as the box, with a tongue half as wide."""
    wide, ease, half = box.wide, box.ease, box.deep * _HALF
    left, end = wide / 4 + ease, box.deep * 3 / 4
    corner = min(box.wide / 4, end - half) * _HALF
    one = ((ease, _ZERO), (ease, half), (left, half), (left, end - corner), (left + corner, end))
    other = tuple((wide - u, v) for u, v in reversed(one))
    return Flap((*one, *other), labels=(("locking flap", (wide / 2, half / 2)),))


def _snap_side(box: _Box, which: str) -> Flap:
    """Beside a back that is on the left: as long as reaches the middle there, short where the tongue comes through."""
    ease, half, short = box.ease, box.deep * _HALF, box.wide / 4 - box.ease
    long = min(box.wide * _HALF - ease, max(box.deep, short))
    cut = min(long - short, half * _HALF)
    end = box.deep - ease
    edge = ((ease, _ZERO), (ease, long), (half - cut, long), (half, short), (end, short * _HALF), (end, _ZERO))
    return Flap(edge, labels=_name(which, (half / 2, short / 2)))


# --- the automatic bottom: each side's flap is glued to the long flap on its left by a triangle, so that all four swing
# --- in by themselves when the flat box is opened. It lies flat with the folds at the triangles' corners folded right
# --- over, which are the first and the third.


def _automatic_main(box: _Box, which: str) -> Flap:
    """Beyond the middle by the side it is glued on (its right), up to the middle on the other: the two catch."""
    wide, ease, half = box.wide, box.ease, box.deep * _HALF
    over = min(box.deep / 4, wide / 4, box.longest)
    edge = (
        *((ease, _ZERO), (ease + over / 4, half - ease), (wide / 2 - over / 2, half - ease)),
        *(
            (wide / 2 + over / 2, half + over),
            (wide - ease - over, half + over),
            (wide - ease, half),
            (wide - ease, _ZERO),
        ),
    )
    return Flap(edge, labels=_name(which, (wide / 2, half / 2)))


def _automatic_side(box: _Box, which: str) -> Flap:
    """A score from the left corner at 45 degrees parts a triangle from it, which is glued inside the flap beside it. It
    is flat when the box stands; when the box is folded flat the triangle lies back on the rest."""
    long = min(box.wide, box.deep) * _HALF - box.ease
    end = box.deep - box.ease
    edge = ((_ZERO, _ZERO), (2 * box.ease, long), (end - long / 4, long), (end, _ZERO))
    inset = long / 8
    glue = ((inset, 2 * inset), (2 * box.ease + inset, long - inset), (long - 2 * inset, long - inset))
    names = (GLUE_TRIANGLE, (long / 3, long * 2 / 3)), *_name(which, (long, long / 2))
    return Flap(edge, SQUARE, (((_ZERO, _ZERO), (long, long), _FLAT),), (glue,), names)
