"""Whether texts and lines of a picture keep clear of one another, and lines broken so that they do."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from foldwright.render.drawing.inscriptions import Box, overlap

_HAIR = 1e-9
_CLEAR = 0.2
"""Millimetres between a text and the ends of a line broken at it."""


def apart(boxes: Sequence[Box], width: float, height: float) -> bool:
    """Whether every text lies inside the picture and none on another."""
    wide, high = width + _HAIR, height + _HAIR
    inside = all(box[0] >= -_HAIR and box[1] >= -_HAIR and box[2] <= wide and box[3] <= high for box in boxes)
    return inside and not any(overlap(_inner(one), other) for one, other in combinations(boxes, 2))


def _inner(box: Box) -> Box:
    return box[0] + _HAIR, box[1] + _HAIR, box[2] - _HAIR, box[3] - _HAIR


def untouched(boxes: Sequence[Box], lines: Sequence[Box]) -> bool:
    """Whether no line, from its first point to its second, runs through a text."""
    return not any(_runs_through(line, box) for line in lines for box in boxes)


def _runs_through(line: Box, box: Box) -> bool:
    """Whether a line from its first point to its second enters a box: what is left of it between each pair of edges."""
    start, end = 0.0, 1.0
    for at, to, low, high in ((line[0], line[2], box[0], box[2]), (line[1], line[3], box[1], box[3])):
        low, high = low + _HAIR, high - _HAIR
        if max(at, to) <= low or min(at, to) >= high:
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
