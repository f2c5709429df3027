"""The outline of a blank, exactly: its rectangle without the corners that go, a free outline, notches in its edges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from foldwright.geometry.flat.blank import Blank, BlankFace, ExactPoint, Opening, Strip
from foldwright.geometry.flat.points import arc_points, floats, kept
from foldwright.geometry.lengths import LengthId

type Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, right, top and bottom."""

_FLAP = "flap"


def corners_cut_away(blank: Blank) -> tuple[Box, ...]:
    """The corners that go: where a flap or wall of one row meets one of the other."""
    if not blank.corners_removed:
        return ()
    return tuple(
        (one.start, one.end, other.start, other.end) for other in _outer(blank.down) for one in _outer(blank.across)
    )


def _outer(strips: Sequence[Strip]) -> tuple[Strip, ...]:
    """Both ends of a row of three; of a row of two its flap: the one called so, else the narrower."""
    if len(strips) == 2:
        called = [strip for strip in strips if strip.name.casefold().endswith(_FLAP)]
        return (called[0] if len(called) == 1 else min(strips, key=lambda strip: strip.long),)
    return (strips[0], strips[-1]) if len(strips) > 2 else ()


def footprint(blank: Blank) -> BlankFace:
    """What a piece covers where it lies: all of it, or of a pocket its front alone, its flaps folded behind."""
    sides = []
    for side, strips, whole in (("across", blank.across, blank.width), ("down", blank.down, blank.height)):
        inner = [strip for strip in strips if strip not in _outer(strips)]
        pocket = blank.corners_removed and not blank.boxed and not blank.made and len(inner) == 1
        size = LengthId(blank.piece, side, "size")
        sides.append((inner[0].start, inner[0].end, inner[0].length) if pocket else (Fraction(0), whole, size))
    (left, right, across), (top, bottom, down) = sides
    return BlankFace(left, right, top, bottom, across, down)


def silhouette(blank: Blank, corners: bool = True, notches: bool = True) -> tuple[ExactPoint, ...]:
    """The free outline, or the rectangle, clockwise from the top left: without the `corners` that go, and with the
    `notches` cut out, unless they are still to be cut.
    """
    ring = blank.outline or _rectangle(blank, corners_cut_away(blank) if corners else ())
    for notch in blank.notches if notches else ():
        ring = with_notch(ring, notch) or ring
    return ring


def _rectangle(blank: Blank, boxes: Sequence[Box]) -> tuple[ExactPoint, ...]:
    zero, wide, high = Fraction(0), blank.width, blank.height
    gone = {(left > 0, top > 0): (right - left, bottom - top) for left, right, top, bottom in boxes}
    ring: list[ExactPoint] = []
    for right, bottom in ((False, False), (True, False), (True, True), (False, True)):
        x, y = wide if right else zero, high if bottom else zero
        if (right, bottom) not in gone:
            ring.append((x, y))
            continue
        dx, dy = gone[right, bottom]
        inner_x, inner_y = (x - dx if right else x + dx), (y - dy if bottom else y + dy)
        steps = [(x, inner_y), (inner_x, inner_y), (inner_x, y)]
        ring += steps if right == bottom else reversed(steps)
    return tuple(ring)


def notch_points(notch: Opening) -> tuple[ExactPoint, ...]:
    """The corners of a notch from one end of its mouth to the other, to the right along a level edge, else down."""
    level = notch.edge in ("top", "bottom")
    along, deep = (notch.width, notch.height) if level else (notch.height, notch.width)
    points = tuple(_notch(notch.shape, along, deep))
    if notch.edge in ("bottom", "right"):
        points = tuple((x, deep - y) for x, y in points)
    return tuple((notch.left + x, notch.top + y) if level else (notch.left + y, notch.top + x) for x, y in points)


def _notch(shape: str, along: Fraction, deep: Fraction) -> Iterator[ExactPoint]:
    """As it is cut into an upper edge: along from nought, and down."""
    zero = Fraction(0)
    yield zero, zero
    if shape == "vee notch":
        yield along / 2, deep
    elif shape == "square notch":
        yield from ((zero, deep), (along, deep))
    else:
        # Deeper than half a circle, it has straight sides down to one.
        straight = max(deep - along / 2, zero)
        ends = floats(((zero, straight), (along / 2, deep), (along, straight)))
        curve = [(kept(x), kept(y)) for x, y in arc_points(ends)]
        yield from ((zero, straight), *curve[1:-1], (along, straight)) if straight else curve[1:-1]
    yield along, zero


def with_notch(ring: Sequence[ExactPoint], notch: Opening) -> tuple[ExactPoint, ...] | None:
    """The ring with a notch in it; None when its mouth does not lie on one straight edge of the ring."""
    points = notch_points(notch)
    mouth = points[0], points[-1]
    closed = (*ring, ring[0])
    for number, (start, end) in enumerate(pairwise(closed)):
        axis = 1 if notch.edge in ("top", "bottom") else 0
        if start[axis] != end[axis] or start[axis] != mouth[0][axis]:
            continue
        low, high = sorted((start[1 - axis], end[1 - axis]))
        if low <= mouth[0][1 - axis] and mouth[1][1 - axis] <= high:
            inserted = points if start[1 - axis] < end[1 - axis] else points[::-1]
            made = (*closed[: number + 1], *inserted, *closed[number + 1 : -1])
            return tuple(point for before, point in pairwise((made[-1], *made)) if point != before)
    return None


def spans(ring: Sequence[ExactPoint], at: Fraction, across: bool) -> tuple[tuple[Fraction, Fraction], ...]:
    """The parts of the upright (or, not `across`, the level) line there that lie inside a ring."""
    axis = 0 if across else 1
    crossings: list[Fraction] = []
    for start, end in pairwise((*ring, ring[0])):
        if (start[axis] > at) != (end[axis] > at):
            part = (at - start[axis]) / (end[axis] - start[axis])
            crossings.append(start[1 - axis] + part * (end[1 - axis] - start[1 - axis]))
    crossings.sort()
    return tuple(zip(crossings[::2], crossings[1::2], strict=True))


def score_spans(blank: Blank, side: str) -> tuple[tuple[tuple[Fraction, Fraction], ...], ...]:
    """For every score of a side, the parts of it that are there: none along a corner that goes, none where a corner
    flap is cut free in line with it, none outside a free outline.
    """
    across = side == "across"
    strips, others = (blank.across, blank.down) if across else (blank.down, blank.across)
    whole = (Fraction(0), blank.height if across else blank.width)
    ring = silhouette(blank, corners=False) if blank.notches else blank.outline
    found: list[tuple[tuple[Fraction, Fraction], ...]] = []
    for strip in strips[:-1]:
        if blank.boxed and blank.flap_side == side:
            found.append(((others[0].end, others[1].end),))
            continue
        left: tuple[tuple[Fraction, Fraction], ...] = spans(ring, strip.end, across) if ring else (whole,)
        for box in corners_cut_away(blank):
            edges, reach = (box[:2], box[2:]) if across else (box[2:], box[:2])
            if strip.end in edges:
                left = tuple(part for one in left for part in _without(one, reach))
        found.append(left)
    return tuple(found)


def _without(part: tuple[Fraction, Fraction], gone: tuple[Fraction, Fraction]) -> Iterator[tuple[Fraction, Fraction]]:
    for low, high in ((part[0], min(part[1], gone[0])), (max(part[0], gone[1]), part[1])):
        if low < high:
            yield low, high
