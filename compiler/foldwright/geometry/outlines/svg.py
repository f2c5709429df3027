"""An outline from an SVG file: the closed line a piece is cut along, and the lines its layers say are folded, glued or
slit (`layers`). Nothing in the file is run, fetched or shown.

Places are floats here, in the file's own units as long as may be; a piece's are thousandths of a millimetre
(`flat/outlined`), so that a file drawn in whole numbers gives whole numbers.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from itertools import pairwise
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
from foldwright.geometry.outlines.layers import LayerError, Mark, called, marked

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from shapely.geometry import Polygon

MOST_BYTES = 512 * 1024
LARGEST_MM = 2000.0
TOLERANCE = 0.01
"""Millimetres the chords of a curve may be off it."""
_SAME = 1e-6
"""Millimetres: two points nearer than this are one."""
_JOINED = 0.05
"""Millimetres: an outline whose ends are nearer than this is closed."""
_NOT_SHOWN = frozenset({"defs", "clippath", "mask", "symbol", "marker", "pattern", "metadata", "title", "desc", "style",
                        "text", "lineargradient", "radialgradient", "filter", "namedview"})  # fmt: skip
_LARGEST_FACTOR, _DEEPEST = 1e7, 40
"""How much a transform may enlarge, and how many groups may stand in one another."""
_HIDDEN = re.compile(r"(?:^|;)\s*display\s*:\s*none\b", re.IGNORECASE)
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")


class Outline(Struct, frozen=True):
    """A closed line in millimetres, its box beginning at the origin, and what is left open inside it."""

    width: float
    height: float
    points: tuple[Spot, ...]
    inner: tuple[tuple[Spot, ...], ...] = ()
    lines: tuple[OutlineLine, ...] = ()
    unnamed: int = 0
    """Open lines that no layer says anything of: they are passed over."""
    doubtful: tuple[str, ...] = ()
    """Names of folds that stay flat, though the number in them may be meant as an angle."""


class OutlineLine(Struct, frozen=True):
    """What one element draws beside the outline, from the same origin: runs that are straight or one curve each.

    `kind` is that of a line of the long form; a `glue area` has one run, its corners.
    """

    kind: str
    runs: tuple[tuple[Spot, ...], ...]
    angle: Fraction | None = None


class Refused(Struct, frozen=True):
    """Why there is no outline: a code and the facts for its message."""

    code: str
    facts: tuple[tuple[str, object], ...] = ()

    @classmethod
    def of(cls, code: str, **facts: object) -> Refused:
        return cls(code, tuple(facts.items()))


class _AbsurdError(Exception):
    """Something is drawn in a size that nothing has."""


class _MarkedSub(Struct):
    """A subpath in millimetres, what its layers say it is, and the element that draws it."""

    sub: Sub
    mark: Mark
    element: Element


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
        scale = _transform(f"scale({_scale(root)!r})")
        return _assembled(list(_shapes(root, scale, marked(root, Mark()), 0, Ink(MOST_POINTS))))
    except LayerError as error:
        return Refused.of(error.code, **error.facts)
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


def _shapes(element: Element, matrix: Any, around: Mark, depth: int, ink: Ink) -> Iterator[_MarkedSub]:
    """Every subpath in millimetres. Raises PathError, OutOfInkError, LayerError and _AbsurdError."""
    if depth > _DEEPEST:
        raise OutOfInkError
    for child in element:
        tag = plain_tag(child.tag)
        if tag in _NOT_SHOWN or child.get("display") == "none" or _HIDDEN.search(child.get("style", "")):
            continue
        mark = marked(child, around)
        own = _transform(child.get("transform", "")) * matrix
        if tag in ("g", "svg"):
            yield from _shapes(child, own, mark, depth + 1, ink)
            continue
        a, b, c, d, e, f = own.a, own.b, own.c, own.d, own.e, own.f
        if not all(abs(factor) < _LARGEST_FACTOR for factor in (a, b, c, d, e, f)):
            raise _AbsurdError
        size = max(abs(a) + abs(b), abs(c) + abs(d)) or 1.0
        for sub in subpaths(tag, child, TOLERANCE / size, ink):
            spots = [(a * x + c * y + e, b * x + d * y + f) for x, y in sub.points]
            yield _MarkedSub(Sub(spots, sub.closed, sub.curved), mark, child)


def _transform(text: str) -> Any:
    """A list of transforms as one matrix. Raises PathError."""
    from svgelements import Matrix

    return Matrix(checked_transform(text))


# --- from subpaths to an outline --------------------------------------------------------------------------------------


def _assembled(drawn: list[_MarkedSub]) -> Outline | Refused:
    """Of what is cut, the largest closed line is the outline, and those inside it are openings; there may be no others.
    All else is a line on the piece.
    """
    rings: list[list[Spot]] = []
    others: list[_MarkedSub] = []
    gap, unnamed = 0.0, 0
    for one in drawn:
        apart = _apart(one.sub)
        closed = one.sub.closed or apart <= _JOINED
        if one.mark.kind not in ("", "cut"):
            if one.mark.kind == "glue" and not closed:
                return Refused.of("outline-glue-open", element=called(one.element), gap=round(apart, 2))
            others.append(one)
        elif not closed:
            gap = max(gap, apart)
            unnamed += not one.mark.kind
            others += [one] if one.mark.kind else []
        elif len(ring := _ring(one.sub)) > 2:
            rings.append(ring)
    if not rings:
        return Refused.of("outline-open", gap=round(gap, 2)) if gap else Refused.of("outline-none")
    # Drawing programs leave a line where it was when they copy it: the same line twice is one.
    rings = list({frozenset(ring): ring for ring in rings}.values())
    return _checked(rings, others, unnamed) if len(rings) <= MOST_OPENINGS + 1 else too_large()


def _apart(sub: Sub) -> float:
    (x1, y1), (x2, y2) = sub.points[0], sub.points[-1]
    return hypot(x1 - x2, y1 - y2)


def _ring(sub: Sub) -> list[Spot]:
    """A closed line, its first point not said again."""
    points = _without_repeats(sub.points)
    return points[:-1] if len(points) > 1 and _apart(Sub(points)) <= _JOINED else points


def _without_repeats(points: list[Spot]) -> list[Spot]:
    kept = points[:1]
    for point in points[1:]:
        if hypot(point[0] - kept[-1][0], point[1] - kept[-1][1]) > _SAME:
            kept.append(point)
    return kept


def _checked(rings: list[list[Spot]], others: list[_MarkedSub], unnamed: int) -> Outline | Refused:
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

    def put(ring: Iterable[Spot]) -> tuple[Spot, ...]:
        return tuple((x - left, y - top) for x, y in ring)

    lines = tuple(line for one in others if (line := _line(one, put)).runs)
    size = right - left, bottom - top
    marks = (one.mark for one in others)
    doubtful = tuple(dict.fromkeys(mark.doubtful for mark in marks if mark.doubtful and mark.angle is None))
    alike = tuple(dict.fromkeys(lines))
    return Outline(*size, put(rings[largest]), tuple(map(put, inner)), alike, unnamed, doubtful)


def _line(one: _MarkedSub, put: Callable[[Iterable[Spot]], tuple[Spot, ...]]) -> OutlineLine:
    if one.mark.kind == "glue":
        ring = _ring(one.sub)
        return OutlineLine("glue area", (put(ring),) if len(ring) > 2 else ())
    return OutlineLine(one.mark.kind, tuple(map(put, _runs(one.sub))), one.mark.angle)


def _runs(sub: Sub) -> Iterator[list[Spot]]:
    """Each straight stretch and each curve of a line by itself: paper bends otherwise along either."""
    points = [*sub.points, *(sub.points[:1] if sub.closed and _apart(sub) > _SAME else ())]
    ends = [at for at in range(len(points)) if at not in sub.curved]
    for start, end in pairwise(ends):
        run = _without_repeats(points[start : end + 1])
        if len(run) > 1:
            yield run


def _crossing(shape: Polygon, bounds: tuple[float, float, float, float]) -> Refused:
    """Where a line crosses itself or another, from the top left corner of the outline."""
    from shapely import is_valid_reason

    place = _NUMBER.findall(is_valid_reason(shape))
    x, y = (float(place[-2]) - bounds[0], float(place[-1]) - bounds[1]) if len(place) >= 2 else (0.0, 0.0)
    return Refused.of("outline-crosses-itself", across=round(x, 1), down=round(y, 1))
