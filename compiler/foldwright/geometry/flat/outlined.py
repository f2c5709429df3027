"""Free outlines of pieces: shapes known by name, and lines from files, fitted to the size of the piece."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, ExactPoint
from foldwright.geometry.flat.ledger import Ledger
from foldwright.geometry.flat.points import floats, kept
from foldwright.geometry.outlines.shapes import spots_of
from foldwright.geometry.outlines.svg import Outline
from foldwright.geometry.scene import Point
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece, Said

_ASKEW = 0.005
"""How much, as a part, an outline's proportions may differ from those of the size: the last figure of either."""


def with_outline(blank: Blank, piece: Piece, drawn: Outline | None, ledger: Ledger) -> Blank:
    """The blank cut to its outline. One that does not fit its size is told, and the blank stays a rectangle."""
    if piece.outline is None or blank.round:
        return blank
    wide, high = float(blank.width), float(blank.height)
    if drawn is None:
        points = spots_of(piece.outline.value, wide, high)
        return replace(blank, outline=_exact(points, blank, 1.0, 1.0)) if points else blank
    if abs((drawn.width / wide) / (drawn.height / high) - 1) > _ASKEW:
        _tell_askew(piece, piece.outline, blank, drawn, ledger)
        return blank
    across, down = wide / drawn.width, high / drawn.height
    outline = _exact(drawn.points, blank, across, down)
    inner = tuple(_exact(ring, blank, across, down) for ring in drawn.inner)
    if not _goes_round(outline, inner):
        place = piece.outline.place
        ledger.misfit("outline-too-fine", place, piece=piece.name.value, file=piece.outline.value)
        return blank
    return replace(blank, outline=outline, inner=inner)


def _goes_round(outline: tuple[ExactPoint, ...], inner: tuple[tuple[ExactPoint, ...], ...]) -> bool:
    """Whether the lines still keep clear of themselves and of one another, now that they have their size."""
    from shapely.geometry import Polygon

    rings = [floats(ring) for ring in (outline, *inner)]
    return all(len(ring) > 2 for ring in rings) and bool(Polygon(rings[0], rings[1:]).is_valid)


def size_of(drawn: Outline) -> tuple[Length, Length]:
    """An outline's own size, for a piece that gives none."""
    return kept_length(drawn.width, Unit.MILLIMETRE), kept_length(drawn.height, Unit.MILLIMETRE)


def kept_length(mm: float, unit: Unit) -> Length:
    """A place in millimetres as a length, kept to the thousandth."""
    return Length(kept(mm), unit)


def proportion_of(shape: str) -> float:
    """How high a shape known by name is as a part of its width: that of a regular hexagon, or a square."""
    return 3**0.5 / 2 if shape.casefold().strip() == "hexagon" else 1.0


def _tell_askew(piece: Piece, said: Said[str], blank: Blank, drawn: Outline, ledger: Ledger) -> None:
    unit = next((length.unit for name, length in ledger.lengths.items() if name.piece == blank.piece), Unit.MILLIMETRE)
    fits = kept_length(float(blank.width) * drawn.height / drawn.width, unit)
    size = Length(blank.width, unit), Length(blank.height, unit)
    ledger.misfit(
        "outline-askew", said.place, piece=piece.name.value, file=said.value, across=size[0], down=size[1], fits=fits
    )


def _exact(points: Sequence[Point], blank: Blank, across: float, down: float) -> tuple[ExactPoint, ...]:
    def inside(place: float, most: Fraction) -> Fraction:
        return min(max(kept(place), Fraction(0)), most)

    spots = [(inside(x * across, blank.width), inside(y * down, blank.height)) for x, y in points]
    return tuple(spot for spot, before in zip(spots, (spots[-1], *spots), strict=False) if spot != before)
