"""An outline from an SVG file: the closed line a piece is cut along. Nothing in the file is run, fetched or shown.

Places are floats here, in the file's own units as long as may be; a piece's are thousandths of a millimetre
(`flat/outlined`), so that a file drawn in whole numbers gives whole numbers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import hypot
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from foldwright.geometry.outlines.curves import Ink, Spot, Sub, subpaths
from foldwright.geometry.outlines.gate import (
    MM_PER_UNIT,
    MOST_OPENINGS,
    MOST_POINTS,
    DoctypeError,
    OutOfInkError,
    PathError,
    checked_transform,
    mm_of,
    numbers_of,
    parsed,
    plain_tag,
    unsafe_in,
)

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from shapely.geometry import Polygon

MOST_BYTES = 512 * 1024
LARGEST_MM = 2000.0
TOLERANCE = 0.01
"""Millimetres the chords of a curve may be off it."""
_JOINED = 0.05
"""Millimetres: an outline whose ends are nearer than this is closed."""
_NOT_SHOWN = frozenset({"defs", "clippath", "mask", "symbol", "marker", "pattern", "metadata", "title", "desc", "style",
                        "text", "lineargradient", "radialgradient", "filter", "namedview"})  # fmt: skip
_LARGEST_FACTOR, _DEEPEST = 1e7, 40
"""How much a transform may enlarge, and how many groups may stand in one another."""
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")


class Outline(Struct, frozen=True):
    """A closed line in millimetres, its box beginning at the origin, and what is left open inside it."""

    width: float
    height: float
    points: tuple[Spot, ...]
    inner: tuple[tuple[Spot, ...], ...] = ()


class Refused(Struct, frozen=True):
    """Why there is no outline: a code and the facts for its message."""

    code: str
    facts: tuple[tuple[str, object], ...] = ()

    @classmethod
    def of(cls, code: str, **facts: object) -> Refused:
        return cls(code, tuple(facts.items()))


class _AbsurdError(Exception):
    """Something is drawn in a size that nothing has."""


def too_large() -> Refused:
    """The refusal of a file that has too many bytes, points or openings."""
    return Refused.of("outline-too-large", most=MOST_BYTES // 1024, points=MOST_POINTS, openings=MOST_OPENINGS)


def read_outline(data: bytes) -> Outline | Refused:
    """The outline in an SVG file. Never raises for anything a file may hold."""
    from xml.etree.ElementTree import ParseError

    if len(data) > MOST_BYTES:
        return too_large()
    try:
        root = parsed(data)
    except DoctypeError:
        return Refused.of("outline-unsafe", what="<!DOCTYPE")
    except (ParseError, ValueError, LookupError) as error:
        line, column = getattr(error, "position", (1, 0))
        return Refused.of("outline-unreadable", row=line, column=column + 1)
    if plain_tag(root.tag) != "svg":
        return Refused.of("outline-unreadable", row=1, column=1)
    if (unsafe := unsafe_in(root)) is not None:
        return Refused.of("outline-unsafe", what=unsafe)
    try:
        return _assembled(list(_shapes(root, _transform(f"scale({_scale(root)!r})"), 0, Ink(MOST_POINTS))))
    except PathError as error:
        return Refused.of("outline-path", near=error.near)
    except OutOfInkError:
        return too_large()
    except _AbsurdError:
        return Refused.of("outline-absurd", most=int(LARGEST_MM))


def _scale(root: Element) -> float:
    """How many millimetres a unit of the drawing is."""
    box = numbers_of(root.get("viewBox", ""))
    said = root.get("width", "").strip()
    wide = None if not said or said.endswith("%") else mm_of(said)
    if wide is not None and not 0 < wide <= LARGEST_MM * 10:
        raise _AbsurdError
    if len(box) != 4:
        return MM_PER_UNIT["px"]
    if not (box[2] > 0 and box[3] > 0):
        raise _AbsurdError
    return wide / box[2] if wide else MM_PER_UNIT["px"]


def _shapes(element: Element, matrix: Any, depth: int, ink: Ink) -> Iterator[Sub]:
    """Every subpath in millimetres. Raises PathError, OutOfInkError and _AbsurdError."""
    if depth > _DEEPEST:
        raise OutOfInkError
    for child in element:
        tag = plain_tag(child.tag)
        if tag in _NOT_SHOWN or child.get("display") == "none":
            continue
        own = _transform(child.get("transform", "")) * matrix
        if tag in ("g", "svg"):
            yield from _shapes(child, own, depth + 1, ink)
            continue
        a, b, c, d, e, f = own.a, own.b, own.c, own.d, own.e, own.f
        if not all(abs(factor) < _LARGEST_FACTOR for factor in (a, b, c, d, e, f)):
            raise _AbsurdError
        size = max(abs(a) + abs(b), abs(c) + abs(d)) or 1.0
        for sub in subpaths(tag, child, TOLERANCE / size, ink):
            yield Sub([(a * x + c * y + e, b * x + d * y + f) for x, y in sub.points], sub.closed)


def _transform(text: str) -> Any:
    """A list of transforms as one matrix. Raises PathError."""
    from svgelements import Matrix

    return Matrix(checked_transform(text))


# --- from subpaths to an outline --------------------------------------------------------------------------------------


def _assembled(subs: list[Sub]) -> Outline | Refused:
    """The largest closed line is the outline; those inside it are openings; there may be no others."""
    rings: list[list[Spot]] = []
    gap = 0.0
    for sub in subs:
        points = _without_repeats(sub.points)
        apart = hypot(points[0][0] - points[-1][0], points[0][1] - points[-1][1])
        if not sub.closed and apart > _JOINED:
            gap = max(gap, apart)
            continue
        if len(points) > 1 and apart <= _JOINED:
            points = points[:-1]
        if len(points) > 2:
            rings.append(points)
    if not rings:
        return Refused.of("outline-open", gap=round(gap, 2)) if gap else Refused.of("outline-none")
    # Drawing programs leave a line where it was when they copy it: the same line twice is one.
    rings = list({frozenset(ring): ring for ring in rings}.values())
    return _checked(rings) if len(rings) <= MOST_OPENINGS + 1 else too_large()


def _without_repeats(points: list[Spot]) -> list[Spot]:
    kept = points[:1]
    for point in points[1:]:
        if hypot(point[0] - kept[-1][0], point[1] - kept[-1][1]) > 1e-6:
            kept.append(point)
    return kept


def _checked(rings: list[list[Spot]]) -> Outline | Refused:
    from shapely import contains, is_valid_reason, prepare
    from shapely.geometry import Polygon

    boxes = [(min(spot[side] for spot in ring), max(spot[side] for spot in ring)) for ring in rings for side in (0, 1)]
    if not max(high - low for low, high in boxes) <= LARGEST_MM:
        raise _AbsurdError
    shapes = [Polygon(ring) for ring in rings]
    if crossing := next((shape for shape in shapes if not shape.is_valid), None):
        return _crossing(crossing, crossing.bounds)
    largest = max(range(len(shapes)), key=lambda number: shapes[number].area)
    outer = shapes.pop(largest)
    left, top, right, bottom = outer.bounds
    if max(right - left, bottom - top) < 1.0:
        raise _AbsurdError
    inner = [ring for number, ring in enumerate(rings) if number != largest]
    prepare(outer)
    if not contains(outer, shapes).all():
        return Refused.of("outline-several", count=len(rings))
    whole = Polygon(rings[largest], inner)
    if not whole.is_valid:
        nested = "nested" in is_valid_reason(whole).lower()
        return Refused.of("outline-several", count=len(rings)) if nested else _crossing(whole, outer.bounds)

    def put(ring: list[Spot]) -> tuple[Spot, ...]:
        return tuple((x - left, y - top) for x, y in ring)

    return Outline(right - left, bottom - top, put(rings[largest]), tuple(map(put, inner)))


def _crossing(shape: Polygon, bounds: tuple[float, float, float, float]) -> Refused:
    """Where a line crosses itself or another, from the top left corner of the outline."""
    from shapely import is_valid_reason

    place = _NUMBER.findall(is_valid_reason(shape))
    x, y = (float(place[-2]) - bounds[0], float(place[-1]) - bounds[1]) if len(place) >= 2 else (0.0, 0.0)
    return Refused.of("outline-crosses-itself", across=round(x, 1), down=round(y, 1))
