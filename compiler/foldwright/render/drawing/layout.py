"""Where everything of a drawing goes: how large the piece is drawn, its dimensions round it, the names on it.

Everything is decided here, in millimetres of the finished picture; writing it down as SVG decides nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct, field

from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Callout, Scene, ShownLength
from foldwright.measure.writing import NARROW_SPACE, TIMES
from foldwright.render.drawing.bands import Band, LabelMeasure, Pointer, RunningPlace, ShownSpan, place_band
from foldwright.render.drawing.inscriptions import (
    SHRINKING,
    Box,
    Inscribed,
    Inscription,
    LetterManner,
    apart,
    broken_at,
    inscribe,
    overlap,
    untouched,
)
from foldwright.render.drawing.label import EITHER, LINE_HEIGHT, FractionCut, Label, label_of
from foldwright.render.drawing.pens import CUT
from foldwright.render.units import MM_PER_POINT

LARGEST_SCALE = 2.0
"""A small piece is drawn at most twice its true size."""
_TALLEST = 0.9
"""A piece is drawn at most this high, as a part of the picture's width."""
_UPRIGHT = 0.17
"""Labels beside the piece stand upright while they take no more than this part of the width; else they are turned."""
_ROUND = "\u00d8"
_DOUBT = "?"
_LEAST_PART = 0.45
"""A piece that could only be drawn smaller than this part of what the picture allows asks its labels to give way."""
_SMALLEST_TYPE = 1.2
"""Millimetres; about three and a half points, below which nobody reads."""
_STEP = 0.87
_HAIR = 1e-9
_ROUND_ALL, _ROUND_ARROWS = 0.5, 1.3
"""Millimetres kept clear all round: the head of an arrow, with the edge round it, is wider than the way it takes."""


class PlacedText(Struct):
    """One text: its middle, its box, and how it is set. `turned` texts read from below upwards."""

    label: Label
    x: float
    y: float
    box: Box
    style: str
    size: float
    turned: bool
    lengths: tuple[LengthId, ...] = ()
    """Which it shows, if it is a figure."""


class DrawingLayout(Struct):
    """A picture placed. The piece's own coordinates times `scale` plus (`left`, `top`) give picture millimetres."""

    width: float
    height: float
    scale: float
    left: float
    top: float
    size: float
    texts: list[PlacedText] = field(default_factory=list)
    fine: list[Box] = field(default_factory=list)
    """Dimension lines and leaders, in the end with the extension lines."""
    extensions: list[Box] = field(default_factory=list)
    doubtful: list[Box] = field(default_factory=list)
    ticks: list[tuple[float, float]] = field(default_factory=list)
    """Where a dimension line ends."""
    dots: list[tuple[float, float]] = field(default_factory=list)


class Terms(Struct, frozen=True):
    """What a picture may do to find room. Where type may shrink it always finds some.

    Otherwise every text has the size asked for, the piece is drawn no smaller than `least_scale`, and some widths hold
    no picture. Lengths of rank 2 and above, and hole sizes, are left out if it `drops` them.
    """

    manner: LetterManner = SHRINKING
    drops: bool = True
    least_scale: float = 0.0
    largest_scale: float = LARGEST_SCALE
    least_part: float = _LEAST_PART


def lay_out(
    scene: Scene,
    labels: Mapping[LengthId, str],
    width_mm: float,
    text_pt: float,
    words: Mapping[str, str] | None = None,
    largest: float = LARGEST_SCALE,
) -> DrawingLayout:
    """Place a scene in a picture `width_mm` wide with text of `text_pt` points. Every length shown needs a label;
    one without is left out."""
    layout = Placing(
        Terms(largest_scale=largest), scene, labels, width_mm, text_pt * MM_PER_POINT, words or {}
    ).layout()
    if layout is None:
        raise ValueError("type that may shrink always finds room")
    return layout


class _Beside(Struct):
    """The piece at one scale with what stands on it and left and right of it.

    `over` is how far labels beside it reach above its top and below its bottom.
    """

    scale: float
    inscribed: Inscribed
    left: Band
    right: Band
    over: tuple[float, float]

    @property
    def thickness(self) -> float:
        return self.left.thickness + self.right.thickness


class Placing:
    """Places a scene on terms of the caller's; the width of the picture and the type size are in millimetres."""

    def __init__(
        self,
        terms: Terms,
        scene: Scene,
        labels: Mapping[LengthId, str],
        width: float,
        size: float,
        words: Mapping[str, str],
    ) -> None:
        self.terms = terms
        self.scene = scene
        self.width = width
        self.size = size
        self.words = words
        self.droppable = terms.drops
        self.margin = CUT / 2 + (_ROUND_ARROWS if scene.arrows else _ROUND_ALL)
        cut = terms.manner.cut
        self.shrinks = terms.manner.shrinks
        self.sides = _by_side(scene.dimensions, labels, cut)
        self.callouts = [(one, label) for one in scene.callouts if (label := _callout_label(one, labels, cut))]
        widest = max((label.width for side in ("left", "right") for _, label in self.sides[side]), default=0.0)
        self.upright = widest * size <= _UPRIGHT * width

    def layout(self) -> DrawingLayout | None:
        """None where the terms leave no room."""
        beside = self._settle()
        if beside is None:
            return None
        layout = self._around(beside)
        return layout if self.shrinks or self._clear(layout, beside) else None

    def _clear(self, layout: DrawingLayout, beside: _Beside) -> bool:
        """Whether every text can be read: nothing lies on it or over the edge, and no leader runs through it."""
        inscribed = beside.inscribed
        ways = [one.way(self.scene, beside.scale) for one in inscribed.leaving]
        if any(overlap(way, one.box) for way in ways for one in inscribed.placed):
            return False
        boxes = [text.box for text in layout.texts]
        return apart(boxes, layout.width, layout.height) and untouched(boxes, (*layout.fine, *layout.doubtful))

    def _around(self, beside: _Beside) -> DrawingLayout:
        scale, inscribed, left, right, overflow = beside.scale, beside.inscribed, beside.left, beside.right, beside.over
        scene = self.scene
        drawn = scene.width * scale
        x = left.thickness + self.margin + (self.width - left.thickness - right.thickness - 2 * self.margin - drawn) / 2
        measure = LabelMeasure(self.size, False, self.margin - x, self.width - self.margin - x, self.shrinks)
        below = [
            Pointer(one.x, scene.height * scale - one.y, one.label, one.style, lengths=one.lengths)
            for one in inscribed.leaving
            if one.below
        ]
        top = place_band(self._spans("top", scale), (), measure, overflow[0], self._running("top", scale))
        bottom = place_band(self._spans("bottom", scale), below, measure, overflow[1], self._running("bottom", scale))
        y = top.thickness + self.margin
        height = y + scene.height * scale + bottom.thickness + self.margin
        layout = DrawingLayout(self.width, height, scale, x, y, self.size)
        for one in inscribed.placed:
            _put_inscription(layout, one)
        for side, band in (("top", top), ("left", left), ("right", right), ("bottom", bottom)):
            _put_band(layout, side, band, scene, self.upright)
        layout.fine += broken_at(layout.extensions, [text.box for text in layout.texts])
        return layout

    def _settle(self) -> _Beside | None:
        """The largest scale at which the piece and what stands left and right of it fit the width.

        Where that leaves too little of the piece, labels beside it are turned, then the less needed lengths left out,
        then the type is made smaller, if it may be.
        """
        least = max(self.terms.least_part * min(self._most(), self.width / self.scene.width), self.terms.least_scale)
        best = self._largest(least)
        while best is None:
            gave_way = self._give_way()
            if not gave_way and not self.shrinks:
                return None
            best = self._largest(least if gave_way else 0.0)
        return best

    def _give_way(self) -> bool:
        """Ask for less room; False when nothing more can be given."""
        if self.upright:
            self.upright = False
        elif self.droppable and (self.callouts or any(one.rank > 1 for side in self.sides.values() for one, _ in side)):
            self.droppable, self.callouts = False, []
            self.sides = {side: [pair for pair in pairs if pair[0].rank < 2] for side, pairs in self.sides.items()}
        elif self.shrinks and self.size > _SMALLEST_TYPE:
            self.size *= 0.85
        else:
            return False
        return True

    def _most(self) -> float:
        return min(self.terms.largest_scale, _TALLEST * self.width / self.scene.height)

    def _largest(self, least: float) -> _Beside | None:
        """Tried from above, in small steps: at a smaller scale names may leave the piece and want more room yet."""
        most, room = self._most(), self.width - 2 * self.margin
        scale = min(most, (room - self._guess()) / self.scene.width)
        if scale < least:
            return None
        best = self._beside(scale)
        while self.scene.width * scale + best.thickness > room + _HAIR:
            scale = max((room - best.thickness) / self.scene.width, scale * _STEP)
            if scale < least:
                return None
            best = self._beside(scale)
        larger = min(most, (room - best.thickness) / self.scene.width)
        if larger > scale * 1.003:
            better = self._beside(larger)
            if self.scene.width * larger + better.thickness <= room + _HAIR:
                return better
        return best

    def _guess(self) -> float:
        """What dimensions beside the piece are likely to take: one tier a side."""
        taken = 0.0
        for side in ("left", "right"):
            if self.sides[side]:
                widest = max(label.width for _, label in self.sides[side]) if self.upright else LINE_HEIGHT
                taken += (widest + 0.45) * self.size
        return taken

    def _beside(self, scale: float) -> _Beside:
        scene = self.scene
        inscribed = inscribe(scene, scale, self.size, self.words, self.callouts, self.terms.manner)
        beside = [
            Pointer(one.y, scene.width * scale - one.x, one.label, one.style, lengths=one.lengths)
            for one in inscribed.leaving
            if not one.below
        ]
        high = scene.height * scale
        spans = {side: self._spans(side, scale) for side in ("left", "right")}
        bounds = LabelMeasure(self.size, self.upright, *self._bounds(high, beside), self.shrinks)
        left = place_band(spans["left"], (), bounds, 0.0, self._running("left", scale))
        right = place_band(spans["right"], beside, bounds, 0.0, self._running("right", scale))
        over = max(0.0, -left.low, -right.low), max(0.0, left.high - high, right.high - high)
        return _Beside(scale, inscribed, left, right, over)

    def _bounds(self, high: float, beside: Sequence[Pointer]) -> tuple[float, float]:
        """Labels beside the piece keep to its height, unless it is too flat for them."""
        size = self.size
        longest = size * 1.2
        if not self.upright:
            labels = [label.width for side in ("left", "right") for _, label in self.sides[side]]
            longest = max([*labels, *(pointer.label.width for pointer in beside)], default=0.0) * size
        longest *= 1.02
        spread = max(high, min(longest, self.width) if self.shrinks else longest)
        return (high - spread) / 2, (high + spread) / 2

    def _spans(self, side: str, scale: float) -> list[ShownSpan]:
        width, height = self.scene.width, self.scene.height
        spans: list[ShownSpan] = []
        for dimension, label in self.sides[side]:
            if dimension.running:
                continue
            (x1, y1), (x2, y2) = dimension.start, dimension.end
            if side in ("top", "bottom"):
                deep = (y1, y2) if side == "top" else (height - y1, height - y2)
                low, high = x1 * scale, x2 * scale
            else:
                deep = (x1, x2) if side == "left" else (width - x1, width - x2)
                low, high = y1 * scale, y2 * scale
            span = ShownSpan(low, high, label, dimension.doubtful, deep[0] * scale, deep[1] * scale, dimension.rank)
            span.rhythm = self.words.get("every", "") if dimension.rhythm else ""
            span.lengths = (dimension.length,)
            spans.append(span)
        return spans

    def _running(self, side: str, scale: float) -> list[RunningPlace]:
        """Each place with its figure; the unit stands at the farthest alone, and what reads the same is said once."""
        axis = 0 if side in ("top", "bottom") else 1
        running = [(one, label) for one, label in self.sides[side] if one.running]
        running.sort(key=lambda pair: abs(pair[0].end[axis] - pair[0].start[axis]))
        alone = {label.text: one for one, label in reversed(running)}
        alike = {text: tuple(one.length for one, label in running if label.text == text) for text in alone}
        last = running[-1][1].text if running else ""
        cut = self.terms.manner.cut
        return [
            RunningPlace(
                one.end[axis] * scale, one.start[axis] * scale, label_of(_bare(text, text == last), cut), alike[text]
            )
            for text, one in alone.items()
        ]


def _by_side(
    dimensions: Sequence[ShownLength], labels: Mapping[LengthId, str], cut: FractionCut
) -> dict[str, list[tuple[ShownLength, Label]]]:
    sides: dict[str, list[tuple[ShownLength, Label]]] = {"top": [], "bottom": [], "left": [], "right": []}
    for dimension in dimensions:
        text = labels.get(dimension.length)
        if text:
            sides[dimension.side].append((dimension, label_of(f"{text} {_DOUBT}" if dimension.doubtful else text, cut)))
    return sides


def _bare(text: str, whole: bool) -> str:
    """A figure without its unit, unless it is wanted whole."""
    return text if whole else text.rpartition(NARROW_SPACE)[0] or text


def _callout_label(callout: Callout, labels: Mapping[LengthId, str], cut: FractionCut) -> Label | None:
    """`Ø 1 in` for a round hole, `8 × 2 mm` for others; the unit once when both share it."""
    texts = [labels[length] for length in callout.lengths if length in labels]
    if len(texts) != len(callout.lengths) or not texts:
        return None
    units = zip(*(text.split(EITHER) for text in texts), strict=True)
    text = EITHER.join(map(_crossed, units))
    return label_of((f"{_ROUND} " if callout.round else "") + text + (f" {_DOUBT}" if callout.doubtful else ""), cut)


def _crossed(texts: tuple[str, ...]) -> str:
    """The unit of both once."""
    first, *others = texts
    number, space, unit = first.rpartition(NARROW_SPACE)
    shared = space and others and others[-1].endswith(space + unit)
    return f" {TIMES} ".join((number if shared else first, *others))


def _put_inscription(layout: DrawingLayout, one: Inscription) -> None:
    size = layout.size * one.scale
    step = size * 1.05
    first = -step * (len(one.lines) - 1) / 2
    for number, label in enumerate(one.lines):
        shift = first + number * step
        x, y = layout.left + one.x, layout.top + one.y
        x, y = (x + shift, y) if one.turned else (x, y + shift)
        half_l, half_b = label.width * size / 2, label.height * size / 2
        half_w, half_h = (half_b, half_l) if one.turned else (half_l, half_b)
        box = (x - half_w, y - half_h, x + half_w, y + half_h)
        layout.texts.append(PlacedText(label, x, y, box, one.style, size, one.turned, one.lengths))


def _put_band(layout: DrawingLayout, side: str, band: Band, scene: Scene, upright: bool) -> None:
    vertical = side in ("left", "right")
    edge = {
        "top": layout.top,
        "left": layout.left,
        "right": layout.left + scene.width * layout.scale,
        "bottom": layout.top + scene.height * layout.scale,
    }[side]
    sign = 1 if side in ("right", "bottom") else -1

    def place(along: float, out: float) -> tuple[float, float]:
        across = edge + sign * out
        return (across, layout.top + along) if vertical else (layout.left + along, across)

    for text in band.texts:
        x, y = place(text.along, text.out)
        wide, high = (text.breadth, text.length) if vertical else (text.length, text.breadth)
        box = (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
        turned = not vertical if text.across else vertical and not upright
        size = layout.size * text.scale
        layout.texts.append(PlacedText(text.label, x, y, box, text.style, size, turned, text.lengths))
    for lines, target in (
        (band.extensions, layout.extensions),
        (band.lines, layout.fine),
        (band.doubtful_lines, layout.doubtful),
    ):
        target += [(*place(a1, o1), *place(a2, o2)) for a1, o1, a2, o2 in lines]
    layout.ticks += [place(along, out) for along, out in dict.fromkeys(band.ticks)]
    layout.dots += [place(along, out) for along, out in band.dots]
