"""A piece written anew once it is known how long each of its panels is: rows, holes and lines go with their panels."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.begin.resize.growth import Growth, Stretch, nearest
from foldwright.geometry.flat.blank import Blank
from foldwright.geometry.flat.panels import faces_called
from foldwright.geometry.lengths import LengthId
from foldwright.measure.length import Length
from foldwright.measure.prose import find_measures
from foldwright.recipe.facts.writing import write_length
from foldwright.recipe.model import (
    Dims,
    DrawnLine,
    Hole,
    PanelFact,
    Piece,
    PlaceBeside,
    Placement,
    Repeat,
    Said,
    Supply,
)

_LARGEST_PUNCH = Fraction(50)
"""Millimetres: a round hole above this is cut, not punched (a reasoned guess)."""
_LONGEST_SLOT = Fraction(20)
"""Millimetres: a slot above this is for a tab or a strip of card, unless a ribbon goes through (a reasoned guess)."""
_NEAR = Fraction(1)
"""Millimetres: a finished size that differs by less from a panel is that of the panel (a reasoned guess)."""
_SLOT_ROOM = Fraction(4)
"""Millimetres that a slot is longer at most than the ribbon is wide (a reasoned guess)."""


class Rewriter:
    """Writes one piece anew. `stretches` say how long its panels were and are, across and down."""

    def __init__(
        self, blank: Blank, stretches: Mapping[str, Stretch], growth: Growth, supplies: Sequence[Supply]
    ) -> None:
        self._blank = blank
        self._stretches = stretches
        self._growth = growth
        self._ribbons = [supply.width.value.mm for supply in supplies if supply.width]

    def marks(self, piece: Piece) -> Piece:
        """The piece with its holes and lines where they belong now."""
        return replace(
            piece,
            holes=tuple(Said(self._hole(hole.value), hole.place) for hole in piece.holes),
            lines=tuple(Said(self._line(line.value), line.place) for line in piece.lines),
        )

    # --- holes --------------------------------------------------------------------------------------------------------

    def _hole(self, hole: Hole) -> Hole:
        """A punch makes the hole it makes; a window is as large a part of the piece as it was."""
        place = hole.position
        offsets = tuple((edge, self._offset(place.panel, edge, far), of) for edge, far, of in place.offsets)
        at, repeat = (self._beside(place.at) if place.at else None), self._repeated(place.repeat)
        position = replace(place, offsets=offsets, at=at, repeat=repeat)
        return replace(hole, position=position, size=tuple(self._opening(hole)))

    def _opening(self, hole: Hole) -> Iterator[Length]:
        scaled = _is_cut_out(hole) or (hole.shape == "slot" and self._for_a_tab(hole.size))
        longest = max((length.mm for length in hole.size), default=Fraction(0))
        for side, length in zip(("across", "down"), hole.size, strict=False):
            # Of a slot, how wide it is follows from what goes through.
            stays = not scaled or (hole.shape == "slot" and length.mm < longest)
            yield length if stays else self._by_ratio(side, hole.position.panel, length)

    def _for_a_tab(self, size: Sequence[Length]) -> bool:
        long = max(length.mm for length in size)
        threaded = any(ribbon <= long <= ribbon + _SLOT_ROOM for ribbon in self._ribbons)
        return long > _LONGEST_SLOT and not threaded

    def _offset(self, panel: str, edge: str, far: Length) -> Length:
        side = "across" if edge in ("left", "right") else "down"
        if panel:
            return self._by_ratio(side, panel, far)
        stretch, mark = self._stretches[side], self._growth.mark(far.unit)
        if edge in ("left", "top"):
            return Length(stretch.marked(far.mm, mark), far.unit)
        return Length(stretch.new - stretch.marked(stretch.old - far.mm, mark), far.unit)

    def _by_ratio(self, side: str, panel: str, old: Length) -> Length:
        ratio = self._ratio(side, panel)
        return old if ratio == 1 else Length(nearest(old.mm * ratio, self._growth.mark(old.unit)), old.unit)

    def _ratio(self, side: str, panel: str) -> Fraction:
        """How many times as long a panel is along a side; the piece, where none is named."""
        stretch = self._stretches[side]
        faces = faces_called(self._blank, panel) if panel else ()
        if not faces:
            return stretch.new / stretch.old
        start, end = (faces[0].left, faces[0].right) if side == "across" else (faces[0].top, faces[0].bottom)
        return (stretch.place(end) - stretch.place(start)) / (end - start)

    def _repeated(self, repeat: Repeat | None) -> Repeat | None:
        return replace(repeat, apart=self._growth.spaced(repeat.apart, repeat.times)) if repeat else None

    # --- lines --------------------------------------------------------------------------------------------------------

    def _line(self, line: DrawnLine) -> DrawnLine:
        points = tuple(
            self._beside(point) if isinstance(point, PlaceBeside) else self._point(point, line.every_panel)
            for point in line.points
        )
        return replace(line, points=points, repeat=self._repeated(line.repeat))

    def _point(self, point: tuple[Length, Length], on_panel: bool) -> tuple[Length, Length]:
        if on_panel:
            return self._growth.grown(point[0]), self._growth.grown(point[1])
        return self._place("across", point[0]), self._place("down", point[1])

    def _place(self, side: str, old: Length) -> Length:
        return Length(self._stretches[side].marked(old.mm, self._growth.mark(old.unit)), old.unit)

    def _beside(self, place: PlaceBeside) -> PlaceBeside:
        return replace(place, away=tuple((way, self._growth.grown(far)) for way, far in place.away))


def _is_cut_out(hole: Hole) -> bool:
    """Whether a hole is cut to its piece: a window, or a round one that no punch makes."""
    return hole.shape == "window" or (hole.shape == "round" and hole.size[0].mm > _LARGEST_PUNCH)


def with_rows(piece: Piece, blank: Blank, new: Mapping[LengthId, Fraction], scale: Fraction) -> Piece:
    """The piece with its panels, and the sizes they come to, flat and finished."""
    name = piece.name.value
    sides = [new.get(LengthId(name, side, "size")) for side in ("across", "down")]
    return replace(
        piece,
        size=_sized(piece.size, sides),
        finished=_finished(piece.finished, blank, new, scale),
        across=tuple(_panels(name, "across", piece.across, new)),
        down=tuple(_panels(name, "down", piece.down, new)),
    )


def _sized(size: Said[Dims] | None, sides: Sequence[Fraction | None]) -> Said[Dims] | None:
    if size is None:
        return None
    lengths = (
        Length(old.mm if mm is None else mm, old.unit) for mm, old in zip(sides, size.value.lengths, strict=False)
    )
    return Said(replace(size.value, lengths=tuple(lengths)), size.place)


def _finished(
    said: Said[Dims] | None, blank: Blank, new: Mapping[LengthId, Fraction], scale: Fraction
) -> Said[Dims] | None:
    """What a piece that is given flat measures when made is only compared: as long as the panel that was as long, else
    so many times as long."""
    if said is None:
        return None
    strips = (*blank.across, *blank.down)

    def anew(old: Length) -> Length:
        near = min(strips, key=lambda strip: abs(strip.long - old.mm))
        known = abs(near.long - old.mm) < _NEAR
        return Length(old.mm + new[near.length] - near.long if known else old.mm * scale, old.unit)

    return Said(replace(said.value, lengths=tuple(map(anew, said.value.lengths))), said.place)


def _panels(piece: str, side: str, row: Sequence[PanelFact], new: Mapping[LengthId, Fraction]) -> Iterator[PanelFact]:
    for number, panel in enumerate(row, 1):
        mm = new.get(LengthId(piece, side, "panel", number))
        yield replace(panel, length=Length(mm, panel.length.unit)) if panel.length and mm else panel


def with_joints(piece: Piece, growth: Growth) -> Piece:
    """The piece with distances in the words on where it is glued or woven (`40 mm from the fold`) so many times as
    long."""
    if growth.scale == 1:
        return piece
    glued = (Said(replace(said.value, to=_regrown(said.value.to, growth)), said.place) for said in piece.glued)
    woven = (Said(_regrown(said.value, growth), said.place) for said in piece.woven_with)
    return replace(piece, glued=tuple(glued), woven_with=tuple(woven))


def _regrown(placement: Placement, growth: Growth) -> Placement:
    said, remark, at = placement.remark, "", 0
    for measure in find_measures(said, frozenset()).measures:
        remark += said[at : measure.start]
        alone = len(measure.lengths) == 1
        remark += write_length(growth.grown(measure.lengths[0])) if alone else said[measure.start : measure.end]
        at = measure.end
    return replace(placement, remark=remark + said[at:])
