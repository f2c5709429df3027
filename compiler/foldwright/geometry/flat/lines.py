"""Every line on a blank that matters when it is folded: what is cut, what is scored, and what the outline is.

Exact points become floats here, in millimetres, x to the right and y down as the blank lies good side up.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

from msgspec import Struct

from foldwright.geometry.flat.blank import Bend, Blank, Drawn, Opening
from foldwright.geometry.flat.points import arc_points, box_between, floats
from foldwright.geometry.flat.silhouettes import corners_cut_away, notch_points, score_spans, silhouette
from foldwright.geometry.scene import Point

FOLDS = frozenset({"score", "valley", "mountain", "perforation"})
_ROUND_STEPS = 48
"""Corners of the polygon that stands for a round hole or blank."""


class LineSource(Struct, frozen=True, order=True):
    """Which line of the recipe: the `number`th score `across` or `down`, or the `number`th of its `lines`; from 1."""

    side: str
    number: int


class Line(Struct, frozen=True):
    """A cut or a fold from point to point to point; more than two points for an arc."""

    kind: str
    points: tuple[Point, ...]
    source: LineSource

    @property
    def folds(self) -> bool:
        return self.kind in FOLDS

    @property
    def curved(self) -> bool:
        return len(self.points) > 2


BEND, CURVE = "bend", "curve"
"""The sides that the bends of curved paper are counted under: those nobody scores, and the pieces of curved scores."""
CUT_FREE = LineSource("flap", 0)
"""The source of the cuts that free the corner flaps."""


def lines_of(blank: Blank) -> tuple[Line, ...]:
    """Scores and cuts, without the outline. Scores stop where a corner is cut free in line with them or cut away."""
    cuts = (Line("cut", floats((cut.start, cut.end)), CUT_FREE) for cut in blank.flap_cuts)
    return (*_scores(blank, True), *_scores(blank, False), *cuts, *_drawn(blank))


def _scores(blank: Blank, across: bool) -> Iterator[Line]:
    side, strips, folds = blank.row(across)
    for number, (strip, kind, parts) in enumerate(zip(strips[:-1], folds, score_spans(blank, side), strict=True), 1):
        at = float(strip.end)
        for low, high in parts:
            ends = (at, float(low)), (at, float(high))
            yield Line(kind, ends if across else ((ends[0][1], at), (ends[1][1], at)), LineSource(side, number))


def sources_of(blank: Blank) -> tuple[LineSource, ...]:
    """The source of each drawn line: the number of the author's line, or, of those a form brings, one of their own."""
    return tuple(
        LineSource("line", line.number) if line.number else LineSource("form", at)
        for at, line in enumerate(blank.drawn, 1)
    )


def _drawn(blank: Blank) -> Iterator[Line]:
    for one, source in zip(blank.drawn, sources_of(blank), strict=True):
        if one.kind != "glue area" and not one.doubtful:
            yield Line(one.kind, drawn_points(one), source)


def bends_in(blank: Blank) -> Iterator[tuple[Line, Bend]]:
    """Where curved paper turns, as folds. What is scored, cut, listed or drawn has none of them (see `lines_of`)."""
    for number, bend in enumerate(blank.bends, 1):
        source = LineSource(CURVE if bend.scored else BEND, number)
        yield Line("score", floats((bend.start, bend.end)), source), bend


def drawn_points(drawn: Drawn) -> tuple[Point, ...]:
    """A line of the long form from point to point, in millimetres; an arc as a polyline."""
    points = floats(drawn.points)
    return arc_points(points) if drawn.arc else points


def outline_of(blank: Blank, notches: bool = True) -> tuple[Point, ...]:
    """What is cut out first: the rectangle, circle or free outline of the blank, its `notches` cut out of it or not.
    Corners that go are still there.
    """
    if blank.round:
        return _stadium(0.0, 0.0, float(blank.width), float(blank.height))
    return floats(silhouette(blank, corners=False, notches=notches))


def waste_of(blank: Blank) -> Iterator[tuple[Point, ...]]:
    """What is cut off a blank before it folds: its corners, or what is trimmed off the corner flaps of a boxed one."""
    for left, right, top, bottom in (tuple(map(float, box)) for box in corners_cut_away(blank)):
        yield box_between(left, top, right, bottom)
    trim = float(blank.flap_trimmed)
    if not blank.boxed or blank.corners_removed or trim <= 0:
        return
    xs = [0.0, *(float(strip.end) for strip in blank.across)]
    ys = [0.0, *(float(strip.end) for strip in blank.down)]
    for x1, x2, y1, y2 in ((0, 1, 0, 1), (2, 3, 0, 1), (0, 1, 2, 3), (2, 3, 2, 3)):
        left, right, top, bottom = xs[x1], xs[x2], ys[y1], ys[y2]
        if blank.flap_side == "down":
            left, right = (left, left + trim) if x1 == 0 else (right - trim, right)
        else:
            top, bottom = (top, top + trim) if y1 == 0 else (bottom - trim, bottom)
        yield box_between(left, top, right, bottom)


def opening_outline(opening: Opening) -> tuple[Point, ...]:
    """A window as its rectangle; a round hole or a slot with its round ends as a polygon."""
    left, top = float(opening.left), float(opening.top)
    width, height = float(opening.width), float(opening.height)
    if opening.shape == "window":
        return box_between(left, top, left + width, top + height)
    return _stadium(left, top, width, height)


def notch_outline(notch: Opening) -> tuple[Point, ...]:
    """From one end of its mouth to the other."""
    return floats(notch_points(notch))


def _stadium(left: float, top: float, width: float, height: float) -> tuple[Point, ...]:
    """A rectangle whose shorter sides are half circles; a circle when it is square."""
    radius = min(width, height) / 2
    reach_x, reach_y = width / 2 - radius, height / 2 - radius
    middle_x, middle_y = left + width / 2, top + height / 2
    points = []
    for step in range(_ROUND_STEPS):
        angle = 2 * pi * (step + 0.5) / _ROUND_STEPS
        across, down = cos(angle), sin(angle)
        x = middle_x + radius * across + (reach_x if across > 0 else -reach_x)
        points.append((x, middle_y + radius * down + (reach_y if down > 0 else -reach_y)))
    return tuple(points)
