"""A piece that was recovered as it lies, with the number of every panel; where there is doubt, it is marked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate

from foldwright.begin.recover.recovering import Doubt, RecoveredPiece
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.scene import Face, LineKind, Point, Scene, ShownLength, Stroke, Tone
from foldwright.measure.length import Length
from foldwright.measure.writing import write_readable


def recovered_scene(known: RecoveredPiece, doubt: Doubt | None) -> tuple[Scene, Mapping[LengthId, str]]:
    """The plan of a piece, and the figure of each length it shows."""
    name = known.piece.name
    unsure = doubt if doubt and doubt.piece == name else None
    lines = {side: _lines(known.row(side)) for side in ("across", "down")}
    wide, high = lines["across"][-1], lines["down"][-1]
    shown = [*_dimensions(name, "across", lines, unsure), *_dimensions(name, "down", lines, unsure)]
    labels = {
        LengthId(name, side, "panel", number): write_readable(length).plain
        for side in ("across", "down")
        for number, length in enumerate(known.row(side), 1)
    }
    strokes = [Stroke(LineKind.CUT, ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)), closed=True)]
    strokes += [Stroke(LineKind.SCORE, ((x, 0.0), (x, high))) for x in lines["across"][1:-1]]
    strokes += [Stroke(LineKind.SCORE, ((0.0, y), (wide, y))) for y in lines["down"][1:-1]]
    faces = [Face(_box(0.0, 0.0, wide, high), Tone.GOOD)]
    if unsure:
        one, other = lines[unsure.side.side][unsure.start], lines[unsure.side.side][unsure.end]
        across = unsure.side.side == "across"
        faces.append(Face(_box(one, 0.0, other, high) if across else _box(0.0, one, wide, other), Tone.DOUBT))
    return Scene(wide, high, tuple(faces), tuple(strokes), tuple(shown)), labels


def _lines(row: Sequence[Length]) -> list[float]:
    return [0.0, *(float(mm) for mm in accumulate(length.mm for length in row))]


def _box(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    return (left, top), (right, top), (right, bottom), (left, bottom)


def _dimensions(
    name: str, side: str, lines: Mapping[str, Sequence[float]], doubt: Doubt | None
) -> Iterator[ShownLength]:
    """Every panel of a side, above or left of the piece."""
    own = lines[side]
    for number in range(1, len(own)):
        unsure = doubt is not None and doubt.side.side == side and doubt.start < number <= doubt.end
        start, end = ((own[at], 0.0) if side == "across" else (0.0, own[at]) for at in (number - 1, number))
        edge = "top" if side == "across" else "left"
        yield ShownLength(LengthId(name, side, "panel", number), start, end, edge, doubtful=unsure)
