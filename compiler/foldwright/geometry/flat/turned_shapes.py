"""Blanks that are no rows of panels, from their finished size: envelope, pyramid, hexagonal box, carton, pillow box.

Their places have square roots in them. They are taken as fractions that are right to a millionth of a millionth of a
millimetre, and marked as worked out, so that pages round them to a step.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import chain, pairwise
from math import atan2, degrees, isqrt

from msgspec.structs import replace

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, Drawn, ExactPoint, Strip
from foldwright.geometry.flat.points import arc_points, floats, kept
from foldwright.geometry.lengths import Equal, Ledger, LengthId
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.model import Piece

type _Made = tuple[tuple[LengthId, Fraction], ...]

_PARTS = 10**12
_SIDES = ("across", "down", "high")
_OVERLAP = {System.METRIC: Fraction(12), System.IMPERIAL: Unit.INCH.mm / 2}
"""How far the flaps of an envelope lie on each other at its middle when nobody says (common practice, no source)."""
_NOTCH = {System.METRIC: Fraction(5), System.IMPERIAL: Unit.INCH.mm / 4}
"""How much longer the side of the square is than corners that just touch it ask for, so that a notch is left."""
_FULL = Fraction(9, 10)
"""How thick a pillow box that is given too thick is drawn, as a part of what it may be."""
_ROUNDED = {System.METRIC: Fraction(5), System.IMPERIAL: Unit.INCH.mm / 8}
"""The square is taken up to whole steps of this: 5 mm, 1/8 in."""
_GLUE = {System.METRIC: Fraction(12), System.IMPERIAL: Unit.INCH.mm / 2}
"""How wide a glue flap is, and the strip along a ridge that is glued together (common practice, no source)."""
_TAPER = Fraction(1, 4)
"""A glue flap is cut narrower at its ends by this part of its width, or of its length where that is less."""
_ROOF, _RIDGE, _TUCK, _GABLE = Fraction(-45), Fraction(45), Fraction(-180), Fraction(120)
"""A roof of 45 degrees: its two sides lean in by that much, the strips along the ridge stand up again. What is left of
the gables is folded flat behind the roof; the angle between it and the leaning gable is 120 degrees: the normals of the
two planes are (0, 1, -1) and (-1, 0, 1) over root 2, and their product is -1/2."""
_SQUARE = Fraction(-90)


def root(number: Fraction) -> Fraction:
    """The square root, to a millionth of a millionth."""
    return Fraction(isqrt(int(number * _PARTS * _PARTS)), _PARTS)


_ROOT_2, _ROOT_3 = root(Fraction(2)), root(Fraction(3))


def wants_finished(piece: Piece) -> bool:
    """Whether its form is worked out from its finished size alone."""
    form = piece.fold.value.form if piece.fold else ""
    return form in _MAKERS and form != "envelope" and not (piece.across or piece.down)


def shape_of(piece: Piece, ledger: Ledger) -> Blank | None:
    """The blank of a piece whose form is given by its finished size; None when it is laid in rows like others."""
    form = piece.fold.value.form if piece.fold else ""
    maker = _MAKERS.get(form)
    if maker is None or piece.across or piece.down or piece.inside or piece.inside_relative:
        return None
    if piece.finished is None:
        if wants_finished(piece) and "finished" not in piece.unread:
            ledger.fault("finished-wanted", (piece.fold or piece.name).place, piece=piece.name.value, form=form)
        return None
    return maker(piece, ledger)


def _blank(
    piece: Piece,
    size: tuple[Fraction, Fraction],
    outline: tuple[ExactPoint, ...],
    drawn: tuple[Drawn, ...],
    made: _Made,
    faces: tuple[BlankFace, ...] = (),
) -> Blank:
    """The panel that lies still is the first of the `faces`, or else the one in the middle of the blank."""
    name, (wide, high) = piece.name.value, size
    return Blank(
        name,
        piece.count.value if piece.count else 1,
        wide,
        high,
        (Strip("", Fraction(0), wide, LengthId(name, "across", "size")),),
        (Strip("", Fraction(0), high, LengthId(name, "down", "size")),),
        drawn=drawn,
        form=piece.fold.value.form if piece.fold else "",
        outline=outline,
        stays=faces[0].middle if faces else (wide / 2, high / 2),
        made=made,
        faces=faces,
    )


def _note(
    piece: Piece,
    size: tuple[Fraction, Fraction],
    sides: tuple[str, ...],
    ledger: Ledger,
    marks: Sequence[Fraction] = (),
    written: bool = False,
) -> _Made:
    """Note the size of the blank, what is marked on its edges, and the finished sizes as lengths of their own, by which
    what goes in or round is measured; these are given back. A size that was not `written` was worked out."""
    assert piece.finished is not None
    name, lengths = piece.name.value, piece.finished.value.lengths
    across, down = LengthId(name, "across", "size"), LengthId(name, "down", "size")
    marked = [LengthId(name, "fold", "mark", number) for number in range(1, len(marks) + 1)]
    for own, mm in zip((across, down, *marked), (*size, *marks), strict=True):
        ledger.lengths[own] = Length(mm, lengths[0].unit)
    ledger.worked_out.update(marked if written else (across, down, *marked))
    if size[0] == size[1]:
        ledger.relations.append(Equal(across, down))
    made = {LengthId(name, "made", side): length for side, length in zip(sides, lengths, strict=False)}
    ledger.lengths.update(made)
    return tuple((own, length.mm) for own, length in made.items())


def _round_ring(corners: Sequence[ExactPoint], *angles: Fraction) -> tuple[Drawn, ...]:
    """A score from each corner to the next and back to the first, folded to the angles in turn."""
    ends = pairwise((*corners, corners[0]))
    return tuple(Drawn("score", pair, angle=angles[at % len(angles)]) for at, pair in enumerate(ends))


def _envelope(piece: Piece, ledger: Ledger) -> Blank | None:
    """A square stood on its corner: its corners are the flaps, the rectangle in the middle is the body.

    Two folds run `a` over root 2 from one corner along either edge, two `b` over root 2 from the other. Between them,
    on every edge, a small triangle is cut out.
    """
    assert piece.finished is not None
    lengths = piece.finished.value.lengths
    wide, high = lengths[0].mm, lengths[1].mm
    unit = lengths[0].unit
    side = piece.size.value.lengths[0].mm if piece.size else _square_for(wide, high, unit.system)
    if piece.size and piece.size.value.lengths[-1].mm != side:
        return None
    one, other = wide / _ROOT_2, high / _ROOT_2
    if one + other > side:
        least = Length(_up(one + other, unit.system), unit)
        ledger.misfit("envelope-too-small", (piece.size or piece.finished).place, piece=piece.name.value, least=least)
        return None
    made = _note(piece, (side, side), _SIDES[:2], ledger, (one, other), piece.size is not None)
    folds = _round_ring(_corners(side, one, other), Fraction(-180))
    return _blank(piece, (side, side), _square_without_triangles(side, one, other), folds, made)


def _square_without_triangles(side: Fraction, one: Fraction, other: Fraction) -> tuple[ExactPoint, ...]:
    """The outline of an envelope's blank, clockwise from its top left corner."""
    corners = _corners(side, one, other)
    zero = Fraction(0)
    return (
        *((zero, zero), (other, zero), corners[0], (side - one, zero)),
        *((side, zero), (side, one), corners[1], (side, side - other)),
        *((side, side), (side - other, side), corners[2], (one, side)),
        *((zero, side), (zero, side - one), corners[3], (zero, other)),
    )


def _corners(side: Fraction, one: Fraction, other: Fraction) -> tuple[ExactPoint, ...]:
    """The corners of the body, from the one near the top edge clockwise: where the folds cross."""
    middle = side / 2
    # Half the body's diagonals lie along the square's own sides: a corner is (a + b) and (a - b) over 2 root 2 off.
    plus, less = (one + other) / 2, (one - other) / 2
    return (
        (middle - less, middle - plus),
        (middle + plus, middle + less),
        (middle + less, middle + plus),
        (middle - plus, middle - less),
    )


def _square_for(wide: Fraction, high: Fraction, system: System) -> Fraction:
    """The side of a square whose corners reach past each other at the middle and that leaves a notch at every edge."""
    touching = (wide + high) / _ROOT_2 + _NOTCH[system]
    meeting = (2 * min(wide, high) + _OVERLAP[system]) / _ROOT_2
    return _up(max(touching, meeting), system)


def _up(length: Fraction, system: System) -> Fraction:
    step = _ROUNDED[system]
    return -(-length // step) * step


def _pyramid(piece: Piece, ledger: Ledger) -> Blank | None:
    """A rectangle with a triangle on every side, as high as the walls slant; the four tips meet over its middle."""
    lengths = _three(piece, "pyramid", ledger)
    if lengths is None:
        return None
    wide, long, high = (length.mm for length in lengths)
    beside, before = root(high * high + wide * wide / 4), root(high * high + long * long / 4)
    x1, x2, y1, y2 = beside, beside + wide, before, before + long
    size = wide + 2 * beside, long + 2 * before
    base = ((x1, y1), (x2, y1), (x2, y2), (x1, y2))
    tips = ((size[0] / 2, Fraction(0)), (size[0], size[1] / 2), (size[0] / 2, size[1]), (Fraction(0), size[1] / 2))
    outline = tuple(chain.from_iterable(zip(base, tips, strict=True)))
    # A wall stands at the angle whose tangent is the height over half the base, and is bent by the rest of 180 degrees.
    bends = (_bend(high, long / 2), _bend(high, wide / 2))
    made = _note(piece, size, _SIDES, ledger)
    foot = BlankFace(x1, x2, y1, y2, made[0][0], made[1][0], "floor")
    return _blank(piece, size, outline, _round_ring(base, *bends), made, (foot,))


def _bend(high: Fraction, half: Fraction) -> Fraction:
    return Fraction(degrees(atan2(float(high), float(half)))) - 180


def _hexagonal(piece: Piece, ledger: Ledger) -> Blank | None:
    """A regular hexagon with a wall on every side; its finished size is from flat to flat, and how high it is."""
    assert piece.finished is not None
    lengths = piece.finished.value.lengths
    if len(lengths) != 2:
        ledger.fault("finished-wants-two", piece.finished.place, piece=piece.name.value, form="hexagonal box")
        return None
    flat, high = lengths[0].mm, lengths[1].mm
    side = flat / _ROOT_3
    # A side lies level at the top and the bottom; the slanting walls reach farthest left and right.
    wide, tall = 2 * side + 2 * high * _ROOT_3 / 2, flat + 2 * high
    x, y = wide / 2, tall / 2
    half, reach = side / 2, high * _ROOT_3 / 2
    ring = [(x - half, y - flat / 2), (x + half, y - flat / 2), (x + side, y)]
    outward = [(Fraction(0), -high), (reach, -high / 2), (reach, high / 2)]
    # The other three corners and sides lie opposite.
    ring += [(wide - left, tall - top) for left, top in ring]
    outward += [(-left, -top) for left, top in outward]
    outline: list[ExactPoint] = []
    for (start, end), (off_x, off_y) in zip(pairwise((*ring, ring[0])), outward, strict=True):
        outline += [start, (start[0] + off_x, start[1] + off_y), (end[0] + off_x, end[1] + off_y)]
    across, upright = _note(piece, (wide, tall), ("across", "high"), ledger)
    floor = BlankFace(x - flat / 2, x + flat / 2, y - flat / 2, y + flat / 2, across[0], across[0], "floor")
    folds = _round_ring(ring, Fraction(-90))
    return _blank(piece, (wide, tall), tuple(outline), folds, (across, across, upright), (floor,))


def _gable_top(piece: Piece, ledger: Ledger) -> Blank | None:
    """Four walls and a glue flap side by side; above them the roof and gables, below them the flaps of the floor."""
    sizes = _three(piece, "gable-top", ledger)
    if sizes is None:
        return None
    wide, deep, high = (length.mm for length in sizes)
    if deep > wide:
        ledger.misfit("gables-meet", (piece.finished or piece.name).place, piece=piece.name.value, wide=sizes[0])
    # How long the roof is from the eaves to the ridge.
    slope, glue = deep / _ROOT_2, _GLUE[sizes[0].unit.system]
    y0, y1, y2 = glue, glue + slope, glue + slope + high
    bottom = y2 + deep / 2
    x1, x2, x3, x4 = wide, wide + deep, 2 * wide + deep, 2 * (wide + deep)
    zero, taper = Fraction(0), min(glue, high) * _TAPER
    outline = (
        (zero, zero), (x1, zero), (x1, y0), (x2, y0), (x2, zero), (x3, zero), (x3, y0), (x4, y0), (x4, y1),
        (x4 + glue, y1 + taper), (x4 + glue, y2 - taper), (x4, y2), (x4, bottom), (zero, bottom),
    )  # fmt: skip
    lines = tuple(_carton_lines((zero, x1, x2, x3, x4), (y0, y1, y2, bottom)))
    made = _note(piece, (x4 + glue, bottom), _SIDES, ledger)
    walls = tuple(_walls(made, y1, y2, x4 + glue))
    return _blank(piece, (x4 + glue, bottom), outline, lines, made, walls)


def _carton_lines(xs: tuple[Fraction, ...], ys: tuple[Fraction, ...]) -> Iterator[Drawn]:
    y0, y1, y2, bottom = ys
    for x in xs[1:4]:
        yield _fold((x, y1), (x, y2), _SQUARE)
        yield _fold((x, y0), (x, y1), _TUCK)
        yield Drawn("cut", ((x, y2), (x, bottom)))
    yield _fold((xs[4], y1), (xs[4], y2), _SQUARE)
    for number, (left, right) in enumerate(pairwise(xs)):
        yield _fold((left, y1), (right, y1), _ROOF)
        yield _fold((left, y2), (right, y2), _SQUARE)
        if number % 2 == 0:
            yield _fold((left, y0), (right, y0), _RIDGE)
        else:
            middle = (left + right) / 2, y0
            yield _fold((left, y1), middle, _GABLE)
            yield _fold((right, y1), middle, _GABLE)


def _fold(start: ExactPoint, end: ExactPoint, angle: Fraction) -> Drawn:
    return Drawn("score", (start, end), angle=angle)


def _pillow(piece: Piece, ledger: Ledger) -> Blank | None:
    """Two panels and a glue flap, each end closed by curved flaps.

    The flap between the cut arc and the scored one, its mirror image, is as high in the middle as the pillow is thick:
    folded in, it stands upright there and reaches from one panel to the other.
    """
    sizes = _three(piece, "pillow box", ledger)
    if sizes is None:
        return None
    wide, long, thick = (length.mm for length in sizes)
    thickest = min(wide, long) / 2
    if thick >= thickest:
        ledger.misfit("pillow-too-thick", (piece.finished or piece.name).place, piece=piece.name.value)
        # Drawn as thick as it can be, and as doubtful: its arcs would run through one another.
        thick = thickest * _FULL
    glue, rise = _GLUE[sizes[0].unit.system], thick / 2
    top, foot, x1, x2 = rise, rise + long, wide, 2 * wide
    outline, lines = _pillow_lines(x1, top, foot, glue, min(glue, long) * _TAPER)
    across, down = x2 + glue, foot + rise
    made = _note(piece, (across, down), _SIDES, ledger)
    ids = made[0][0], made[1][0]
    panels = (
        BlankFace(Fraction(0), x1, top, foot, *ids, "front"),
        BlankFace(x1, x2, top, foot, *ids, "back"),
        BlankFace(x2, across, top, foot, *ids, GLUE_FLAP),
    )
    blank = _blank(piece, (across, down), outline, lines, made, panels)
    return replace(blank, doubtful=frozenset({"across", "down"})) if thick != sizes[2].mm else blank


def _pillow_lines(
    wide: Fraction, rise: Fraction, foot: Fraction, glue: Fraction, taper: Fraction
) -> tuple[tuple[ExactPoint, ...], tuple[Drawn, ...]]:
    """The outline, and the folds: two panels between `rise` and `foot`, with arcs that rise so far at either end."""
    top, x1, x2 = rise, wide, 2 * wide
    outline: list[ExactPoint] = []
    for left, right in ((Fraction(0), x1), (x1, x2)):
        outline += _arc((left, top), ((left + right) / 2, Fraction(0)), (right, top))[:-1]
    outline += [(x2, top), (x2 + glue, top + taper), (x2 + glue, foot - taper), (x2, foot)]
    for right, left in ((x2, x1), (x1, Fraction(0))):
        outline += _arc((right, foot), ((left + right) / 2, foot + rise), (left, foot))[1:]
    lines = [Drawn("score", ((x, top), (x, foot))) for x in (x1, x2)]
    for left, right in ((Fraction(0), x1), (x1, x2)):
        middle = (left + right) / 2
        lines.append(Drawn("score", ((left, top), (middle, top + rise), (right, top)), arc=True))
        lines.append(Drawn("score", ((left, foot), (middle, foot - rise), (right, foot)), arc=True))
    return tuple(outline), tuple(lines)


def _arc(*ends: ExactPoint) -> list[ExactPoint]:
    """An arc through three places as short lines, its ends as they are."""
    between = arc_points(floats(ends))[1:-1]
    return [ends[0], *((kept(x), kept(y)) for x, y in between), ends[-1]]


def _walls(made: _Made, top: Fraction, foot: Fraction, end: Fraction) -> Iterator[BlankFace]:
    """The wall at the front is the third of the four: the others go round it to both sides."""
    (across, wide), (deep, long), (high, _) = made
    yield BlankFace(wide + long, 2 * wide + long, top, foot, across, high, "front")
    yield BlankFace(Fraction(0), wide, top, foot, across, high, "back")
    yield BlankFace(wide, wide + long, top, foot, deep, high, "left")
    yield BlankFace(2 * wide + long, 2 * (wide + long), top, foot, deep, high, "right")
    yield BlankFace(2 * (wide + long), end, top, foot, across, high, GLUE_FLAP)


def _three(piece: Piece, form: str, ledger: Ledger) -> tuple[Length, ...] | None:
    assert piece.finished is not None
    lengths = piece.finished.value.lengths
    if len(lengths) != 3:
        ledger.fault("finished-wants-three", piece.finished.place, piece=piece.name.value, form=form)
        return None
    return lengths


_MAKERS: dict[str, Callable[[Piece, Ledger], Blank | None]] = {
    "envelope": _envelope,
    "pyramid": _pyramid,
    "hexagonal box": _hexagonal,
    "gable-top": _gable_top,
    "pillow box": _pillow,
}
