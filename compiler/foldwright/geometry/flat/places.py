"""Places on a piece that have names: of its edges and corners, of a panel's, of its outline's, on scores and lines."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from math import cos, hypot, radians

from foldwright.finding import Place
from foldwright.geometry.flat.blank import Blank, BlankFace, Drawn, ExactPoint
from foldwright.geometry.flat.panels import faces_called, names_of
from foldwright.geometry.flat.points import arc_points, floats, kept
from foldwright.geometry.flat.silhouettes import silhouette
from foldwright.geometry.lengths import Ledger
from foldwright.recipe.model import PlaceBeside

type Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, top, width and height of what a place is sought on, in millimetres."""
type Lines = Mapping[int, Drawn]
"""The lines of a piece that are laid, by number."""

_HALF = Fraction(1, 2)
_NAMED: dict[str, tuple[Fraction, Fraction]] = {
    f"{vertical} {horizontal} corner": (x, y)
    for vertical, y in (("top", Fraction(0)), ("bottom", Fraction(1)))
    for horizontal, x in (("left", Fraction(0)), ("right", Fraction(1)))
} | {
    "middle of the top edge": (_HALF, Fraction(0)),
    "middle of the bottom edge": (_HALF, Fraction(1)),
    "middle of the left edge": (Fraction(0), _HALF),
    "middle of the right edge": (Fraction(1), _HALF),
    "middle": (_HALF, _HALF),
}
"""Places that a point may be called by, as parts of the piece's (or panel's) width and height."""
NAMED_PLACES = tuple(_NAMED)
_SCORE_END = re.compile(
    r"(top|bottom|left|right|middle) (?:end )?of (?:the )?(?:score (\d+)|(\d+)\w\w score)(?: (across|down))?"
)
_CORNER = re.compile(r"(?:outline )?corner (\d+)(?: of (?:the )?outline)?")
_OUTLINE_EDGE = re.compile(r"(start|middle|end) of (?:the )?outline edge (\d+)")
_LINE_END = re.compile(r"(start|middle|end) of (?:the )?line (\d+)")
_ON_PANEL = re.compile(r"(?P<part>.+ (?:edge|corner)|middle) of (?:the )?(?P<panel>.+)")
_ITS_EDGE = re.compile(r"middle of (?:the )?edge of (?:the )?(?P<panel>.+)")
_SPELLINGS = (("centre", "middle"), ("center", "middle"), ("the middle", "middle"), ("beginning", "start"),
              (" edge edge", " edge"))  # fmt: skip
_COUNTED = re.compile(r"\bcorner \d|\boutline edge\b")
_STRAIGHT = cos(radians(20))
"""A corner turns by 20 degrees or more; the chords of a curve turn by less (a reasoned guess, no source)."""
_WAYS: dict[str, tuple[int, int]] = {"right": (0, 1), "left": (0, -1), "below": (1, 1), "above": (1, -1)}


def counts_corners(place: PlaceBeside) -> bool:
    """Whether a place is called by the number of a corner or edge of the outline."""
    return bool(_COUNTED.search(place.of))


def corners_of(blank: Blank) -> tuple[ExactPoint, ...]:
    """The corners of its outline, clockwise, from the one nearest to its top left; a round piece has none."""
    if blank.round:
        return ()
    ring = silhouette(blank)
    ring = ring if _clockwise(ring) else ring[::-1]
    around = zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True)
    found = [here for before, here, after in around if _turns(*floats((before, here, after)))]
    if not found:
        return ()
    first = min(range(len(found)), key=lambda at: (found[at][0] ** 2 + found[at][1] ** 2, found[at][1]))
    return (*found[first:], *found[:first])


def _clockwise(ring: Sequence[ExactPoint]) -> bool:
    """As it is seen with y downwards: the shoelace formula."""
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(ring, (*ring[1:], ring[0]), strict=True)) > 0


def _turns(before: tuple[float, float], here: tuple[float, float], after: tuple[float, float]) -> bool:
    ax, ay, bx, by = here[0] - before[0], here[1] - before[1], after[0] - here[0], after[1] - here[1]
    return ax * bx + ay * by < _STRAIGHT * hypot(ax, ay) * hypot(bx, by)


def place_on(blank: Blank, place: PlaceBeside, box: Box, lines: Lines) -> ExactPoint | None:
    """Where it is, in millimetres from the top left of the blank; None when there is no such place."""
    named = _named(blank, place.of, box, lines)
    if named is None:
        return None
    spot = list(named)
    for way, length in place.away:
        axis, sign = _WAYS[way]
        spot[axis] += sign * length.mm
    return spot[0], spot[1]


def tell_no_place(blank: Blank, said: str, place: Place, lines: Lines, ledger: Ledger) -> None:
    """A place that is not there, with the places of that sort that are."""
    name = _tidied(said)
    facts: dict[str, object] = {"piece": blank.piece, "said": said}
    if _COUNTED.search(name):
        ledger.fault("no-such-corner", place, **facts, count=len(corners_of(blank)))
    elif _LINE_END.fullmatch(name):
        ledger.fault("no-such-line", place, **facts, count=len(lines))
    elif (_ON_PANEL.fullmatch(name) or _ITS_EDGE.fullmatch(name)) and (known := names_of(blank)):
        ledger.fault("no-such-panel-place", place, **facts, known=known)
    else:
        ledger.fault("no-such-place", place, **facts, known=NAMED_PLACES)


def _tidied(said: str) -> str:
    name = " ".join(said.casefold().split()).removeprefix("the ")
    for spelling, ours in _SPELLINGS:
        name = name.replace(spelling, ours)
    return name


def _named(blank: Blank, said: str, box: Box, lines: Lines) -> ExactPoint | None:
    name = _tidied(said)
    left, top, width, height = box
    parts = _part(name)
    if parts is not None:
        return left + parts[0] * width, top + parts[1] * height
    if match := _CORNER.fullmatch(name):
        corners = corners_of(blank)
        return corners[int(match[1]) - 1] if 0 < int(match[1]) <= len(corners) else None
    if match := _OUTLINE_EDGE.fullmatch(name):
        return _on_outline(blank, match[1], int(match[2]))
    if match := _LINE_END.fullmatch(name):
        line = lines.get(int(match[2]))
        return _along(_path_of(line), match[1]) if line else None
    return _on_score(blank, name) or _on_panel(blank, name)


def _part(name: str) -> tuple[Fraction, Fraction] | None:
    parts = _NAMED.get(name)
    if parts is None and name.startswith("middle of ") and not name.startswith("middle of the "):
        return _NAMED.get("middle of the " + name.removeprefix("middle of "))
    return parts


def _on_panel(blank: Blank, name: str) -> ExactPoint | None:
    """`top left corner of front`, `middle of the top edge of front`; the edge of the last panel of a row is its end."""
    if match := _ITS_EDGE.fullmatch(name):
        faces = faces_called(blank, match["panel"])
        free = _free_edges(blank, faces[0]) if len(faces) == 1 else []
        return _of_face(faces[0], _NAMED[free[0]]) if len(free) == 1 else None
    match = _ON_PANEL.fullmatch(name)
    parts = _part(match["part"]) if match else None
    faces = faces_called(blank, match["panel"]) if match else ()
    return _of_face(faces[0], parts) if parts is not None and len(faces) == 1 else None


def _of_face(face: BlankFace, parts: tuple[Fraction, Fraction]) -> ExactPoint:
    return face.left + parts[0] * face.wide, face.top + parts[1] * face.high


def _free_edges(blank: Blank, face: BlankFace) -> list[str]:
    """Which edges of a panel are ends of the row it lies in."""
    ends = (
        ("left", face.left == 0, len(blank.across)),
        ("right", face.right == blank.width, len(blank.across)),
        ("top", face.top == 0, len(blank.down)),
        ("bottom", face.bottom == blank.height, len(blank.down)),
    )
    return [f"middle of the {edge} edge" for edge, free, panels in ends if free and panels > 1]


def _on_outline(blank: Blank, where: str, number: int) -> ExactPoint | None:
    """On the edge from corner `number` to the next one, which may be curved."""
    corners = corners_of(blank)
    if not 0 < number <= len(corners):
        return None
    ring = silhouette(blank)
    ring = ring if _clockwise(ring) else ring[::-1]
    start, end = ring.index(corners[number - 1]), ring.index(corners[number % len(corners)])
    return _along(ring[start : end + 1] if start < end else (*ring[start:], *ring[: end + 1]), where)


def _path_of(line: Drawn) -> tuple[ExactPoint, ...]:
    if not line.arc:
        return line.points
    return tuple((kept(x), kept(y)) for x, y in arc_points(floats(line.points)))


def _along(path: Sequence[ExactPoint], where: str) -> ExactPoint:
    """The start or end of a row of points, or the middle of the way between them; of a straight line exactly."""
    if where != "middle":
        return path[0] if where == "start" else path[-1]
    if len(path) == 2:
        one, other = path
        return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
    spots = floats(path)
    rest = sum(hypot(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in pairwise(spots)) / 2
    for (x1, y1), (x2, y2) in pairwise(spots):
        long = hypot(x2 - x1, y2 - y1)
        if long >= rest and long:
            return kept(x1 + (x2 - x1) * rest / long), kept(y1 + (y2 - y1) * rest / long)
        rest -= long
    return path[-1]


def _on_score(blank: Blank, name: str) -> ExactPoint | None:
    """`top of score 2`, `left end of score 1 down`: an end or the middle of a score line."""
    match = _SCORE_END.fullmatch(name)
    if match is None:
        return None
    end, number = match[1], int(match[2] or match[3])
    across = match[4] == "across" if match[4] else end not in ("left", "right") and len(blank.across) > 1
    _, strips, _ = blank.row(across)
    long, ends = (blank.height, ("top", "middle", "bottom")) if across else (blank.width, ("left", "middle", "right"))
    if not 0 < number < len(strips) or end not in ends:
        return None
    at, along = strips[number - 1].end, long * ends.index(end) / 2
    return (at, along) if across else (along, at)
