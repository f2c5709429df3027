"""The timeline of the preparation as SVG: a named row for each job, bars with the number of the helper who does it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate

from msgspec import Struct

from foldwright.event.document.model import Lanes, LaneSpan
from foldwright.event.render.marks import TEXT, TEXTURES, Inks, Spot, box, ground, line, svg, texture, words, wrapped
from foldwright.render.drawing.label import width_of

_BAR, _GAP, _LINE = 3.6, 1.0, 3.5
_FOOT = 5.0
_NAMES = 0.42
"""How much of the width the names of the jobs may take."""
_MOST_HIGH = 190.0
"""Millimetres: a longer timeline goes on in a second picture, with its times again."""


class _Row(Struct, frozen=True):
    """A job: its name in lines, and its bars line by line, so that none covers another."""

    name: tuple[str, ...]
    bars: tuple[tuple[LaneSpan, ...], ...]

    @property
    def high(self) -> float:
        return max(_BAR * len(self.bars), _LINE * len(self.name)) + _GAP


def lanes_pictures(lanes: Lanes, wide: float, inks: Inks) -> Iterator[tuple[str, float, float]]:
    """The timeline so many millimetres wide, each picture with the width and height it takes."""
    room = min(wide * _NAMES, max((width_of(name) * TEXT for name in lanes.names), default=0.0) + 1.0)
    rows = [
        _Row(tuple(wrapped(name, room)), _apart(spans)) for name, spans in zip(lanes.names, lanes.lanes, strict=True)
    ]
    while rows:
        heights = list(accumulate(row.high for row in rows))
        count = sum(high <= _MOST_HIGH for high in heights) or 1
        bottom = heights[count - 1]
        body = "".join(_drawn(lanes, rows[:count], room + 2.0, wide, inks))
        high = bottom + _FOOT + (_BAR + 0.5 if lanes.note else 0.0)
        yield svg(wide, high, body, lanes.describes), wide, high
        rows = rows[count:]


def _apart(spans: Sequence[LaneSpan]) -> tuple[tuple[LaneSpan, ...], ...]:
    """In the order in which they begin, each in the first line that is free by then."""
    lines: list[list[LaneSpan]] = []
    for span in spans:
        free = next((one for one in lines if one[-1].end <= span.start), None)
        if free is None:
            lines.append(free := [])
        free.append(span)
    return tuple(map(tuple, lines))


def _drawn(lanes: Lanes, rows: Sequence[_Row], left: float, wide: float, inks: Inks) -> Iterator[str]:
    scale = (wide - left - 5.0) / max(lanes.finish, 1)
    bottom = sum(row.high for row in rows)
    if lanes.note:
        yield from _helpers(lanes, left, bottom + _FOOT, inks)
    for at, said in lanes.marks:
        yield line(f"M{left + at * scale:.2f} 0V{bottom:.2f}", inks.rule, 0.15)
        yield words(said, left + at * scale, bottom + 3.4, TEXT, inks.soft)
    top = 0.0
    for row in rows:
        middle = top + (row.high - _GAP) / 2
        yield line(f"M0 {top + row.high - _GAP / 2:.2f}H{wide:.2f}", inks.rule, 0.1)
        for number, said in enumerate(row.name):
            y = middle + (number - (len(row.name) - 1) / 2) * _LINE
            yield words(said, 0, y, TEXT, inks.ink, middle=True, anchor="start")
        for number, spans in enumerate(row.bars):
            y = middle + (number - len(row.bars) / 2) * _BAR
            for span in spans:
                spot = left + span.start * scale, y, left + span.end * scale, y + _BAR
                yield from _bar(str(span.helper), span.helper - 1, spot, bool(lanes.note), inks)
        top += row.high


def _helpers(lanes: Lanes, left: float, top: float, inks: Inks) -> Iterator[str]:
    """Which texture is whose, for bars that have no room for a number."""
    for helper in sorted({span.helper for spans in lanes.lanes for span in spans}):
        x = left + (helper - 1) * 10.0
        yield from _bar(str(helper), helper - 1, (x, top, x + 8.0, top + _BAR), True, inks)


def _bar(helper: str, kind: int, spot: Spot, numbered: bool, inks: Inks) -> Iterator[str]:
    """Who does it is said by a number where there is room for one, and by the texture everywhere."""
    left, top, right, bottom = spot
    fill = inks.tints[kind % TEXTURES % len(inks.tints)]
    yield box(spot, fill, inks.ink)
    yield texture(kind, spot, inks.soft)
    half = width_of(helper) * TEXT / 2 + 0.3
    if numbered and right - left > 2 * half:
        x = (left + right) / 2
        yield ground((x - half, top + 0.3, x + half, bottom - 0.3), fill)
        yield words(helper, x, (top + bottom) / 2, TEXT, inks.ink, middle=True)
