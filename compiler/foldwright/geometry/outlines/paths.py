"""The `d` of an SVG path (SVG 2, chapter 9) as polylines: curves become chords that stay within a tolerance of them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import acos, atan2, ceil, cos, hypot, pi, radians, sin, sqrt

from msgspec import Struct

type Spot = tuple[float, float]

_TOKEN = re.compile(r"([MmZzLlHhVvCcSsQqTtAa])|([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)|([\s,]+)|(.)", re.DOTALL)
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_MOST_STEPS = 400
"""Chords of one curve at most."""
_LONGEST, _FARTHEST = 40, 1e7
"""Characters of one number, and how large it may be: beyond that nothing is drawn that anybody could cut."""
_NOTHING = 1e-9
"""A radius or a distance below this is none."""


class Sub(Struct):
    """One subpath: its points, and whether it was closed."""

    points: list[Spot]
    closed: bool = False


class PathError(Exception):
    """What stands in the path that cannot be read; `near` shows it."""

    def __init__(self, near: str) -> None:
        super().__init__(near)
        self.near = near


class OutOfInkError(Exception):
    """There are more points than may be drawn."""


class Ink:
    """How many points may still be drawn, whatever draws them."""

    def __init__(self, points: int) -> None:
        self.left = points

    def use(self, points: int = 1) -> None:
        self.left -= points
        if self.left < 0:
            raise OutOfInkError


def number_of(text: str) -> float:
    """A number as SVG writes it. Raises PathError where it is too long or too large to mean anything."""
    value = float(text) if len(text) <= _LONGEST else _FARTHEST
    if not abs(value) < _FARTHEST:
        raise PathError(text[:20])
    return value


def numbers_of(text: str) -> list[float]:
    """The numbers of a list, such as the corners of a polygon. Raises PathError where anything else stands in it."""
    numbers: list[float] = []
    for match in _TOKEN.finditer(text):
        letter, number, _, odd = match.groups()
        if letter or odd:
            raise PathError(text[match.start() : match.start() + 20])
        if number:
            numbers.append(number_of(number))
    return numbers


def subpaths(d: str, tolerance: float, ink: Ink) -> list[Sub]:
    """The subpaths in order. Raises PathError and OutOfInkError."""
    pen = _PathPen(tolerance, ink)
    for command, numbers in _commands(d):
        pen.draw(command, numbers)
    return pen.subs


def _commands(d: str) -> Iterator[tuple[str, list[float]]]:
    """Each command with its numbers; one that repeats without its letter as often as it stands."""
    command, numbers = "", list[float]()
    for match in _TOKEN.finditer(d):
        letter, number, _, odd = match.groups()
        if odd is not None or (number and not command):
            raise PathError(d[match.start() : match.start() + 20])
        if letter:
            yield from _split(command, numbers, d)
            command, numbers = letter, []
        elif number:
            # The two flags of an arc may stand without anything between them.
            numbers += _flags(number, len(numbers)) if command in "Aa" else [number_of(number)]
    yield from _split(command, numbers, d)


def _flags(number: str, before: int) -> list[float]:
    found: list[float] = []
    while number and (before + len(found)) % 7 in (3, 4) and number[0] in "01" and len(number) > 1:
        found.append(float(number[0]))
        number = number[1:]
    return [*found, number_of(number)] if number else found


def _split(command: str, numbers: list[float], d: str) -> Iterator[tuple[str, list[float]]]:
    if not command:
        return
    count = _COUNTS[command.upper()]
    if count == 0 and not numbers:
        yield command, []
        return
    if not count or not numbers or len(numbers) % count:
        raise PathError(f"{command} {d[:12]}")
    for at in range(0, len(numbers), count):
        yield command, numbers[at : at + count]
        command = {"M": "L", "m": "l"}.get(command, command)


class _PathPen:
    def __init__(self, tolerance: float, ink: Ink) -> None:
        self.tolerance = tolerance
        self.ink = ink
        self.subs: list[Sub] = []
        self.at: Spot = (0.0, 0.0)
        self.start: Spot = (0.0, 0.0)
        self.handle: tuple[str, Spot] | None = None
        """The last control point, and the kind of curve it belongs to."""

    def draw(self, command: str, numbers: list[float]) -> None:
        kind, x, y = command.upper(), *self.at
        if command.islower() and kind != "Z":
            numbers = self._absolute(kind, numbers, x, y)
        handle, self.handle = self.handle, None
        match kind:
            case "M":
                self.at = self.start = (numbers[0], numbers[1])
                self._begin()
            case "Z":
                if self.subs:
                    self.subs[-1].closed = True
                self.at = self.start
            case "L":
                self._to((numbers[0], numbers[1]))
            case "H":
                self._to((numbers[0], y))
            case "V":
                self._to((x, numbers[0]))
            case _:
                self._bent(kind, numbers, handle)

    def _bent(self, kind: str, numbers: list[float], handle: tuple[str, Spot] | None) -> None:
        match kind:
            case "C":
                self._cubic(*_spots(numbers))
            case "S":
                self._cubic(self._mirrored("C", handle), *_spots(numbers))
            case "Q":
                self._quadratic(*_spots(numbers))
            case "T":
                self._quadratic(self._mirrored("Q", handle), *_spots(numbers))
            case "A":
                self._arc(numbers)

    @staticmethod
    def _absolute(kind: str, numbers: list[float], x: float, y: float) -> list[float]:
        if kind == "H":
            return [numbers[0] + x]
        if kind == "V":
            return [numbers[0] + y]
        if kind == "A":
            return [*numbers[:5], numbers[5] + x, numbers[6] + y]
        return [number + (y if at % 2 else x) for at, number in enumerate(numbers)]

    def _mirrored(self, kind: str, handle: tuple[str, Spot] | None) -> Spot:
        if handle is None or handle[0] != kind:
            return self.at
        return 2 * self.at[0] - handle[1][0], 2 * self.at[1] - handle[1][1]

    def _begin(self) -> None:
        self.ink.use()
        self.subs.append(Sub([self.at]))

    def _to(self, spot: Spot) -> None:
        if not self.subs or self.subs[-1].closed:
            self._begin()
        self.ink.use()
        self.subs[-1].points.append(spot)
        self.at = spot

    def _steps(self, bend: float) -> int:
        """Chords of a curve whose second derivative is at most `bend` stay within bend / 8 n^2 of it."""
        return min(_MOST_STEPS, max(1, ceil(sqrt(bend / (8 * self.tolerance)))))

    def _cubic(self, one: Spot, two: Spot, end: Spot) -> None:
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self.at, one, two, end
        bend = 6 * max(hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3))
        count = self._steps(bend)
        for step in range(1, count + 1):
            t = step / count
            a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            self._to((a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3))
        self.handle = "C", two

    def _quadratic(self, one: Spot, end: Spot) -> None:
        (x0, y0), (x1, y1), (x2, y2) = self.at, one, end
        count = self._steps(2 * hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2))
        for step in range(1, count + 1):
            t = step / count
            a, b, c = (1 - t) ** 2, 2 * t * (1 - t), t * t
            self._to((a * x0 + b * x1 + c * x2, a * y0 + b * y1 + c * y2))
        self.handle = "Q", one

    def _arc(self, numbers: list[float]) -> None:
        """An arc from its ends to its middle (SVG 2, appendix B.2.4)."""
        rx, ry, turn, large, sweep, x2, y2 = numbers
        x1, y1 = self.at
        rx, ry, phi = abs(rx), abs(ry), radians(turn)
        dx, dy = (x1 - x2) / 2, (y1 - y2) / 2
        if min(rx, ry, hypot(dx, dy)) < _NOTHING:
            self._to((x2, y2))
            return
        px, py = cos(phi) * dx + sin(phi) * dy, -sin(phi) * dx + cos(phi) * dy
        grow = max(1.0, sqrt((px / rx) ** 2 + (py / ry) ** 2))
        rx, ry = rx * grow, ry * grow
        under = (rx * ry) ** 2 - (rx * py) ** 2 - (ry * px) ** 2
        factor = sqrt(max(0.0, under) / ((rx * py) ** 2 + (ry * px) ** 2)) * (-1 if bool(large) == bool(sweep) else 1)
        cx, cy = factor * rx * py / ry, -factor * ry * px / rx
        start = atan2((py - cy) / ry, (px - cx) / rx)
        way = atan2((-py - cy) / ry, (-px - cx) / rx) - start
        way = way % (2 * pi) if sweep else -((-way) % (2 * pi))
        reach = max(rx, ry)
        part = 2 * acos(max(0.0, 1 - self.tolerance / reach)) if self.tolerance < reach else pi / 2
        count = max(2, ceil(abs(way) / max(part, abs(way) / _MOST_STEPS)))
        mx, my = (x1 + x2) / 2, (y1 + y2) / 2
        for step in range(1, count):
            angle = start + way * step / count
            ex, ey = rx * cos(angle) + cx, ry * sin(angle) + cy
            self._to((cos(phi) * ex - sin(phi) * ey + mx, sin(phi) * ex + cos(phi) * ey + my))
        self._to((x2, y2))


def _spots(numbers: list[float]) -> list[Spot]:
    return list(zip(numbers[::2], numbers[1::2], strict=True))
