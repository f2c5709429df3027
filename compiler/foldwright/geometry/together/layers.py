"""What a layer is laid over that it should not be: a fold, a hole, the edge of what it lies on.

A layer on a panel that is named may reach over its fold, as the cover of a concertina does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import pairwise, permutations

from msgspec import Struct

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import Blank, BlankFace, Opening
from foldwright.geometry.flat.panels import faces_called, looked_at, whole_face
from foldwright.geometry.flat.rows import GLUE_FLAP
from foldwright.geometry.flat.silhouettes import footprint
from foldwright.geometry.flat.wrapping import wraps_of
from foldwright.geometry.together.mating import Lying, read_lying
from foldwright.geometry.together.openings import see_through
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece, Placement, Recipe, Said

_RULER = Fraction(8, 10)
"""Millimetres: how far two sizes measured with a ruler may differ (half a millimetre or a thirty-second of an inch)."""
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
    panes = see_through(recipe)
    for piece in recipe.pieces:
        layer = blanks.get(piece.name.value.casefold())
        for said in () if wraps_of(piece, recipe) else piece.goes_on:
            under = blanks.get(said.value.piece.casefold())
            if layer is not None and under is not None and not layer.doubtful and not under.doubtful:
                yield from _check(piece, layer, under, said, unit, layer.piece in panes)
        if layer is not None and not layer.doubtful:
            yield from _stuck_over_the_edge(piece, layer, blanks, unit)


def _check(
    piece: Piece, layer: Blank, under: Blank, said: Said[Placement], unit: Unit, pane: bool
) -> Iterator[Finding]:
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
        if hidden and said.value.face != "inside" and not layer.openings and not pane:
            yield Finding.of("layer-over-opening", Strength.THOUGHT, said.place, **names, shape=hidden[0].shape)


def _both_ways_up(lying: Lying) -> tuple[Lying, Lying]:
    """As it is said, and the other way up: the bottom of a wall that stands may be its top edge on the blank."""
    turned = tuple((_OPPOSITE[edge] if edge in ("top", "bottom") else edge, by) for edge, by in lying.edges)
    return lying, Lying(lying.centred, turned)


def _area(layer: Blank, face: BlankFace, lying: Lying) -> _Area:
    own = footprint(layer)
    wide, high = own.right - own.left, own.bottom - own.top
    left = face.left + (face.right - face.left - wide) / 2
    top = face.top + (face.bottom - face.top - high) / 2
    for edge, by in lying.edges:
        off = by.mm if by else Fraction(0)
        left = {"left": face.left + off, "right": face.right - off - wide}.get(edge, left)
        top = {"top": face.top + off, "bottom": face.bottom - off - high}.get(edge, top)
    return _Area(left, left + wide, top, top + high)


def _fold_under(area: _Area, under: Blank) -> tuple[str, str] | None:
    """The first two panels of a row that the layer would hold together across the fold between them."""
    if not under.form:
        return None
    for strips, start, end in ((under.across, area.left, area.right), (under.down, area.top, area.bottom)):
        for number, (one, other) in enumerate(pairwise(strips), 1):
            if start < one.end < end:
                return one.name or one.role or str(number), other.name or other.role or str(number + 1)
    return None


def _overhangs(layer: Blank, face: BlankFace, place: Place, unit: Unit, names: Mapping[str, str]) -> Iterator[Finding]:
    """Larger than what it lies on, and nobody says how it lies: a cover that is centred is meant to stand over."""
    own = footprint(layer)
    wide, high = own.right - own.left, own.bottom - own.top
    over = max(wide - (face.right - face.left), high - (face.bottom - face.top))
    if over > 0:
        yield Finding.of("layer-overhangs", Strength.THOUGHT, place, **names, over=Length(over / 2, unit))


# --- what is glued on -----------------------------------------------------------------------------------------------


def _stuck_over_the_edge(piece: Piece, own: Blank, blanks: Mapping[str, Blank], unit: Unit) -> Iterator[Finding]:
    """A panel that is glued whole to a smaller one stands over its edge. A glue flap is smaller by its nature."""
    for said in piece.glued:
        under = blanks.get(said.value.to.piece.casefold())
        if under is None or under.doubtful:
            continue
        mine, its = _face(own, said.value.own_panel), _face(under, said.value.to.panel)
        if mine is None or its is None:
            continue
        over = min(
            max(wide - (its.right - its.left), high - (its.bottom - its.top))
            for wide, high in permutations((mine.right - mine.left, mine.bottom - mine.top))
        )
        if over > _RULER:
            yield Finding.of(
                "glued-over-the-edge",
                # The walls of a box hold it together: what stands over there keeps it from closing.
                Strength.MISFIT if own.boxed else Strength.THOUGHT,
                said.place,
                piece=own.piece,
                panel=said.value.own_panel,
                under=under.piece,
                other=said.value.to.panel,
                **_sides("", mine, unit),
                **_sides("its_", its, unit),
                over=Length(over, unit),
            )


def _face(blank: Blank, panel: str) -> BlankFace | None:
    """The one panel that is meant; of a piece that folds, none when none is named, nor a glue flap."""
    if not panel:
        return whole_face(blank) if not blank.form and len(blank.across) == len(blank.down) == 1 else None
    faces = faces_called(blank, panel)
    return faces[0] if len(faces) == 1 and panel.casefold() != GLUE_FLAP else None


def _sides(prefix: str, face: BlankFace, unit: Unit) -> dict[str, object]:
    wide, high = face.right - face.left, face.bottom - face.top
    return {f"{prefix}across": Length(wide, unit), f"{prefix}down": Length(high, unit)}
