"""The flat plan of a blank as a scene: what is cut, scored, glued or waste, and the lengths to show beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot

from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, Offset, Opening, Strip
from foldwright.geometry.flat.lines import FOLDS, drawn_points
from foldwright.geometry.flat.points import box_between, floats
from foldwright.geometry.flat.silhouettes import Box, corners_cut_away, score_spans, silhouette
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Callout, Caption, Face, LineKind, Point, Scene, ShownLength, Stress, Stroke, Tone

_NUMBER_MM, _NUMBER_PART = 5.0, 14.0
"""How far inside its corner a number stands: so many millimetres, or such a part of the piece where that is more."""
FLAP = "flap"
"""The code captions of corner flaps carry; the page has the word."""


def flat_scene(blank: Blank) -> Scene:
    """The blank as it lies good side up. Where the panels run past the size said, the scene has room for both."""
    plan = _Plan(blank)
    return Scene(
        plan.right,
        plan.bottom,
        tuple(plan.faces()),
        tuple(plan.strokes()),
        tuple(plan.dimensions()),
        tuple(plan.captions()),
        tuple(plan.callouts()),
    )


def glue_areas(blank: Blank) -> Iterator[tuple[Point, ...]]:
    """Where glue goes: glue flaps, and the areas that were drawn."""
    for strips, across in ((blank.across, True), (blank.down, False)):
        for strip in strips:
            if strip.role == GLUE_FLAP:
                start, end = float(strip.start), float(strip.end)
                wide, high = float(blank.width), float(blank.height)
                yield box_between(start, 0.0, end, high) if across else box_between(0.0, start, wide, end)
    for drawn in blank.drawn:
        if drawn.kind == "glue area":
            yield drawn_points(drawn)


def running_lengths(blank: Blank) -> Iterator[ShownLength]:
    """How far every place that is set out on a worked-out form lies from its top left corner, along the top and down
    the left edge; of a form with very many, the places its folds run between."""
    for axis, side in enumerate(("across", "down")):
        marks = [(name, float(at)) for name, at in blank.marks if name.side == side]
        ends = [float(end[axis]) for line in blank.drawn if line.kind in FOLDS for end in line.points]
        off = {name: min((abs(at - end) for end in ends), default=0.0) for name, at in marks}
        crowded = len(marks) > _MOST_MARKS
        marks = [(name, at) for name, at in marks if off[name] < _SAME_PLACE or (off[name] > _BESIDE and not crowded)]
        for name, at in marks:
            end = (at, 0.0) if side == "across" else (0.0, at)
            yield ShownLength(name, (0.0, 0.0), end, "top" if side == "across" else "left", 2, running=True)


_MOST_MARKS = 16
_BESIDE = 5.0
"""Millimetres: a corner of the outline that is so near the end of a fold is cut by eye from there."""
_SAME_PLACE = 0.3
"""Millimetres: nearer, two places are one for any ruler."""


class _Plan:
    """One blank in plain numbers: exact until here, millimetres as floats from here on."""

    def __init__(self, blank: Blank) -> None:
        self.blank = blank
        self.width, self.height = float(blank.width), float(blank.height)
        self.xs, self.ys = _edges(blank.across), _edges(blank.down)
        self.right, self.bottom = max(self.width, self.xs[-1]), max(self.height, self.ys[-1])

    def faces(self) -> Iterator[Face]:
        blank = self.blank
        corner = self.width / 2 if blank.round else 0.0
        yield Face(floats(silhouette(blank, corners=False)), Tone.GOOD, corner)
        for area in glue_areas(blank):
            yield Face(area, Tone.GLUE)
        for corner_box in corners_cut_away(blank):
            yield Face(_floating(corner_box), Tone.WASTE)
        if "across" in blank.doubtful and self.xs[-1] != self.width:
            yield Face(box_between(min(self.xs[-1], self.width), 0.0, self.right, self.bottom), Tone.DOUBT)
        if "down" in blank.doubtful and self.ys[-1] != self.height:
            yield Face(box_between(0.0, min(self.ys[-1], self.height), self.right, self.bottom), Tone.DOUBT)
        for ring in blank.inner:
            yield Face(floats(ring), Tone.HOLE)
        for opening in blank.openings:
            yield Face(_opening_box(opening), Tone.HOLE, _corner(opening))

    def strokes(self) -> Iterator[Stroke]:
        blank = self.blank
        yield from self._scores(across=True)
        yield from self._scores(across=False)
        for drawn in blank.drawn:
            if drawn.kind == "cut" or drawn.kind in FOLDS:
                emphasis = Stress.DOUBTFUL if drawn.doubtful else Stress.PLAIN
                yield Stroke(LineKind(drawn.kind), drawn_points(drawn), emphasis=emphasis)
        for opening in blank.openings:
            emphasis = Stress.DOUBTFUL if opening.doubtful else Stress.PLAIN
            yield Stroke(LineKind.CUT, _opening_box(opening), True, emphasis, _corner(opening))
            yield from _centre_mark(opening)
        yield from self._outline()
        for cut in blank.flap_cuts:
            yield Stroke(LineKind.CUT, floats((cut.start, cut.end)))

    def _scores(self, across: bool) -> Iterator[Stroke]:
        side, strips, folds = self.blank.row(across)
        for strip, fold, there in zip(strips[:-1], folds, score_spans(self.blank, side), strict=True):
            at = float(strip.end)
            for low, high in (tuple(map(float, part)) for part in there):
                yield Stroke(LineKind(fold), ((at, low), (at, high)) if across else ((low, at), (high, at)))

    def _outline(self) -> Iterator[Stroke]:
        blank = self.blank
        if blank.outline:
            # The rectangle it is cut from shows what the lengths beside it measure.
            yield Stroke(LineKind.WASTE, box_between(0.0, 0.0, self.width, self.height), True)
            for ring in (silhouette(blank), *blank.inner):
                yield Stroke(LineKind.CUT, floats(ring), True)
            return
        for box in corners_cut_away(blank):
            yield Stroke(LineKind.WASTE, _floating(box), True, Stress.FAINT)
        corner = self.width / 2 if blank.round else 0.0
        yield Stroke(LineKind.CUT, floats(silhouette(blank)), True, corner=corner)

    def dimensions(self) -> Iterator[ShownLength]:
        """Rows of panels at the top and on the left, whole sizes at the bottom and on the right (or left, if free)."""
        blank = self.blank
        doubt_across, doubt_down = "across" in blank.doubtful, "down" in blank.doubtful
        if len(blank.across) > 1:
            for strip, (start, end) in zip(blank.across, pairwise(self.xs), strict=True):
                yield ShownLength(strip.length, (start, 0.0), (end, 0.0), "top", 1, doubt_across)
        if len(blank.down) > 1:
            for strip, (start, end) in zip(blank.down, pairwise(self.ys), strict=True):
                yield ShownLength(strip.length, (0.0, start), (0.0, end), "left", 1, doubt_down)
        size = LengthId(blank.piece, "across", "size")
        yield ShownLength(size, (0.0, self.height), (self.width, self.height), "bottom", 0, doubt_across)
        if not blank.round:
            free = len(blank.down) == 1 and not blank.marks
            side, x = ("left", 0.0) if free else ("right", self.width)
            size = LengthId(blank.piece, "down", "size")
            yield ShownLength(size, (x, 0.0), (x, self.height), side, 0, doubt_down)
        yield from running_lengths(blank)
        shown: set[LengthId] = set()
        for opening in (*blank.openings, *blank.notches):
            for offset in opening.offsets:
                if offset.length not in shown:
                    shown.add(offset.length)
                    yield self._offset(opening, offset)
            if opening.copy == 1 and opening.apart and opening.apart not in shown:
                shown.add(opening.apart)
                yield self._apart(opening, opening.apart)

    def _apart(self, second: Opening, apart: LengthId) -> ShownLength:
        """Once, from the first of repeated holes to the second."""
        x, y = float(second.left + second.width / 2), float(second.top + second.height / 2)
        first = next(one for one in (*self.blank.openings, *self.blank.notches) if one.apart == apart)
        one = float(first.left + first.width / 2), float(first.top + first.height / 2)
        level = apart.place == "across"
        near = (y <= self.height / 2) if level else (x < self.width / 2)
        side = ("top" if near else "bottom") if level else ("left" if near else "right")
        return ShownLength(apart, one, (x, y), side, 2, second.doubtful)

    def _offset(self, opening: Opening, offset: Offset) -> ShownLength:
        """From the edge it is measured from to the hole's middle or edge, on the side of the piece that is nearer."""
        middle_x = float(opening.left + opening.width / 2)
        middle_y = float(opening.top + opening.height / 2)
        start, end = float(offset.start), float(offset.end)
        if offset.edge in ("top", "bottom"):
            side, x = ("left", 0.0) if middle_x < self.width / 2 else ("right", self.width)
            points = ((x, start), (middle_x, end)) if offset.edge == "top" else ((middle_x, start), (x, end))
        else:
            side, y = ("top", 0.0) if middle_y <= self.height / 2 else ("bottom", self.height)
            points = ((start, y), (end, middle_y)) if offset.edge == "left" else ((start, middle_y), (end, y))
        return ShownLength(offset.length, *points, side, 2, opening.doubtful)

    def captions(self) -> Iterator[Caption]:
        yield from _corner_numbers(self.blank)
        blank = self.blank
        if blank.boxed:
            yield from self._boxed_captions()
            return
        for face in blank.faces:
            (middle,) = floats((face.middle,))
            yield Caption(face.name, middle, float(face.wide), float(face.high), True)
        if len(blank.across) > 1:
            yield from self._row_captions(blank.across, self.xs, across=True)
        elif len(blank.down) > 1:
            yield from self._row_captions(blank.down, self.ys, across=False)

    def _row_captions(self, strips: Sequence[Strip], edges: Sequence[float], across: bool) -> Iterator[Caption]:
        """Names of one row, numbers where no panel has a name; when both rows have panels the other goes without."""
        numbered = not any(strip.name for strip in strips)
        for number, (strip, (start, end)) in enumerate(zip(strips, pairwise(edges), strict=True), 1):
            text = strip.name or (str(number) if numbered else "")
            if text and across:
                yield Caption(text, ((start + end) / 2, self.height / 2), end - start, self.height, numbered)
            elif text:
                yield Caption(text, (self.width / 2, (start + end) / 2), self.width, end - start, numbered)

    def _boxed_captions(self) -> Iterator[Caption]:
        blank = self.blank
        floor = blank.across[1].name or blank.down[1].name
        cells = (
            (blank.down[0].name, 1, 0),
            (blank.across[0].name, 0, 1),
            (floor, 1, 1),
            (blank.across[2].name, 2, 1),
            (blank.down[2].name, 1, 2),
        )
        yield from (self._cell(*cell, role=False) for cell in cells if cell[0])
        if blank.flap_cuts:
            yield from (self._cell(FLAP, column, row, role=True) for row in (0, 2) for column in (0, 2))

    def _cell(self, text: str, column: int, row: int, role: bool) -> Caption:
        left, right = self.xs[column], self.xs[column + 1]
        top, bottom = self.ys[row], self.ys[row + 1]
        return Caption(text, ((left + right) / 2, (top + bottom) / 2), right - left, bottom - top, role)

    def callouts(self) -> Iterator[Callout]:
        """Each hole's size once, however often the hole is repeated."""
        shown: set[LengthId] = set()
        for opening in (*self.blank.openings, *self.blank.notches):
            if not opening.sizes or opening.sizes[0] in shown:
                continue
            shown.add(opening.sizes[0])
            width, height = float(opening.width), float(opening.height)
            centre = float(opening.left) + width / 2, float(opening.top) + height / 2
            is_round = opening.shape == "round"
            sizes = opening.sizes[:1] if is_round else opening.sizes
            yield Callout(sizes, centre, width, height, is_round, opening.doubtful)


def _corner_numbers(blank: Blank) -> Iterator[Caption]:
    """The numbers its author counts the outline's corners by, each a little inside its corner."""
    spots = floats(blank.corners)
    inside = max(_NUMBER_MM, float(min(blank.width, blank.height)) / _NUMBER_PART)
    around = zip(spots[-1:] + spots[:-1], spots, spots[1:] + spots[:1], strict=True)
    for number, (before, here, after) in enumerate(around, 1):
        ways = [(x - here[0], y - here[1]) for x, y in (before, after)]
        longs = [hypot(*way) or 1.0 for way in ways]
        dx, dy = (sum(way[axis] / long for way, long in zip(ways, longs, strict=True)) for axis in (0, 1))
        # In a corner that points into the paper, the paper lies on the other side.
        (ax, ay), (bx, by) = ways
        inwards = 1.0 if bx * ay - by * ax > 0 else -1.0
        far = hypot(dx, dy) or 1.0
        centre = here[0] + inwards * dx / far * inside, here[1] + inwards * dy / far * inside
        yield Caption(str(number), centre, inside * 1.6, inside * 1.6, True)


def _edges(strips: Sequence[Strip]) -> tuple[float, ...]:
    return (0.0, *(float(strip.end) for strip in strips))


def _floating(box: Box) -> tuple[Point, ...]:
    left, right, top, bottom = map(float, box)
    return box_between(left, top, right, bottom)


def _opening_box(opening: Opening) -> tuple[Point, ...]:
    left, top = float(opening.left), float(opening.top)
    return box_between(left, top, left + float(opening.width), top + float(opening.height))


def _corner(opening: Opening) -> float:
    return 0.0 if opening.shape == "window" else float(min(opening.width, opening.height)) / 2


def _centre_mark(opening: Opening) -> Iterator[Stroke]:
    """A small cross where the middle is what is measured."""
    if not any(offset.of == "middle" for offset in opening.offsets):
        return
    x, y = float(opening.left + opening.width / 2), float(opening.top + opening.height / 2)
    arm = float(min(opening.width, opening.height)) / 4
    yield Stroke(LineKind.CENTRE, ((x - arm, y), (x + arm, y)))
    yield Stroke(LineKind.CENTRE, ((x, y - arm), (x, y + arm)))
