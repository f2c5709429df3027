"""Names and hole sizes that stand on the piece itself: where they fit, how they are set, and which must leave it.

Then whether texts and lines of a picture keep clear of one another, and lines broken so that they do.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations

from msgspec import Struct

from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Callout, Caption, LineKind, Point, Scene, Stroke, Tone
from foldwright.render.drawing.label import LINE_HEIGHT, SMALL_PARTS, FractionCut, Label, label_of

type Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""

_PADDING = 0.3
"""Kept free between a name and the edges of its panel, in ems."""
_SIZES = (1.0, 0.88, 0.78)
"""Type sizes a name may be set in, as parts of the picture's."""
_LEADING = 1.05
_RECTANGLE = 4
"""Corners: a rectangle is no free outline."""
_WHOLE = 0.95


class LetterManner(Struct, frozen=True):
    """How texts are set: whether one that finds no room may be set smaller, and how fractions look."""

    shrinks: bool
    cut: FractionCut


SHRINKING = LetterManner(shrinks=True, cut=SMALL_PARTS)


class Inscription(Struct):
    """A text placed on the piece; `lines` stand under one another (side by side when `turned`)."""

    lines: tuple[Label, ...]
    x: float
    y: float
    width: float
    height: float
    style: str
    scale: float = 1.0
    turned: bool = False
    lengths: tuple[LengthId, ...] = ()

    @property
    def box(self) -> Box:
        return self.x - self.width / 2, self.y - self.height / 2, self.x + self.width / 2, self.y + self.height / 2


class Leaving(Struct):
    """A text that found no room: where its leader points to, and whether it belongs below the piece or beside it."""

    label: Label
    x: float
    y: float
    below: bool
    style: str
    lengths: tuple[LengthId, ...] = ()

    def way(self, scene: Scene, scale: float) -> Box:
        """Its leader, as far as it crosses the piece: a box without width."""
        right, bottom = (self.x, scene.height * scale) if self.below else (scene.width * scale, self.y)
        return self.x, self.y, right, bottom


class Inscribed(Struct):
    """Texts that found their place in a drawing, and those that are written beside it."""

    placed: list[Inscription]
    leaving: list[Leaving]


def inscribe(
    scene: Scene,
    scale: float,
    size: float,
    words: Mapping[str, str],
    callouts: Sequence[tuple[Callout, Label]],
    manner: LetterManner = SHRINKING,
) -> Inscribed:
    """Place hole sizes first, then names clear of holes and of those; names have a panel each and cannot meet."""
    taken = [_scaled(face.outline, scale) for face in scene.faces if face.tone is Tone.HOLE]
    found = Inscribed([], [])
    if callouts:
        scores = [_scaled(stroke.points, scale) for stroke in scene.strokes if _is_line(stroke)]
        for callout, label in callouts:
            _place_callout(callout, label, scene, scale, size, taken, scores, found)
    for caption in scene.captions:
        _place_caption(caption, scene, scale, size, words, manner, taken, found)
    return found


def _is_line(stroke: Stroke) -> bool:
    return not stroke.closed and stroke.kind is not LineKind.CENTRE


def _scaled(points: Sequence[Point], scale: float) -> Box:
    xs = [x for x, _ in points]
    ys = [y for _, y in points]
    return min(xs) * scale, min(ys) * scale, max(xs) * scale, max(ys) * scale


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes (left, top, right, bottom) have room in common; touching is none."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _place_callout(
    callout: Callout,
    label: Label,
    scene: Scene,
    scale: float,
    size: float,
    taken: list[Box],
    scores: Sequence[Box],
    found: Inscribed,
) -> None:
    """Below the hole (where no extension line starts), beside or above it, or in it; outside the piece otherwise."""
    x, y = callout.centre[0] * scale, callout.centre[1] * scale
    half_w, half_h = callout.width * scale / 2, callout.height * scale / 2
    width, height = label.width * size, label.height * size
    style = "doubt" if callout.doubtful else "dim"
    gap = 0.4 * size
    for dx, dy in (
        (0.0, half_h + gap + height / 2),
        (half_w + gap + width / 2, 0.0),
        (-half_w - gap - width / 2, 0.0),
        (0.0, -half_h - gap - height / 2),
        (0.0, 0.0),
    ):
        text = Inscription((label,), x + dx, y + dy, width, height, style, lengths=callout.lengths)
        inside = (dx, dy) == (0.0, 0.0)
        if inside and (width > 1.8 * half_w or height > 1.6 * half_h):
            continue
        others = [box for box in taken if not (box[0] <= x <= box[2] and box[1] <= y <= box[3])] if inside else taken
        if _free(text.box, scene, scale, 0.25 * size, others, scores):
            taken.append(text.box)
            found.placed.append(text)
            return
    wide, high = scene.width * scale, scene.height * scale
    if high - y < wide - x:
        found.leaving.append(Leaving(label, x, y + half_h, True, style, callout.lengths))
        taken.append((x - gap, y, x + gap, high))
    else:
        found.leaving.append(Leaving(label, x + half_w, y, False, style, callout.lengths))
        taken.append((x, y - gap, wide, y + gap))


def _free(box: Box, scene: Scene, scale: float, pad: float, taken: Sequence[Box], scores: Sequence[Box]) -> bool:
    wide = _roomy(box, pad)
    if any(_runs_through(edge, wide) for edge in _outline_edges(scene, scale)):
        return False
    if wide[0] < 0 or wide[1] < 0 or wide[2] > scene.width * scale or wide[3] > scene.height * scale:
        return False
    return not any(overlap(wide, other) for other in taken) and not any(_touches(wide, line) for line in scores)


def _outline_edges(scene: Scene, scale: float) -> Iterator[Box]:
    """The edges of free outlines, which may run anywhere in the picture, each from its first point to its second."""
    for stroke in scene.strokes:
        if stroke.closed and stroke.kind is LineKind.CUT and len(stroke.points) > _RECTANGLE:
            for (x1, y1), (x2, y2) in zip(stroke.points, (*stroke.points[1:], stroke.points[0]), strict=True):
                yield x1 * scale, y1 * scale, x2 * scale, y2 * scale


def _touches(box: Box, line: Box) -> bool:
    """A score or cut is a box without width; it must not run through the text."""
    return box[0] <= line[2] and line[0] <= box[2] and box[1] <= line[3] and line[1] <= box[3]


def _place_caption(
    caption: Caption,
    scene: Scene,
    scale: float,
    size: float,
    words: Mapping[str, str],
    manner: LetterManner,
    taken: list[Box],
    found: Inscribed,
) -> None:
    text = words.get(caption.text, caption.text) if caption.role else caption.text
    style = "role" if caption.role else "name"
    x, y = caption.centre[0] * scale, caption.centre[1] * scale
    room_w, room_h = caption.width * scale, caption.height * scale
    pad = 0.2 * size
    panel = x, y, room_w, room_h
    across = [] if manner.shrinks else _lines_across(panel, scene, scale)
    for blocked in ([*taken, *across], taken) if across else (taken,):
        if one := _in_panel(_settings(text, size, manner, room_w, room_h, style), panel, pad, blocked):
            found.placed.append(one)
            return
    if caption.role:
        return
    below = _leaves_below(caption, scene, manner)
    inset = min(0.9 * size, (room_h if below else room_w) / 2)
    x, y = (x, y + room_h / 2 - inset) if below else (x + room_w / 2 - inset, y)
    leaving = Leaving(label_of(text, manner.cut), x, y, below, style)
    if not manner.shrinks:
        _clear_of(leaving, scene, scale, (room_w if below else room_h) / 2 - pad, pad, taken)
    found.leaving.append(leaving)


def _clear_of(leaving: Leaving, scene: Scene, scale: float, reach: float, pad: float, taken: list[Box]) -> None:
    """Move a leader aside, `reach` at most, so that it runs through no hole and beside the leaders already there."""
    x, y = leaving.x, leaving.y
    for part in (0.0, 0.4, -0.4, 0.8, -0.8):
        shift = part * reach
        leaving.x, leaving.y = (x + shift, y) if leaving.below else (x, y + shift)
        way = _roomy(leaving.way(scene, scale), pad)
        if not any(overlap(way, other) for other in taken):
            break
    else:
        leaving.x, leaving.y = x, y
        way = _roomy(leaving.way(scene, scale), pad)
    taken.append(way)


def _in_panel(ways: Iterable[Inscription], panel: Box, pad: float, blocked: Sequence[Box]) -> Inscription | None:
    """The first way to set a name that is clear of everything, in the middle of its panel or near it.

    The panel is given by its middle, its width and its height.
    """
    x, y, room_w, room_h = panel
    for one in ways:
        for shift in (0.0, 0.28, -0.28, 0.36, -0.36):
            one.x, one.y = (x, y + shift * room_h) if room_h >= room_w else (x + shift * room_w, y)
            if _stays(one, x, y, room_w, room_h) and not any(overlap(_roomy(one.box, pad), other) for other in blocked):
                return one
            if not blocked:
                break
    return None


def _lines_across(panel: Box, scene: Scene, scale: float) -> list[Box]:
    """The scores and cuts inside a panel, which cross it where both rows have panels."""
    x, y, room_w, room_h = panel
    inner = x - 0.49 * room_w, y - 0.49 * room_h, x + 0.49 * room_w, y + 0.49 * room_h
    lines = [_scaled(stroke.points, scale) for stroke in scene.strokes if _is_line(stroke) and len(stroke.points) == 2]
    return [line for line in lines if overlap(line, inner)]


def _leaves_below(caption: Caption, scene: Scene, manner: LetterManner) -> bool:
    """A panel that reaches from top to bottom has its name below the piece, one from side to side has it beside."""
    if caption.height >= _WHOLE * scene.height:
        return True
    if caption.width >= _WHOLE * scene.width:
        return False
    if manner.shrinks:
        return caption.height >= caption.width
    # Names that must not shrink leave often, and a leader may not run through another's panel. Below it takes no width.
    x, y = caption.centre
    return not any(
        other.centre[1] > y and abs(other.centre[0] - x) < other.width / 2 for other in scene.captions if not other.role
    )


def _roomy(box: Box, pad: float) -> Box:
    return box[0] - pad, box[1] - pad, box[2] + pad, box[3] + pad


def _stays(one: Inscription, x: float, y: float, room_w: float, room_h: float) -> bool:
    return abs(one.x - x) + one.width / 2 <= room_w / 2 and abs(one.y - y) + one.height / 2 <= room_h / 2


def _settings(
    text: str, size: float, manner: LetterManner, room_w: float, room_h: float, style: str
) -> Iterator[Inscription]:
    """Ways to set a name that fit its panel, the best first: level in one line or two, then turned, then smaller."""
    options: list[tuple[Label, ...]] = [(label_of(text, manner.cut),)]
    if " " in text:
        options.append(_in_two(text, manner.cut))
    pad = _PADDING * size * 2
    for scale in _SIZES if manner.shrinks else (1.0,):
        for turned in (False, True):
            for lines in options:
                length = max(line.width for line in lines) * size * scale
                breadth = (LINE_HEIGHT + _LEADING * (len(lines) - 1)) * size * scale
                width, height = (breadth, length) if turned else (length, breadth)
                if width + pad <= room_w and height + 0.5 * pad <= room_h:
                    yield Inscription(lines, 0.0, 0.0, width, height, style, scale, turned)


def _in_two(text: str, cut: FractionCut) -> tuple[Label, ...]:
    """The name in two lines, cut at the space nearest its middle."""
    spaces = [at for at, letter in enumerate(text) if letter == " "]
    at = min(spaces, key=lambda at: abs(at - len(text) / 2))
    return label_of(text[:at], cut), label_of(text[at + 1 :], cut)


_HAIR = 1e-9
_CLEAR = 0.2
"""Millimetres between a text and the ends of a line broken at it."""


def apart(boxes: Sequence[Box], width: float, height: float) -> bool:
    """Whether every text lies inside the picture and none on another."""
    wide, high = width + _HAIR, height + _HAIR
    inside = all(box[0] >= -_HAIR and box[1] >= -_HAIR and box[2] <= wide and box[3] <= high for box in boxes)
    return inside and not any(overlap(_roomy(one, -_HAIR), other) for one, other in combinations(boxes, 2))


def untouched(boxes: Sequence[Box], lines: Sequence[Box]) -> bool:
    """Whether no line, from its first point to its second, runs through a text."""
    return not any(_runs_through(line, box) for line in lines for box in boxes)


def _runs_through(line: Box, box: Box) -> bool:
    """Whether a line from its first point to its second enters a box: what is left of it between each pair of edges."""
    start, end = 0.0, 1.0
    for at, to, low, high in ((line[0], line[2], box[0], box[2]), (line[1], line[3], box[1], box[3])):
        low, high = low + _HAIR, high - _HAIR
        if (at <= low and to <= low) or (at >= high and to >= high):
            return False
        if abs(to - at) > _HAIR:
            one, other = (low - at) / (to - at), (high - at) / (to - at)
            start, end = max(start, min(one, other)), min(end, max(one, other))
    return start < end


def broken_at(lines: Sequence[Box], boxes: Sequence[Box]) -> list[Box]:
    """Extension lines, which run level or upright, are broken where they would run through a text."""
    whole: list[Box] = []
    for line in dict.fromkeys(lines):
        x1, y1, x2, y2 = line
        if x1 == x2:
            low, high = (y1, y2) if y1 < y2 else (y2, y1)
            gaps = [(y0 - _CLEAR, y3 + _CLEAR) for x0, y0, x3, y3 in boxes if x0 < x1 < x3 and y0 < high and y3 > low]
        else:
            low, high = (x1, x2) if x1 < x2 else (x2, x1)
            gaps = [(x0 - _CLEAR, x3 + _CLEAR) for x0, y0, x3, y3 in boxes if y0 < y1 < y3 and x0 < high and x3 > low]
        if not gaps:
            whole.append(line)
            continue
        for start, end in _remaining(low, high, sorted(gaps)):
            whole.append((x1, start, x1, end) if x1 == x2 else (start, y1, end, y1))
    return whole


def _remaining(low: float, high: float, gaps: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    parts: list[tuple[float, float]] = []
    for start, end in gaps:
        if start > low:
            parts.append((low, min(start, high)))
        low = max(low, end)
    if low < high:
        parts.append((low, high))
    return [part for part in parts if part[1] - part[0] > 0.1]
