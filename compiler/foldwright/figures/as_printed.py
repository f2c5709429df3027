"""A blank with every length as it is printed in one unit system: what a reader of that system cuts."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.figures.model import Figures
from foldwright.geometry.flat.blank import Blank, BlankFace, Cut, ExactPoint, Opening, Strip
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length

type Exact = Mapping[LengthId, Length]


def as_printed(blank: Blank, figures: Figures, exact: Exact) -> Blank:
    """The blank whose panels, size, holes and lines have their printed lengths; `exact` are those it was laid with.

    Panels are set out one after the other, so that scores stand where the printed panels end. Places that no printed
    length gives (the middle between two scores, a mirror image) keep their part of the way between those that one does.
    """
    across = _PrintedAxis(blank, "across", figures, exact)
    down = _PrintedAxis(blank, "down", figures, exact)

    def moved(point: ExactPoint) -> ExactPoint:
        return across.at(point[0]), down.at(point[1])

    def face_moved(face: BlankFace) -> BlankFace:
        sides = {"left": across.at(face.left), "right": across.at(face.right)}
        return replace(face, **sides, top=down.at(face.top), bottom=down.at(face.bottom))

    # Of a form whose folds slant, as an envelope's, nobody cuts the sizes it is made to: its marks are exact enough.
    cut = {name for face in blank.faces for name in (face.across, face.down)}
    return replace(
        blank,
        width=across.size,
        height=down.size,
        across=across.strips,
        down=down.strips,
        flap_cuts=tuple(Cut(moved(cut.start), moved(cut.end)) for cut in blank.flap_cuts),
        flap_trimmed=_printed(blank.flap_trim, figures, blank.flap_trimmed),
        openings=tuple(_opening(opening, figures, exact, across, down) for opening in blank.openings),
        drawn=tuple(replace(line, points=tuple(map(moved, line.points))) for line in blank.drawn),
        outline=tuple(map(moved, blank.outline)),
        inner=tuple(tuple(map(moved, ring)) for ring in blank.inner),
        notches=tuple(_notch(notch, figures, exact, across, down) for notch in blank.notches),
        stays=moved(blank.stays) if blank.stays else None,
        faces=tuple(map(face_moved, blank.faces)),
        corners=tuple(map(moved, blank.corners)),
        made=tuple((name, _printed(name if name in cut else None, figures, size)) for name, size in blank.made),
    )


def _printed(name: LengthId | None, figures: Figures, otherwise: Fraction) -> Fraction:
    return figures.printed[name].mm if name is not None and name in figures.printed else otherwise


class _PrintedAxis:
    """One side of a blank: where every place of it comes to be."""

    def __init__(self, blank: Blank, side: str, figures: Figures, exact: Exact) -> None:
        strips, size = (blank.across, blank.width) if side == "across" else (blank.down, blank.height)
        self.figures = figures
        self.size = _printed(LengthId(blank.piece, side, "size"), figures, size)
        self.strips = tuple(self._set_out(strips)) if len(strips) > 1 else (replace(strips[0], end=self.size),)
        anchors = {Fraction(0): Fraction(0), size: self.size}
        anchors |= {length.mm: figures.printed[name].mm for name, length in _coordinates(blank, side, figures, exact)}
        anchors |= {old.end: new.end for old, new in zip(strips, self.strips, strict=True)}
        self._old = sorted(anchors)
        self._new = [anchors[place] for place in self._old]

    def _set_out(self, strips: Sequence[Strip]) -> Iterator[Strip]:
        start = Fraction(0)
        for strip in strips:
            end = start + _printed(strip.length, self.figures, strip.end - strip.start)
            yield replace(strip, start=start, end=end)
            start = end

    def at(self, place: Fraction) -> Fraction:
        """A place between two known ones, as far from either in part; beyond the last, moved with it."""
        number = bisect_right(self._old, place)
        if number == 0:
            return place
        if number == len(self._old):
            return self._new[-1] + place - self._old[-1]
        low, high = self._old[number - 1], self._old[number]
        new_low, new_high = self._new[number - 1], self._new[number]
        return new_low + (place - low) * (new_high - new_low) / (high - low)


def _coordinates(blank: Blank, side: str, figures: Figures, exact: Exact) -> Iterator[tuple[LengthId, Length]]:
    """The coordinates of the piece's own lines, and of the places its form is set out by."""
    places = (("line", side), (side, "mark"))
    for name, length in exact.items() if blank.drawn else ():
        if name.piece == blank.piece and (name.side, name.place) in places and name in figures.printed:
            yield name, length


def _opening(opening: Opening, figures: Figures, exact: Exact, across: _PrintedAxis, down: _PrintedAxis) -> Opening:
    wide = _printed(opening.sizes[0] if opening.sizes else None, figures, opening.width)
    high = _printed(opening.sizes[-1] if opening.sizes else None, figures, opening.height)
    shift = (
        [opening.copy * exact[opening.apart].mm * (opening.apart.place == side) for side in ("across", "down")]
        if opening.apart
        else (0, 0)
    )
    middle = [
        across.at(opening.left + opening.width / 2 - shift[0]),
        down.at(opening.top + opening.height / 2 - shift[1]),
    ]
    offsets = []
    for offset in opening.offsets:
        axis, size = (across, wide) if offset.edge in ("left", "right") else (down, high)
        length = _printed(offset.length, figures, offset.end - offset.start)
        reach = length + (size / 2 if offset.of == "edge" else 0)
        if offset.edge in ("right", "bottom"):
            end = axis.at(offset.end)
            middle[axis is down], start = end - reach, end - length
        else:
            start = axis.at(offset.start)
            middle[axis is down], end = start + reach, start + length
        offsets.append(replace(offset, start=start, end=end))
    if opening.apart:
        apart = _printed(opening.apart, figures, exact[opening.apart].mm)
        middle[opening.apart.place == "down"] += opening.copy * apart
    left, top = middle[0] - wide / 2, middle[1] - high / 2
    return replace(opening, left=left, top=top, width=wide, height=high, offsets=tuple(offsets))


def _notch(notch: Opening, figures: Figures, exact: Exact, across: _PrintedAxis, down: _PrintedAxis) -> Opening:
    """Along its edge as a hole, and from the edge as deep as is printed."""
    level = notch.edge in ("top", "bottom")
    placed = _opening(replace(notch, sizes=notch.sizes[:1]), figures, exact, across, down)
    along = placed.width if level else placed.height
    deep = _printed(notch.sizes[1], figures, along / 2) if len(notch.sizes) > 1 else along / 2
    far = {"right": across.size - deep, "bottom": down.size - deep}.get(notch.edge, Fraction(0))
    if level:
        return replace(placed, sizes=notch.sizes, top=far, height=deep)
    return replace(placed, sizes=notch.sizes, left=far, width=deep)
