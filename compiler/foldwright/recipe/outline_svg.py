"""An outline from an SVG file: the closed line a piece is cut along. Nothing in the file is run, fetched or shown."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import cos, hypot, radians, sin, tan
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.measure.length import millimetres
from foldwright.recipe.outline_paths import PathError, Spot, Sub, subpaths

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

MOST_BYTES = 512 * 1024
MOST_POINTS = 20_000
LARGEST_MM = 2000.0
TOLERANCE = 0.01
"""Millimetres the chords of a curve may be off it."""
_JOINED = 0.05
"""Millimetres: an outline whose ends are nearer than this is closed."""
_MM = {
    **{unit: float(millimetres(unit)) for unit in ("mm", "cm", "in")},
    "pt": float(millimetres("typographic point")),
    "pc": float(millimetres("pica")),
    "px": float(millimetres("pixel")),
    "q": float(millimetres("quarter millimetre")),
    "": float(millimetres("pixel")),
}
"""CSS Values 3: an inch is 96 px."""
_LENGTH = re.compile(r"\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)\s*([a-zA-Z%]*)\s*")
_UNSAFE = frozenset({"script", "foreignobject", "image", "use", "animate", "animatetransform", "animatemotion", "set",
                     "iframe", "audio", "video", "a", "feimage"})  # fmt: skip
_NOT_SHOWN = frozenset({"defs", "clippath", "mask", "symbol", "marker", "pattern", "metadata", "title", "desc", "style",
                        "text", "lineargradient", "radialgradient", "filter", "namedview"})  # fmt: skip
_TRANSFORM = re.compile(r"(\w+)\s*\(([^)]*)\)")
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")

type _Matrix = tuple[float, float, float, float, float, float]


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


def read_outline(data: bytes) -> Outline | Refused:
    """The outline in an SVG file. Never raises for anything a file may hold."""
    from xml.etree.ElementTree import ParseError, fromstring

    if len(data) > MOST_BYTES:
        return Refused.of("outline-too-large", most=MOST_BYTES // 1024)
    # Entities could make a short file endless, and could name other files.
    if b"<!DOCTYPE" in data.upper() or b"<!ENTITY" in data.upper():
        return Refused.of("outline-unsafe", what="<!DOCTYPE")
    try:
        root = fromstring(data)
    except (ParseError, ValueError, LookupError) as error:
        line, column = getattr(error, "position", (1, 0))
        return Refused.of("outline-unreadable", row=line, place=column + 1)
    if _plain(root.tag) != "svg":
        return Refused.of("outline-unreadable", row=1, place=1)
    if (unsafe := _unsafe(root)) is not None:
        return Refused.of("outline-unsafe", what=unsafe)
    scale = _scale(root)
    if scale is None:
        return Refused.of("outline-absurd", most=int(LARGEST_MM))
    try:
        subs = list(_shapes(root, (scale, 0.0, 0.0, scale, 0.0, 0.0), 0))
    except PathError as error:
        return Refused.of("outline-path", near=error.near)
    return _assembled(subs)


def _plain(tag: object) -> str:
    """A tag without its namespace, in small letters."""
    return str(tag).rpartition("}")[2].lower()


def _unsafe(root: Element) -> str | None:
    """The first thing in a file that would run, fetch or move."""
    for element in root.iter():
        tag = _plain(element.tag)
        if tag in _UNSAFE:
            return f"<{tag}>"
        for name, value in element.attrib.items():
            plain = _plain(name)
            if plain.startswith("on"):
                return plain
            if plain in ("href", "src") and not value.startswith("#"):
                return plain
            if "url(" in value.lower() and "url(#" not in value.lower().replace('"', "").replace("'", ""):
                return "url("
        if tag == "style" and re.search(r"@import|url\(", element.text or "", re.IGNORECASE):
            return "<style>"
    return None


def _scale(root: Element) -> float | None:
    """How many millimetres a unit of the drawing is; None when its size is nonsense."""
    box = [float(number) for number in _NUMBER.findall(root.get("viewBox", ""))]
    said = root.get("width", "").strip()
    wide = _mm(said)
    if wide is None and said and not said.endswith("%"):
        return None
    if len(box) == 4:
        if not 0 < box[2] < 1e9 or not 0 < box[3] < 1e9:
            return None
        return wide / box[2] if wide else _MM["px"]
    return _MM["px"]


def _mm(text: str) -> float | None:
    match = _LENGTH.fullmatch(text)
    unit = _MM.get(match[2].lower()) if match else None
    length = float(match[1]) * unit if match and unit else None
    return length if length is not None and 0 < length <= LARGEST_MM * 10 else None


# --- shapes -----------------------------------------------------------------------------------------------------------


def _shapes(element: Element, matrix: _Matrix, depth: int) -> Iterator[Sub]:
    if depth > 40:
        return
    for child in element:
        tag = _plain(child.tag)
        if tag in _NOT_SHOWN or child.get("display") == "none":
            continue
        own = _times(matrix, _matrix(child.get("transform", "")))
        if tag in ("g", "svg"):
            yield from _shapes(child, own, depth + 1)
            continue
        size = max(abs(own[0]) + abs(own[1]), abs(own[2]) + abs(own[3])) or 1.0
        for sub in _drawn(tag, child, TOLERANCE / size):
            points = [_moved(spot, own) for spot in sub.points]
            yield Sub(points, sub.closed)


def _drawn(tag: str, element: Element, tolerance: float) -> list[Sub]:
    def number(name: str) -> float:
        match = _NUMBER.match(element.get(name, "").strip())
        return float(match[0]) if match else 0.0

    if tag == "path":
        return subpaths(element.get("d", ""), tolerance)
    if tag in ("polygon", "polyline"):
        numbers = [float(one) for one in _NUMBER.findall(element.get("points", ""))]
        spots = list(zip(numbers[::2], numbers[1::2], strict=False))
        return [Sub(spots, tag == "polygon")] if len(spots) > 1 else []
    if tag == "rect":
        x, y, wide, high = (number(name) for name in ("x", "y", "width", "height"))
        rx, ry = number("rx") or number("ry"), number("ry") or number("rx")
        rx, ry = min(rx, wide / 2), min(ry, high / 2)
        if not rx or not ry:
            return subpaths(f"M{x} {y}h{wide}v{high}h{-wide}z", tolerance)
        corner = f"a{rx} {ry} 0 0 1"
        d = f"M{x + rx} {y}h{wide - 2 * rx}{corner} {rx} {ry}v{high - 2 * ry}{corner} {-rx} {ry}"
        d += f"h{2 * rx - wide}{corner} {-rx} {-ry}v{2 * ry - high}{corner} {rx} {-ry}z"
        return subpaths(d, tolerance)
    if tag in ("circle", "ellipse"):
        x, y = number("cx"), number("cy")
        rx, ry = (number("r"), number("r")) if tag == "circle" else (number("rx"), number("ry"))
        d = f"M{x - rx} {y}a{rx} {ry} 0 1 0 {2 * rx} 0a{rx} {ry} 0 1 0 {-2 * rx} 0z"
        return subpaths(d, tolerance) if rx and ry else []
    if tag == "line":
        return [Sub([(number("x1"), number("y1")), (number("x2"), number("y2"))])]
    return []


def _matrix(text: str) -> _Matrix:
    """A transform list (CSS Transforms 1) as one matrix."""
    found: _Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    for name, inside in _TRANSFORM.findall(text):
        numbers = [float(number) for number in _NUMBER.findall(inside)] or [0.0]
        a = numbers[0]
        b = numbers[1] if len(numbers) > 1 else None
        match name.lower():
            case "translate":
                one: _Matrix = (1.0, 0.0, 0.0, 1.0, a, b or 0.0)
            case "scale":
                one = (a, 0.0, 0.0, a if b is None else b, 0.0, 0.0)
            case "rotate":
                c, s = cos(radians(a)), sin(radians(a))
                x, y = (numbers[1], numbers[2]) if len(numbers) == 3 else (0.0, 0.0)
                one = (c, s, -s, c, x - c * x + s * y, y - s * x - c * y)
            case "skewx":
                one = (1.0, 0.0, tan(radians(a)), 1.0, 0.0, 0.0)
            case "skewy":
                one = (1.0, tan(radians(a)), 0.0, 1.0, 0.0, 0.0)
            case "matrix" if len(numbers) == 6:
                one = (numbers[0], numbers[1], numbers[2], numbers[3], numbers[4], numbers[5])
            case _:
                continue
        found = _times(found, one)
    return found


def _times(one: _Matrix, other: _Matrix) -> _Matrix:
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return a * p + c * q, b * p + d * q, a * r + c * s, b * r + d * s, a * t + c * u + e, b * t + d * u + f


def _moved(spot: Spot, matrix: _Matrix) -> Spot:
    a, b, c, d, e, f = matrix
    return a * spot[0] + c * spot[1] + e, b * spot[0] + d * spot[1] + f


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
    if sum(map(len, rings)) > MOST_POINTS:
        return Refused.of("outline-too-large", most=MOST_BYTES // 1024)
    return _checked(rings)


def _without_repeats(points: list[Spot]) -> list[Spot]:
    kept = points[:1]
    for point in points[1:]:
        if hypot(point[0] - kept[-1][0], point[1] - kept[-1][1]) > 1e-6:
            kept.append(point)
    return kept


def _checked(rings: list[list[Spot]]) -> Outline | Refused:
    from shapely import is_valid_reason
    from shapely.geometry import Polygon

    shapes = [Polygon(ring) for ring in rings]
    for shape in shapes:
        if not shape.is_valid:
            place = _NUMBER.findall(is_valid_reason(shape))
            left, top = shape.bounds[:2]
            x, y = (float(place[-2]) - left, float(place[-1]) - top) if len(place) >= 2 else (0.0, 0.0)
            return Refused.of("outline-crosses-itself", across=round(x, 1), down=round(y, 1))
    largest = max(range(len(shapes)), key=lambda number: shapes[number].area)
    outer = shapes[largest]
    left, top, right, bottom = outer.bounds
    if not 1.0 <= max(right - left, bottom - top) <= LARGEST_MM:
        return Refused.of("outline-absurd", most=int(LARGEST_MM))
    inner = [ring for number, ring in enumerate(rings) if number != largest]
    if not all(outer.contains(shape) for number, shape in enumerate(shapes) if number != largest):
        return Refused.of("outline-several", count=len(rings))

    def put(ring: list[Spot]) -> tuple[Spot, ...]:
        return tuple((x - left, y - top) for x, y in ring)

    return Outline(right - left, bottom - top, put(rings[largest]), tuple(map(put, inner)))
