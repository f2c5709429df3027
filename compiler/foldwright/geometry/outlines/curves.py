"""Shapes of an SVG file as polylines: svgelements says what is drawn, and here curves become chords."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, hypot, sqrt
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from foldwright.geometry.outlines.gate import MM_PER_UNIT, OutOfInkError, PathError, checked_path, mm_of, numbers_of

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

type Spot = tuple[float, float]

_MOST_STEPS = 400
"""Chords of one curve at most."""
_NOTHING = 1e-9
"""A radius below this is none, and the arc a straight line (SVG 2, 9.5.1)."""


class Sub(Struct):
    """One subpath: its points, whether it was closed, and the numbers of those points that lie within a curve."""

    points: list[Spot]
    closed: bool = False
    curved: frozenset[int] = frozenset()


class Ink:
    """How many points may still be drawn, whatever draws them."""

    def __init__(self, points: int) -> None:
        self.left = points

    def use(self, points: int = 1) -> None:
        """Take so many. Raises OutOfInkError when there are not as many left."""
        self.left -= points
        if self.left < 0:
            raise OutOfInkError


def subpaths(tag: str, element: Element, tolerance: float, ink: Ink) -> list[Sub]:
    """What an element draws, in its own units; chords stay within `tolerance`. Raises PathError and OutOfInkError."""
    if tag in ("polygon", "polyline"):
        numbers = numbers_of(element.get("points", ""))
        spots = list(zip(numbers[::2], numbers[1::2], strict=False))
        ink.use(len(spots))
        return [Sub(spots, tag == "polygon")] if len(spots) > 1 else []
    try:
        return list(_subs(_path(tag, element), tolerance, ink))
    except (ArithmeticError, AttributeError, IndexError, TypeError, ValueError) as error:
        # What passed the gate and the library still cannot read: it raises whatever comes of it.
        raise PathError(element.get("d", tag)) from error


def _path(tag: str, element: Element) -> Any:
    import svgelements

    def number(name: str) -> float:
        said = element.get(name, "").strip()
        return mm_of(said) / MM_PER_UNIT["px"] if said not in ("", "auto") else 0.0

    def size(name: str) -> float:
        if (found := number(name)) < 0:
            raise PathError(f'{name}="{element.get(name)}"')
        return found

    shape: Any = ()
    match tag:
        case "path":
            return svgelements.Path(checked_path(element.get("d", "")))
        case "rect":
            box = number("x"), number("y"), size("width"), size("height")
            corners = size("rx") or size("ry"), size("ry") or size("rx")
            shape = svgelements.Rect(*box, *corners) if box[2] and box[3] else ()
        case "circle" | "ellipse":
            radii = (size("r"),) * 2 if tag == "circle" else (size("rx"), size("ry"))
            shape = svgelements.Ellipse(number("cx"), number("cy"), *radii) if all(radii) else ()
        case "line":
            shape = svgelements.SimpleLine(number("x1"), number("y1"), number("x2"), number("y2"))
    return svgelements.Path(shape) if shape else ()


def _subs(path: Any, tolerance: float, ink: Ink) -> Iterator[Sub]:
    from svgelements import Close, Move

    sub: Sub | None = None
    for segment in path:
        if isinstance(segment, Move):
            if sub:
                yield sub
            ink.use()
            sub = Sub([_spot(segment.end)])
        elif isinstance(segment, Close):
            if sub:
                sub.closed = True
        else:
            if sub is None or sub.closed:
                if sub:
                    yield sub
                ink.use()
                sub = Sub([_spot(segment.start)])
            count = _chords(segment, tolerance)
            ink.use(count)
            if count > 1:
                first = len(sub.points)
                sub.points += [(float(x), float(y)) for x, y in segment.npoint([n / count for n in range(1, count)])]
                sub.curved |= frozenset(range(first, len(sub.points)))
            sub.points.append(_spot(segment.end))
    if sub:
        yield sub


def _spot(point: Any) -> Spot:
    return float(point.x), float(point.y)


def _chords(segment: Any, tolerance: float) -> int:
    """Chords of a curve whose second derivative is at most `bend` stay within bend / 8 n^2 of it."""
    from svgelements import Arc, CubicBezier, QuadraticBezier

    bend = 0.0
    match segment:
        case QuadraticBezier():
            bend = 2 * _turn(segment.start, segment.control, segment.end)
        case CubicBezier():
            one, two = segment.control1, segment.control2
            bend = 6 * max(_turn(segment.start, one, two), _turn(one, two, segment.end))
        case Arc():
            radii = float(segment.rx), float(segment.ry)
            bend = max(radii) * float(segment.sweep) ** 2 if min(radii) > _NOTHING else 0.0
    return min(_MOST_STEPS, max(1, ceil(sqrt(bend / (8 * tolerance)))))


def _turn(one: Any, two: Any, three: Any) -> float:
    return hypot(one.x - 2 * two.x + three.x, one.y - 2 * two.y + three.y)
