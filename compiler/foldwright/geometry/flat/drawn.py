"""The long form: lines from point to point, and the places on a piece that have names."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction

from foldwright.geometry.flat.blank import Blank, Drawn, ExactPoint
from foldwright.geometry.flat.points import kept
from foldwright.geometry.lengths import Ledger, LengthId, Sum
from foldwright.geometry.outlines.svg import Outline
from foldwright.measure.length import Length
from foldwright.recipe.model import DrawnLine, Piece, Said

_HALF = Fraction(1, 2)
_HAIR = Fraction(3, 10)
"""Millimetres a line may be drawn beyond the edge by a hand that meant the edge (common practice, no source)."""
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
_SPELLINGS = (("centre", "middle"), ("center", "middle"), ("the middle", "middle"), (" edge edge", " edge"))


def lay_lines(blank: Blank, lines: Sequence[Said[DrawnLine]], ledger: Ledger) -> tuple[Drawn, ...]:
    """Every line of the long form; its coordinates go to the ledger, equal to a score or size they lie on."""
    known = _known_places(blank, ledger)
    drawn: list[Drawn] = []
    for number, said in enumerate(lines, 1):
        boxes = _boxes(blank, said.value.every_panel)
        laid = (_points(blank, said, box, ledger) for box in boxes)
        copies = [tuple(_onto_the_edge(blank, point) for point in points) for points in laid if points is not None]
        _note_coordinates(blank.piece, number, said.value, known, ledger)
        if said.value.mirrored:
            copies += [tuple((blank.width - x, y) for x, y in points) for points in copies]
        off = any(not (0 <= x <= blank.width and 0 <= y <= blank.height) for points in copies for x, y in points)
        if off:
            ledger.misfit("line-off-the-piece", said.place, piece=blank.piece, kind=said.value.kind)
        line = said.value
        arcs = (line.arc and len(points) == 3 for points in copies)
        drawn += [
            Drawn(line.kind, points, arc, off, number, line.angle) for points, arc in zip(copies, arcs, strict=True)
        ]
    return tuple(drawn)


def lay_outline_lines(blank: Blank, piece: Piece, outline: Outline, ledger: Ledger) -> Iterator[Drawn]:
    """The lines an outline's file has beside it, fitted to the piece as the outline was. They count on from the piece's
    own `lines`.
    """
    across, down = float(blank.width) / outline.width, float(blank.height) / outline.height
    for number, line in enumerate(outline.lines, len(piece.lines) + 1):
        off = False
        for run in line.runs:
            spots = (_onto_the_edge(blank, (kept(x * across), kept(y * down))) for x, y in run)
            points = tuple(dict.fromkeys(spots))
            outside = any(not (0 <= x <= blank.width and 0 <= y <= blank.height) for x, y in points)
            if outside and not off:
                ledger.misfit("line-off-the-piece", piece.place_of_line(number), piece=blank.piece, kind=line.kind)
            off |= outside
            if len(points) > 1:
                yield Drawn(line.kind, points, False, outside, number, line.angle)


def _onto_the_edge(blank: Blank, point: ExactPoint) -> ExactPoint:
    """A place that lies a hair beyond the edge is meant to lie on it."""
    kept = (min(max(at, Fraction(0)), most) for at, most in zip(point, (blank.width, blank.height), strict=True))
    x, y = (inner if abs(inner - at) <= _HAIR else at for inner, at in zip(kept, point, strict=True))
    return x, y


type _Box = tuple[Fraction, Fraction, Fraction, Fraction]


def _boxes(blank: Blank, every_panel: bool) -> Iterator[_Box]:
    if every_panel:
        yield from ((column.start, row.start, column.long, row.long) for row in blank.down for column in blank.across)
    else:
        yield Fraction(0), Fraction(0), blank.width, blank.height


def _points(blank: Blank, said: Said[DrawnLine], box: _Box, ledger: Ledger) -> tuple[ExactPoint, ...] | None:
    left, top = box[:2]
    points: list[ExactPoint] = []
    for point in said.value.points:
        if not isinstance(point, str):
            points.append((left + point[0].mm, top + point[1].mm))
            continue
        named = _named(blank, point, box)
        if named is None:
            ledger.fault("no-such-place", said.place, piece=blank.piece, said=point, known=NAMED_PLACES)
            return None
        points.append(named)
    return tuple(points)


def _named(blank: Blank, said: str, box: _Box) -> ExactPoint | None:
    name = " ".join(said.casefold().split()).removeprefix("the ")
    for spelling, ours in _SPELLINGS:
        name = name.replace(spelling, ours)
    left, top, width, height = box
    parts = _NAMED.get(name)
    if parts is None and name.startswith("middle of ") and not name.startswith("middle of the "):
        parts = _NAMED.get("middle of the " + name.removeprefix("middle of "))
    if parts is not None:
        return left + parts[0] * width, top + parts[1] * height
    return _on_score(blank, name)


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


def _known_places(blank: Blank, ledger: Ledger) -> dict[tuple[str, Fraction], LengthId]:
    """The lengths from the left and top edges that a coordinate may share: scores and the size."""
    known: dict[tuple[str, Fraction], LengthId] = {}
    for side, strips in (("across", blank.across), ("down", blank.down)):
        for number, strip in enumerate(strips[:-1], 1):
            known[side, strip.end] = LengthId(blank.piece, side, "score", number)
        size = LengthId(blank.piece, side, "size")
        if size in ledger.lengths:
            known[side, ledger.lengths[size].mm] = size
    return known


def _note_coordinates(
    piece: str, number: int, line: DrawnLine, known: dict[tuple[str, Fraction], LengthId], ledger: Ledger
) -> None:
    for at, point in enumerate(line.points, 1):
        if isinstance(point, str):
            continue
        for side, length in zip(("across", "down"), point, strict=True):
            if length.mm <= 0:
                continue
            name = LengthId(piece, "panel line" if line.every_panel else "line", side, number, f"point {at}")
            ledger.lengths[name] = Length(length.mm, length.unit)
            same = known.setdefault((side, length.mm), name)
            if same != name and not line.every_panel:
                ledger.relations.append(Sum(name, (same,)))
