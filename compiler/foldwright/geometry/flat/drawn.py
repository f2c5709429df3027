"""The long form: lines from point to point, and the places on a piece that have names."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, Drawn, ExactPoint
from foldwright.geometry.flat.panels import every_panel, tell_which_panels
from foldwright.geometry.flat.places import Box, Lines, place_on, tell_no_place
from foldwright.geometry.flat.points import kept
from foldwright.geometry.flat.repeating import note_repeat, shifts, spacing
from foldwright.geometry.lengths import Ledger, LengthId, Sum
from foldwright.geometry.outlines.svg import Outline
from foldwright.measure.length import Length
from foldwright.recipe.model import DrawnLine, Piece, PlaceBeside, Repeat, Said

_HAIR = Fraction(3, 10)
"""Millimetres a line may be drawn beyond the edge by a hand that meant the edge (common practice, no source)."""


def lay_lines(blank: Blank, lines: Sequence[Said[DrawnLine]], ledger: Ledger) -> tuple[Drawn, ...]:
    """Every line of the long form; its coordinates go to the ledger, equal to a score or size they lie on."""
    known = _known_places(blank, ledger)
    drawn: list[Drawn] = []
    by_number: dict[int, Drawn] = {}
    for number, said in enumerate(lines, 1):
        line = said.value
        laid = (_points(blank, said, box, by_number, ledger) for box in _boxes(blank, said, ledger))
        first = [points for points in laid if points is not None]
        _note_coordinates(blank.piece, number, line, known, ledger)
        copies = _on_the_piece(blank, number, said, first, ledger)
        off = any(not (0 <= x <= blank.width and 0 <= y <= blank.height) for points in copies for x, y in points)
        arcs = (line.arc and len(points) == 3 for points in copies)
        found = [
            Drawn(line.kind, points, arc, off, number, line.angle) for points, arc in zip(copies, arcs, strict=True)
        ]
        by_number |= {number: found[0]} if found else {}
        drawn += found
    return tuple(drawn)


def _on_the_piece(
    blank: Blank, number: int, said: Said[DrawnLine], laid: Sequence[tuple[ExactPoint, ...]], ledger: Ledger
) -> list[tuple[ExactPoint, ...]]:
    """Every copy of a line. One that leaves the piece is told, once; of a repeated line, how many stay."""
    line = said.value
    times = [tuple(_onto_the_edge(blank, point) for point in points) for points in laid]
    copies = list(times)
    if line.repeat:
        copies = [
            tuple(_onto_the_edge(blank, point) for point in points)
            for shift in shifts(line.repeat)
            for points in (tuple((x + shift[0], y + shift[1]) for x, y in one) for one in times)
        ]
        note_repeat(blank.piece, "line", number, line.repeat, ledger)
    staying = [all(0 <= x <= blank.width and 0 <= y <= blank.height for x, y in points) for points in copies]
    if not all(staying):
        if line.repeat and all(staying[: len(times)]):
            fits = staying.index(False) // max(1, len(times))
            facts = {"kind": line.kind, "fits": fits, "count": line.repeat.times}
            ledger.misfit("lines-repeated-off-the-piece", said.place, piece=blank.piece, **facts)
        else:
            ledger.misfit("line-off-the-piece", said.place, piece=blank.piece, kind=line.kind)
    if line.mirrored:
        copies += [tuple((blank.width - x, y) for x, y in points) for points in copies]
    return copies


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


def _boxes(blank: Blank, said: Said[DrawnLine], ledger: Ledger) -> Iterator[Box]:
    """Whatever a line is measured on: the piece, or each of its panels."""
    if not said.value.every_panel:
        yield Fraction(0), Fraction(0), blank.width, blank.height
    elif not blank.made:
        yield from ((column.start, row.start, column.long, row.long) for row in blank.down for column in blank.across)
    else:
        panels = every_panel(blank)
        if not panels:
            tell_which_panels(blank, said.place, ledger)
        yield from ((panel.left, panel.top, panel.wide, panel.high) for panel in panels)


def _points(
    blank: Blank, said: Said[DrawnLine], box: Box, lines: Lines, ledger: Ledger
) -> tuple[ExactPoint, ...] | None:
    left, top = box[:2]
    points: list[ExactPoint] = []
    for point in said.value.points:
        if not isinstance(point, PlaceBeside):
            points.append((left + point[0].mm, top + point[1].mm))
            continue
        named = place_on(blank, point, box, lines)
        if named is None:
            tell_no_place(blank, point.of, said.place, lines, ledger)
            return None
        points.append(named)
    return tuple(points)


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
        if isinstance(point, PlaceBeside):
            continue
        for side, length in zip(("across", "down"), point, strict=True):
            if length.mm <= 0:
                continue
            name = LengthId(piece, "panel line" if line.every_panel else "line", side, number, f"point {at}")
            if line.repeat:
                _note_copies(name, length, line.repeat, ledger)
            ledger.lengths[name] = Length(length.mm, length.unit)
            same = known.setdefault((side, length.mm), name)
            if same != name and not line.every_panel:
                ledger.relations.append(Sum(name, (same,)))


def _note_copies(first: LengthId, length: Length, repeat: Repeat, ledger: Ledger) -> None:
    """Where the copies of a point come to be: as many times the spacing further along as is printed for it."""
    if first.side != "line" or first.place != repeat.side:
        return
    apart = spacing(first.piece, "line", first.number, repeat)
    for copy in range(1, repeat.times):
        name = replace(first, of=f"{first.of} copy {copy}")
        ledger.lengths[name] = Length(length.mm + copy * repeat.apart.mm, length.unit)
        ledger.relations.append(Sum(name, (first, *(apart,) * copy)))
