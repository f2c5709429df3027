"""What every maker of a form works with: the sizes asked for, folds, faces, and the marks by which it is set out.

Places with square roots in them are taken as fractions that are right to a millionth of a millionth of a millimetre,
and marked as worked out, so that pages round them to a step.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from itertools import chain, pairwise
from math import isqrt

from msgspec import Struct

from foldwright.geometry.flat.blank import Blank, BlankFace, Drawn, ExactPoint, Strip
from foldwright.geometry.flat.points import arc_points, floats, kept
from foldwright.geometry.lengths import Equal, Ledger, LengthId
from foldwright.measure.length import Length, System, Unit
from foldwright.recipe.model import Piece

type Made = tuple[tuple[LengthId, Fraction], ...]
"""What it measures when it is made, from fold to fold: each size by identity and in millimetres."""

_PARTS = 10**12
_SAME_PLACE = Fraction(1, 1000)
"""Millimetres: places this near to each other were worked out to be the same."""
GLUE = {System.METRIC: Fraction(12), System.IMPERIAL: Unit.INCH.mm / 2}
"""How wide a glue flap is, and the strip along a ridge that is glued together (common practice, no source)."""
TAPER = Fraction(1, 4)
"""A glue flap is cut narrower at its ends by this part of its width, or of its length where that is less."""
SQUARE = Fraction(-90)
"""Degrees: a wall, folded away from who makes it."""
FLAT = Fraction(-180)


class Asked(Struct, frozen=True):
    """What a maker is given: the piece, its sizes from fold to fold, how thick its card is (mm), and the ledger.

    `lengths` are as many as the form wants, in its own order; `remarks` are the facts after the form's name, in small
    letters. Of a piece that is given by its `inside`, the sizes have the card's layers added.
    """

    piece: Piece
    lengths: tuple[Length, ...]
    thickness: Fraction
    ledger: Ledger
    sides: tuple[str, ...]

    @property
    def sizes(self) -> tuple[Fraction, ...]:
        """The sizes in millimetres."""
        return tuple(length.mm for length in self.lengths)

    @property
    def unit(self) -> Unit:
        return self.lengths[0].unit

    @property
    def system(self) -> System:
        return self.unit.system

    @property
    def remarks(self) -> tuple[str, ...]:
        return tuple(remark.casefold() for remark in self.piece.fold.value.remarks) if self.piece.fold else ()

    @property
    def name(self) -> str:
        return self.piece.name.value

    @property
    def made(self) -> Made:
        return tuple(
            (LengthId(self.name, "made", side), size) for side, size in zip(self.sides, self.sizes, strict=False)
        )


class Form(Struct, frozen=True):
    """A form: who makes its blank, what its sizes are called in their order, and by how many thicknesses each of them
    is larger than the room inside. `layers` is empty where there is no such room.
    """

    maker: Callable[[Asked], Blank | None]
    sides: tuple[str, ...]
    layers: tuple[int, ...] = ()
    longer: tuple[str, ...] = ()
    """What its sizes are called where one more is given."""

    def named(self, count: int) -> tuple[str, ...]:
        """What so many sizes are called; not as many names where so many are none of this form."""
        return self.longer if count == len(self.longer) else self.sides


def root(number: Fraction) -> Fraction:
    """The square root, to a millionth of a millionth."""
    return Fraction(isqrt(int(number * _PARTS * _PARTS)), _PARTS)


ROOT_2, ROOT_3 = root(Fraction(2)), root(Fraction(3))


def fold(start: ExactPoint, end: ExactPoint, angle: Fraction) -> Drawn:
    """A score from place to place, folded to so many degrees: below nothing away from who makes it."""
    return Drawn("score", (start, end), angle=angle)


def round_ring(corners: Sequence[ExactPoint], *angles: Fraction) -> tuple[Drawn, ...]:
    """A score from each corner to the next and back to the first, folded to the angles in turn."""
    ends = pairwise((*corners, corners[0]))
    return tuple(fold(*pair, angles[at % len(angles)]) for at, pair in enumerate(ends))


def arc(*ends: ExactPoint) -> list[ExactPoint]:
    """An arc through three places as short lines, its ends as they are."""
    between = arc_points(floats(ends))[1:-1]
    return [ends[0], *((kept(x), kept(y)) for x, y in between), ends[-1]]


def blank_of(
    asked: Asked,
    size: tuple[Fraction, Fraction],
    outline: tuple[ExactPoint, ...],
    drawn: tuple[Drawn, ...],
    faces: tuple[BlankFace, ...] = (),
    corners: Iterable[ExactPoint] | None = None,
    written: bool = False,
) -> Blank:
    """The blank, its sizes and marks noted. The panel that lies still is the first of the `faces`, or the middle one.

    `corners` are the places of the outline that are set out with a ruler, all of them when None: not the points of a
    curve. A size that was not `written` was worked out.
    """
    piece, (wide, high) = asked.piece, size
    places = [*chain.from_iterable(line.points for line in drawn), *(outline if corners is None else corners)]
    _note(asked, size, places, written)
    return Blank(
        asked.name,
        piece.count.value if piece.count else 1,
        wide,
        high,
        (Strip("", Fraction(0), wide, LengthId(asked.name, "across", "size")),),
        (Strip("", Fraction(0), high, LengthId(asked.name, "down", "size")),),
        drawn=drawn,
        form=piece.fold.value.form if piece.fold else "",
        outline=outline,
        stays=faces[0].middle if faces else (wide / 2, high / 2),
        made=asked.made,
        faces=faces,
    )


def _note(asked: Asked, size: tuple[Fraction, Fraction], places: Sequence[ExactPoint], written: bool) -> None:
    """The size of the blank, how far every place on it is from its left and top edges, and the sizes it is made to."""
    name, ledger = asked.name, asked.ledger
    across, down = LengthId(name, "across", "size"), LengthId(name, "down", "size")
    noted: list[LengthId] = [] if written else [across, down]
    for axis, (own, whole) in enumerate(zip((across, down), size, strict=True)):
        ledger.lengths[own] = Length(whole, asked.unit)
        for number, mm in enumerate(_apart(sorted(place[axis] for place in places), whole), 1):
            noted.append(LengthId(name, own.side, "mark", number))
            ledger.lengths[noted[-1]] = Length(mm, asked.unit)
    ledger.worked_out.update(noted)
    if size[0] == size[1]:
        ledger.relations.append(Equal(across, down))
    ledger.lengths.update((own, length) for (own, _), length in zip(asked.made, asked.lengths, strict=False))


def _apart(places: Sequence[Fraction], whole: Fraction) -> Sequence[Fraction]:
    """Each place between the two edges once."""
    marks = [Fraction(0)]
    for at in places:
        if at - marks[-1] > _SAME_PLACE and whole - at > _SAME_PLACE:
            marks.append(at)
    return marks[1:]
