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
from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, BlankFace, Drawn, ExactPoint, Strip
from foldwright.geometry.flat.points import arc_points, floats, kept
from foldwright.geometry.lengths import Equal, Ledger, LengthId, Sum
from foldwright.measure.length import Length, System, Unit
from foldwright.measure.reading import read_length
from foldwright.recipe.model import Piece

type Made = tuple[tuple[LengthId, Fraction], ...]
"""What it measures when it is made, from fold to fold: each size by identity and in millimetres."""

_PARTS = 10**12
_SAME_PLACE = Fraction(1, 1000)
"""Millimetres: places this near to each other were worked out to be the same."""
GLUE = {System.METRIC: Fraction(12), System.IMPERIAL: Unit.INCH.mm / 2}
"""How wide a glue flap is, and the strip along a ridge that is glued together (common practice, no source)."""
STEP = {System.METRIC: Fraction(1, 2), System.IMPERIAL: Unit.INCH.mm / 32}
"""The finest step that is set out with a ruler: 1/2 mm, 1/32 in."""
TAPER = Fraction(1, 4)
"""A glue flap is cut narrower at its ends by this part of its width, or of its length where that is less."""
GLUE_AREA = "glue area"
SQUARE = Fraction(-90)
"""Degrees: a wall, folded away from who makes it."""
FLAT = Fraction(-180)


class Asked(Struct, frozen=True):
    """What a maker is given: the piece, its sizes from fold to fold, how thick its card is (mm), and the ledger.

    `lengths` are as many as the form wants, in its own order; `remarks` are the facts after the form's name. Of a piece
    that is given by its `inside`, the sizes have the card's layers added.
    """

    piece: Piece
    lengths: tuple[Length, ...]
    thickness: Fraction
    ledger: Ledger
    sides: tuple[str, ...]
    under: Fraction = Fraction(0)
    """How thick what it covers is, in millimetres."""

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
        return remarks_of(self.piece)

    @property
    def name(self) -> str:
        return self.piece.name.value

    def on_ruler(self) -> Asked:
        """The same with its sizes taken up to the steps of a ruler, so that all that follows from them falls on one."""
        step = STEP[self.system]
        return replace(self, lengths=tuple(Length(-(-one.mm // step) * step, one.unit) for one in self.lengths))

    def easing(self, layers: int) -> Fraction:
        """So many thicknesses of card taken up to steps of a ruler, and at least one step: what one edge or fold keeps
        clear of another so that so many layers find room between them."""
        step = STEP[self.system]
        return max(1, -(-layers * self.thickness // step)) * step

    @property
    def made(self) -> Made:
        return tuple(
            (LengthId(self.name, "made", side), size) for side, size in zip(self.sides, self.sizes, strict=False)
        )


class Form(Struct, frozen=True):
    """A form: who makes its blank, what its sizes are called in their order, and by how many thicknesses each of them
    is larger than the room inside. `layers` is empty where there is no such room; `more` are those that remarks add.
    One that `fits` what it holds may leave out its size: it is worked out.
    """

    maker: Callable[[Asked], Blank | None]
    sides: tuple[str, ...]
    layers: tuple[int, ...] = ()
    more: Callable[[Piece], tuple[int, ...]] | None = None
    fits: bool = False

    longer: tuple[str, ...] = ()
    """What its sizes are called where one more is given."""

    def named(self, count: int) -> tuple[str, ...]:
        """What so many sizes are called; not as many names where so many are none of this form."""
        return self.longer if count == len(self.longer) else self.sides

    def layers_of(self, piece: Piece) -> tuple[int, ...]:
        """The layers of a piece of this form, which is made as its remarks say."""
        more = self.more(piece) if self.more else (0,) * len(self.layers)
        return tuple(own + added for own, added in zip(self.layers, more, strict=True))


def remarks_of(piece: Piece) -> tuple[str, ...]:
    """What stands after the word of the piece's form."""
    return piece.fold.value.remarks if piece.fold else ()


def root(number: Fraction) -> Fraction:
    """The square root, to a millionth of a millionth."""
    return Fraction(isqrt(int(number * _PARTS * _PARTS)), _PARTS)


ROOT_2, ROOT_3 = root(Fraction(2)), root(Fraction(3))


def fold(start: ExactPoint, end: ExactPoint, angle: Fraction) -> Drawn:
    """A score from place to place, folded to so many degrees: below nothing away from who makes it."""
    return Drawn("score", (start, end), angle=angle)


def remark_length(asked: Asked, word: str) -> Length | None:
    """The length that stands after a word among the remarks (`hem 20 mm`)."""
    said = next((remark.removeprefix(word) for remark in asked.remarks if remark.startswith(f"{word} ")), "")
    read = read_length(said.strip(), asked.unit)
    return read if isinstance(read, Length) else None


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
    labels: tuple[tuple[str, ExactPoint], ...] = (),
    set_out: Sequence[ExactPoint] = (),
) -> Blank:
    """The blank, its sizes and marks noted. The panel that lies still is the first of the `faces`, or the middle one.

    `corners` are the places of the outline that are set out with a ruler, all of them when None: not the points of a
    curve. `set_out`, where there are any, are all places that are. A size that was not `written` was worked out.
    """
    piece, (wide, high) = asked.piece, size
    lines = chain.from_iterable(line.points for line in drawn if line.kind != GLUE_AREA)
    places = [*lines, *(outline if corners is None else corners)]
    marks = _note(asked, size, set_out or places, written)
    _keep_faces(asked, faces)
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
        marks=marks,
        labels=labels,
    )


def _note(
    asked: Asked, size: tuple[Fraction, Fraction], places: Sequence[ExactPoint], written: bool
) -> tuple[tuple[LengthId, Fraction], ...]:
    """The size of the blank, how far every place on it is from its left and top edges, and the sizes it is made to.

    What is returned are the places.
    """
    name, ledger = asked.name, asked.ledger
    across, down = LengthId(name, "across", "size"), LengthId(name, "down", "size")
    marks: list[tuple[LengthId, Fraction]] = []
    for axis, (own, whole) in enumerate(zip((across, down), size, strict=True)):
        ledger.lengths[own] = Length(whole, asked.unit)
        for number, mm in enumerate(_apart(sorted(place[axis] for place in places), whole), 1):
            marks.append((LengthId(name, own.side, "mark", number), mm))
            ledger.lengths[marks[-1][0]] = Length(mm, asked.unit)
    noted = [*(mark for mark, _ in marks), *(() if written else (across, down))]
    # What falls on a ruler's step in its own unit is set out there; the rest is rounded when it is printed.
    ledger.worked_out.update(name for name in noted if ledger.lengths[name].mm % STEP[asked.system])
    if size[0] == size[1]:
        ledger.relations.append(Equal(across, down))
    ledger.lengths.update((own, length) for (own, _), length in zip(asked.made, asked.lengths, strict=False))
    return tuple(marks)


def _keep_faces(asked: Asked, faces: Sequence[BlankFace]) -> None:
    """However they are rounded, the two edges of a panel stay as far apart as it is long."""
    known: dict[tuple[str, int], LengthId] = {}
    for own, length in asked.ledger.lengths.items():
        if own.piece == asked.name and own.place in ("mark", "size"):
            known.setdefault((own.side, _tick(length.mm)), own)
    lengths, kept_once = asked.ledger.lengths, set[LengthId]()
    for face in faces:
        for side, low, high, own in (
            ("across", face.left, face.right, face.across),
            ("down", face.top, face.bottom, face.down),
        ):
            start, end = known.get((side, _tick(low))), known.get((side, _tick(high)))
            if end is None or end in kept_once or _tick(high - low) != _tick(lengths[own].mm):
                continue
            if start is not None or not low:
                kept_once.add(end)
                asked.ledger.relations.append(Sum(end, (*((start,) if start else ()), own)))


def _tick(mm: Fraction) -> int:
    """Places that were worked out to be the same have the same."""
    return round(mm / _SAME_PLACE)


def _apart(places: Sequence[Fraction], whole: Fraction) -> Sequence[Fraction]:
    """Each place between the two edges once."""
    marks = [Fraction(0)]
    for at in places:
        if at - marks[-1] > _SAME_PLACE and whole - at > _SAME_PLACE:
            marks.append(at)
    return marks[1:]
