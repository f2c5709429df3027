"""Blanks that are no rows of panels: the square envelope, the pyramid, the hexagonal box, from their finished size.

Their places have square roots in them. They are taken as fractions that are right to a millionth of a millionth of a
millimetre, and marked as worked out, so that pages round them to a step.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from math import atan2, degrees, isqrt

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, BlankFace, Drawn, ExactPoint, Strip
from foldwright.geometry.flat.cartons import gable_top, pillow
from foldwright.geometry.flat.ledger import Ledger
from foldwright.geometry.flat.rows import GLUE_FLAP
from foldwright.geometry.lengths import Equal, LengthId
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
    wide: Fraction,
    high: Fraction,
    outline: tuple[ExactPoint, ...],
    drawn: tuple[Drawn, ...],
    made: _Made,
    faces: tuple[BlankFace, ...] = (),
) -> Blank:
    """The panel that lies still is the first of the `faces`, or else the one in the middle of the blank."""
    name = piece.name.value
    zero = Fraction(0)
    across, down = LengthId(name, "across", "size"), LengthId(name, "down", "size")
    return Blank(
        name,
        piece.count.value if piece.count else 1,
        wide,
        high,
        (Strip("", zero, wide, across),),
        (Strip("", zero, high, down),),
        drawn=drawn,
        form=piece.fold.value.form if piece.fold else "",
        outline=outline,
        stays=_middle(faces[0]) if faces else (wide / 2, high / 2),
        made=made,
        faces=faces,
    )


def _middle(face: BlankFace) -> ExactPoint:
    return (face.left + face.right) / 2, (face.top + face.bottom) / 2


def _note_made(piece: Piece, sides: tuple[str, ...], lengths: Sequence[Length], ledger: Ledger) -> _Made:
    """The finished sizes as lengths of their own: what goes in or round is measured by them."""
    found = []
    for side, length in zip(sides, lengths, strict=True):
        name = LengthId(piece.name.value, "made", side)
        ledger.lengths[name] = length
        found.append((name, length.mm))
    return tuple(found)


def _note_size(piece: Piece, wide: Fraction, high: Fraction, unit: Unit, written: bool, ledger: Ledger) -> None:
    name = piece.name.value
    for side, length in (("across", wide), ("down", high)):
        own = LengthId(name, side, "size")
        ledger.lengths[own] = Length(length, unit)
        if not written:
            ledger.worked_out.add(own)
    if wide == high:
        ledger.relations.append(Equal(LengthId(name, "across", "size"), LengthId(name, "down", "size")))


# --- the envelope from a square ---------------------------------------------------------------------------------------


def _envelope(piece: Piece, ledger: Ledger) -> Blank | None:
    """A square stood on its corner: its corners are the flaps, the rectangle in the middle is the body.

    Two folds run `a` over root 2 from one corner along either edge, two `b` over root 2 from the other. Between them,
    on every edge, a small triangle is cut out.
    """
    assert piece.finished is not None
    lengths = piece.finished.value.lengths
    wide, high = lengths[0].mm, lengths[1].mm
    unit = lengths[0].unit
    written = piece.size is not None
    side = piece.size.value.lengths[0].mm if piece.size else _square_for(wide, high, unit.system)
    if piece.size and piece.size.value.lengths[-1].mm != side:
        return None
    one, other = wide / _ROOT_2, high / _ROOT_2
    if one + other > side:
        least = Length(_up(one + other, unit.system), unit)
        ledger.misfit("envelope-too-small", (piece.size or piece.finished).place, piece=piece.name.value, least=least)
        return None
    _note_size(piece, side, side, unit, written, ledger)
    _note_marks(piece, one, other, unit, ledger)
    corners = _corners(side, one, other)
    folds = tuple(
        Drawn("score", (corners[at], corners[(at + 1) % 4]), number=0, angle=Fraction(-180)) for at in range(4)
    )
    made = _note_made(piece, _SIDES[:2], lengths[:2], ledger)
    return _blank(piece, side, side, _square_without_triangles(side, one, other), folds, made)


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


def _note_marks(piece: Piece, one: Fraction, other: Fraction, unit: Unit, ledger: Ledger) -> None:
    for number, mark in enumerate((one, other), 1):
        name = LengthId(piece.name.value, "fold", "mark", number)
        ledger.lengths[name] = Length(mark, unit)
        ledger.worked_out.add(name)


def _square_for(wide: Fraction, high: Fraction, system: System) -> Fraction:
    """The side of a square whose corners reach past each other at the middle and that leaves a notch at every edge."""
    touching = (wide + high) / _ROOT_2 + _NOTCH[system]
    meeting = (2 * min(wide, high) + _OVERLAP[system]) / _ROOT_2
    return _up(max(touching, meeting), system)


def _up(length: Fraction, system: System) -> Fraction:
    step = _ROUNDED[system]
    return -(-length // step) * step


# --- the pyramid ------------------------------------------------------------------------------------------------------


def _pyramid(piece: Piece, ledger: Ledger) -> Blank | None:
    """A rectangle with a triangle on every side, as high as the walls slant; the four tips meet over its middle."""
    lengths = _three(piece, "pyramid", ledger)
    if lengths is None:
        return None
    wide, long, high = (length.mm for length in lengths)
    unit = lengths[0].unit
    beside, before = root(high * high + wide * wide / 4), root(high * high + long * long / 4)
    x1, x2, y1, y2 = beside, beside + wide, before, before + long
    _note_size(piece, wide + 2 * beside, long + 2 * before, unit, False, ledger)
    outline = (
        (x1, y1),
        (x1 + wide / 2, Fraction(0)),
        (x2, y1),
        (x2 + beside, y1 + long / 2),
        (x2, y2),
        (x1 + wide / 2, y2 + before),
        (x1, y2),
        (Fraction(0), y1 + long / 2),
    )
    base = ((x1, y1), (x2, y1), (x2, y2), (x1, y2))
    # A wall stands at the angle whose tangent is the height over half the base, and is bent by the rest of 180 degrees.
    bends = (_bend(high, long / 2), _bend(high, wide / 2))
    folds = tuple(Drawn("score", (base[at], base[(at + 1) % 4]), number=0, angle=bends[at % 2]) for at in range(4))
    made = _note_made(piece, _SIDES, lengths, ledger)
    (across, _), (down, _), _ = made
    foot = BlankFace(x1, x2, y1, y2, across, down, "floor")
    return _blank(piece, wide + 2 * beside, long + 2 * before, outline, folds, made, (foot,))


def _bend(high: Fraction, half: Fraction) -> Fraction:
    return Fraction(degrees(atan2(float(high), float(half)))) - 180


# --- the hexagonal box ------------------------------------------------------------------------------------------------


def _hexagonal(piece: Piece, ledger: Ledger) -> Blank | None:
    """A regular hexagon with a wall on every side; its finished size is from flat to flat, and how high it is."""
    assert piece.finished is not None
    lengths = piece.finished.value.lengths
    if len(lengths) != 2:
        ledger.fault("finished-wants-two", piece.finished.place, piece=piece.name.value, form="hexagonal box")
        return None
    flat, high = lengths[0].mm, lengths[1].mm
    unit = lengths[0].unit
    side = flat / _ROOT_3
    # A side lies level at the top and the bottom; the slanting walls reach farthest left and right.
    wide, tall = 2 * side + 2 * high * _ROOT_3 / 2, flat + 2 * high
    _note_size(piece, wide, tall, unit, False, ledger)
    x, y = wide / 2, tall / 2
    ring = [
        (x - side / 2, y - flat / 2),
        (x + side / 2, y - flat / 2),
        (x + side, y),
        (x + side / 2, y + flat / 2),
        (x - side / 2, y + flat / 2),
        (x - side, y),
    ]
    outward = [
        (Fraction(0), -high),
        (high * _ROOT_3 / 2, -high / 2),
        (high * _ROOT_3 / 2, high / 2),
        (Fraction(0), high),
        (-high * _ROOT_3 / 2, high / 2),
        (-high * _ROOT_3 / 2, -high / 2),
    ]
    outline: list[ExactPoint] = []
    for at, (off_x, off_y) in enumerate(outward):
        start, end = ring[at], ring[(at + 1) % 6]
        outline += [start, (start[0] + off_x, start[1] + off_y), (end[0] + off_x, end[1] + off_y)]
    folds = tuple(Drawn("score", (ring[at], ring[(at + 1) % 6]), number=0, angle=Fraction(-90)) for at in range(6))
    across, upright = _note_made(piece, ("across", "high"), lengths, ledger)
    floor = BlankFace(x - flat / 2, x + flat / 2, y - flat / 2, y + flat / 2, across[0], across[0], "floor")
    return _blank(piece, wide, tall, tuple(outline), folds, (across, across, upright), (floor,))


# --- cartons ----------------------------------------------------------------------------------------------------------


def _gable_top(piece: Piece, ledger: Ledger) -> Blank | None:
    sizes = _three(piece, "gable-top", ledger)
    if sizes is None:
        return None
    wide, deep, high = (length.mm for length in sizes)
    if deep > wide:
        ledger.misfit("gables-meet", (piece.finished or piece.name).place, piece=piece.name.value, wide=sizes[0])
    slope = deep / _ROOT_2
    across, down, outline, lines = gable_top(wide, deep, high, slope, sizes[0].unit.system)
    _note_size(piece, across, down, sizes[0].unit, False, ledger)
    made = _note_made(piece, _SIDES, sizes, ledger)
    foot = down - deep / 2
    walls = tuple(_walls(made, foot - high, foot, across))
    return _blank(piece, across, down, outline, lines, made, walls)


def _walls(made: _Made, top: Fraction, foot: Fraction, end: Fraction) -> Iterator[BlankFace]:
    """The wall at the front is the third of the four: the others go round it to both sides."""
    (across, wide), (deep, long), (high, _) = made
    yield BlankFace(wide + long, 2 * wide + long, top, foot, across, high, "front")
    yield BlankFace(Fraction(0), wide, top, foot, across, high, "back")
    yield BlankFace(wide, wide + long, top, foot, deep, high, "left")
    yield BlankFace(2 * wide + long, 2 * (wide + long), top, foot, deep, high, "right")
    yield BlankFace(2 * (wide + long), end, top, foot, across, high, GLUE_FLAP)


def _pillow(piece: Piece, ledger: Ledger) -> Blank | None:
    sizes = _three(piece, "pillow box", ledger)
    if sizes is None:
        return None
    wide, long, thick = (length.mm for length in sizes)
    thickest = min(wide, long) / 2
    if thick >= thickest:
        ledger.misfit("pillow-too-thick", (piece.finished or piece.name).place, piece=piece.name.value)
        # Drawn as thick as it can be, and as doubtful: its arcs would run through one another.
        thick = thickest * _FULL
    across, down, outline, lines = pillow(wide, long, thick, sizes[0].unit.system)
    _note_size(piece, across, down, sizes[0].unit, False, ledger)
    made = _note_made(piece, _SIDES, sizes, ledger)
    ids = made[0][0], made[1][0]
    top, foot = thick / 2, thick / 2 + long
    panels = (
        BlankFace(Fraction(0), wide, top, foot, *ids, "front"),
        BlankFace(wide, 2 * wide, top, foot, *ids, "back"),
        BlankFace(2 * wide, across, top, foot, *ids, GLUE_FLAP),
    )
    blank = _blank(piece, across, down, outline, lines, made, panels)
    return replace(blank, doubtful=frozenset({"across", "down"})) if thick != sizes[2].mm else blank


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
