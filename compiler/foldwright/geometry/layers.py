"""What a layer is laid over that it should not be: a fold, a hole, the edge of what it lies on.

A layer on a panel that is named may reach over its fold, as the cover of a concertina does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.blank import Blank, Face, Opening
from foldwright.geometry.mating import Lying, read_lying
from foldwright.geometry.panels import faces_called, looked_at
from foldwright.geometry.wrapping import wraps_of
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece, Placement, Recipe, Said

_OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}


class _Area(Struct, frozen=True):
    left: Fraction
    right: Fraction
    top: Fraction
    bottom: Fraction

    def covers(self, opening: Opening) -> bool:
        """Whether any of the opening lies under it."""
        across = min(self.right, opening.left + opening.width) - max(self.left, opening.left)
        down = min(self.bottom, opening.top + opening.height) - max(self.top, opening.top)
        return across > 0 and down > 0


def check_layers(recipe: Recipe, blanks: Mapping[str, Blank]) -> Iterator[Finding]:
    """Thoughts about everything that `goes on` something; `blanks` by name in small letters."""
    unit = Unit.INCH if recipe.system is Unit.INCH.system else Unit.MILLIMETRE
    for piece in recipe.pieces:
        layer = blanks.get(piece.name.value.casefold())
        for said in () if wraps_of(piece, recipe) else piece.goes_on:
            under = blanks.get(said.value.piece.casefold())
            if layer is not None and under is not None and not layer.doubtful and not under.doubtful:
                yield from _check(piece, layer, under, said, unit)


def _check(piece: Piece, layer: Blank, under: Blank, said: Said[Placement], unit: Unit) -> Iterator[Finding]:
    faces = faces_called(under, said.value.panel) if said.value.panel else (looked_at(under),)
    lying = read_lying(said.value.remark)
    names = {"piece": layer.piece, "under": under.piece}
    for face in faces[:1]:
        areas = [_area(layer, face, one) for one in _both_ways_up(lying)]
        folds = [] if said.value.panel else [_fold_under(area, under) for area in areas]
        if all(folds) and (fold := next(iter(folds), None)):
            yield Finding.of("layer-across-fold", Strength.THOUGHT, said.place, **names, one=fold[0], other=fold[1])
        elif piece.relative is None and not said.value.remark:
            yield from _overhangs(layer, face, said.place, unit, names)
        hidden = [one for one in under.openings if all(area.covers(one) for area in areas)]
        if hidden and said.value.face != "inside" and not layer.openings:
            yield Finding.of("layer-over-opening", Strength.THOUGHT, said.place, **names, shape=hidden[0].shape)


def _both_ways_up(lying: Lying) -> tuple[Lying, Lying]:
    """As it is said, and the other way up: the bottom of a wall that stands may be its top edge on the blank."""
    turned = tuple((_OPPOSITE[edge] if edge in ("top", "bottom") else edge, by) for edge, by in lying.edges)
    return lying, Lying(lying.centred, turned)


def _area(layer: Blank, face: Face, lying: Lying) -> _Area:
    left = face.left + (face.right - face.left - layer.width) / 2
    top = face.top + (face.bottom - face.top - layer.height) / 2
    for edge, by in lying.edges:
        off = by.mm if by else Fraction(0)
        left = {"left": face.left + off, "right": face.right - off - layer.width}.get(edge, left)
        top = {"top": face.top + off, "bottom": face.bottom - off - layer.height}.get(edge, top)
    return _Area(left, left + layer.width, top, top + layer.height)


def _fold_under(area: _Area, under: Blank) -> tuple[str, str] | None:
    """The first two panels of a row that the layer would hold together across the fold between them."""
    if not under.form:
        return None
    for strips, start, end in ((under.across, area.left, area.right), (under.down, area.top, area.bottom)):
        for number, (one, other) in enumerate(pairwise(strips), 1):
            if start < one.end < end:
                return one.name or one.role or str(number), other.name or other.role or str(number + 1)
    return None


def _overhangs(layer: Blank, face: Face, place: Place, unit: Unit, names: Mapping[str, str]) -> Iterator[Finding]:
    """Larger than what it lies on, and nobody says how it lies: a cover that is centred is meant to stand over."""
    over = max(layer.width - (face.right - face.left), layer.height - (face.bottom - face.top))
    if over > 0:
        yield Finding.of("layer-overhangs", Strength.THOUGHT, place, **names, over=Length(over / 2, unit))
