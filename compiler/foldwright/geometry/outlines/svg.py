"""An outline from an SVG file: the closed line a piece is cut along. Nothing in the file is run, fetched or shown."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import cos, hypot, radians, sin, tan
from typing import TYPE_CHECKING

from msgspec import Struct

from foldwright.geometry.outlines.paths import Ink, OutOfInkError, PathError, Spot, Sub, number_of, numbers_of, subpaths
from foldwright.measure.length import millimetres

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from shapely.geometry import Polygon

MOST_BYTES = 512 * 1024
MOST_POINTS = 20_000
MOST_OPENINGS = 1000
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
_TRANSFORM = re.compile(r"[\s,]*([a-zA-Z]+)\s*\(([^()]*)\)[\s,]*")
_LONGEST_LENGTH, _LARGEST_FACTOR, _DEEPEST = 40, 1e7, 40
"""Characters of a length, how much a transform may enlarge, and how many groups may stand in one another."""
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


class _AbsurdError(Exception):
    """Something is drawn in a size that nothing has."""


def too_large() -> Refused:
    return Refused.of("outline-too-large", most=MOST_BYTES // 1024, points=MOST_POINTS, openings=MOST_OPENINGS)


def _absurd() -> Refused:
    return Refused.of("outline-absurd", most=int(LARGEST_MM))


def read_outline(data: bytes) -> Outline | Refused:
    """The outline in an SVG file. Never raises for anything a file may hold."""
    from xml.etree.ElementTree import ParseError

    if len(data) > MOST_BYTES:
        return too_large()
    try:
        root = _parsed(data)
    except _DoctypeError:
        return Refused.of("outline-unsafe", what="<!DOCTYPE")
    except (ParseError, ValueError, LookupError) as error:
        line, column = getattr(error, "position", (1, 0))
        return Refused.of("outline-unreadable", row=line, column=column + 1)
    if _plain(root.tag) != "svg":
        return Refused.of("outline-unreadable", row=1, column=1)
    if (unsafe := _unsafe(root)) is not None:
        return Refused.of("outline-unsafe", what=unsafe)
    try:
        scale = _scale(root)
        return _assembled(list(_shapes(root, (scale, 0.0, 0.0, scale, 0.0, 0.0), 0, Ink(MOST_POINTS))))
    except PathError as error:
        return Refused.of("outline-path", near=error.near)
    except OutOfInkError:
        return too_large()
    except _AbsurdError:
        return _absurd()


class _DoctypeError(Exception):
    """The file declares things: entities, which could make a short file endless and could name other files."""


def _parsed(data: bytes) -> Element:
    from xml.etree.ElementTree import TreeBuilder, XMLParser

    class Builder(TreeBuilder):
        # Told by the parser itself, whatever the file is encoded in.
        def doctype(self, *_: object) -> None:
            raise _DoctypeError

    parser = XMLParser(target=Builder())
    parser.feed(data)
    return parser.close()


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


def _scale(root: Element) -> float:
    """How many millimetres a unit of the drawing is."""
    box = numbers_of(root.get("viewBox", ""))
    said = root.get("width", "").strip()
    wide = None if not said or said.endswith("%") else _mm(said)
    if wide is not None and not 0 < wide <= LARGEST_MM * 10:
        raise _AbsurdError
    if len(box) != 4:
        return _MM["px"]
    if not (box[2] > 0 and box[3] > 0):
        raise _AbsurdError
    return wide / box[2] if wide else _MM["px"]


def _mm(text: str) -> float:
    """A length in millimetres. Raises PathError for what is none, or depends on what surrounds it."""
    match = _LENGTH.fullmatch(text) if len(text) <= _LONGEST_LENGTH else None
    unit = _MM.get(match[2].lower()) if match else None
    if match is None or unit is None:
        raise PathError(text[:20])
    return number_of(match[1]) * unit


# --- shapes -----------------------------------------------------------------------------------------------------------


def _shapes(element: Element, matrix: _Matrix, depth: int, ink: Ink) -> Iterator[Sub]:
    if depth > _DEEPEST:
        raise OutOfInkError
    for child in element:
        tag = _plain(child.tag)
        if tag in _NOT_SHOWN or child.get("display") == "none":
            continue
        own = _times(matrix, _matrix(child.get("transform", "")))
        if tag in ("g", "svg"):
            yield from _shapes(child, own, depth + 1, ink)
            continue
        if not all(abs(factor) < _LARGEST_FACTOR for factor in own):
            raise _AbsurdError
        size = max(abs(own[0]) + abs(own[1]), abs(own[2]) + abs(own[3])) or 1.0
        for sub in _drawn(tag, child, TOLERANCE / size, ink):
            points = [_moved(spot, own) for spot in sub.points]
            yield Sub(points, sub.closed)


def _drawn(tag: str, element: Element, tolerance: float, ink: Ink) -> list[Sub]:
    def number(name: str) -> float:
        said = element.get(name, "").strip()
        return _mm(said) / _MM["px"] if said not in ("", "auto") else 0.0

    def size(name: str) -> float:
        if (found := number(name)) < 0:
            raise PathError(f'{name}="{element.get(name)}"'[:20])
        return found

    match tag:
        case "path":
            return subpaths(element.get("d", ""), tolerance, ink)
        case "polygon" | "polyline":
            numbers = numbers_of(element.get("points", ""))
            spots = list(zip(numbers[::2], numbers[1::2], strict=False))
            ink.use(len(spots))
            return [Sub(spots, tag == "polygon")] if len(spots) > 1 else []
        case "rect":
            corners = size("rx") or size("ry"), size("ry") or size("rx")
            return subpaths(
                _rectangle(number("x"), number("y"), size("width"), size("height"), corners), tolerance, ink
            )
        case "circle" | "ellipse":
            x, y = number("cx"), number("cy")
            rx, ry = (size("r"), size("r")) if tag == "circle" else (size("rx"), size("ry"))
            d = f"M{x - rx} {y}a{rx} {ry} 0 1 0 {2 * rx} 0a{rx} {ry} 0 1 0 {-2 * rx} 0z"
            return subpaths(d, tolerance, ink) if rx and ry else []
        case "line":
            ink.use(2)
            return [Sub([(number("x1"), number("y1")), (number("x2"), number("y2"))])]
    return []


def _rectangle(x: float, y: float, wide: float, high: float, corners: tuple[float, float]) -> str:
    """A rectangle with rounded corners as a path (SVG 2, chapter 10)."""
    if not wide or not high:
        return ""
    rx, ry = min(corners[0], wide / 2), min(corners[1], high / 2)
    corner = f"a{rx} {ry} 0 0 1"
    d = f"M{x + rx} {y}h{wide - 2 * rx}{corner} {rx} {ry}v{high - 2 * ry}{corner} {-rx} {ry}"
    return f"{d}h{2 * rx - wide}{corner} {-rx} {-ry}v{2 * ry - high}{corner} {rx} {-ry}z"


def _matrix(text: str) -> _Matrix:
    """A transform list (CSS Transforms 1) as one matrix. Raises PathError."""
    found: _Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    at = 0
    while at < len(text):
        match = _TRANSFORM.match(text, at)
        if match is None:
            raise PathError(text[at : at + 20])
        found, at = _times(found, _one_matrix(match[1], numbers_of(match[2]), match[0])), match.end()
    return found


def _one_matrix(name: str, numbers: list[float], near: str) -> _Matrix:
    match name.lower(), numbers:
        case "translate", [x, *more] if len(more) < 2:
            return 1.0, 0.0, 0.0, 1.0, x, more[0] if more else 0.0
        case "scale", [x, *more] if len(more) < 2:
            return x, 0.0, 0.0, more[0] if more else x, 0.0, 0.0
        case "rotate", [angle, *middle] if len(middle) in (0, 2):
            c, s = cos(radians(angle)), sin(radians(angle))
            x, y = middle or (0.0, 0.0)
            return c, s, -s, c, x - c * x + s * y, y - s * x - c * y
        case "skewx", [angle]:
            return 1.0, 0.0, tan(radians(angle)), 1.0, 0.0, 0.0
        case "skewy", [angle]:
            return 1.0, tan(radians(angle)), 0.0, 1.0, 0.0, 0.0
        case "matrix", [a, b, c, d, e, f]:
            return a, b, c, d, e, f
    raise PathError(near[:20])


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
        return _absurd()
    shapes = [Polygon(ring) for ring in rings]
    if crossing := next((shape for shape in shapes if not shape.is_valid), None):
        return _crossing(crossing, crossing.bounds)
    largest = max(range(len(shapes)), key=lambda number: shapes[number].area)
    outer = shapes.pop(largest)
    left, top, right, bottom = outer.bounds
    if max(right - left, bottom - top) < 1.0:
        return _absurd()
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
