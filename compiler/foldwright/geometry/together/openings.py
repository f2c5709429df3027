"""Openings and what is meant to close them, or must not lie over them: panes and patches, and areas of glue."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import Blank, BlankFace, Opening
from foldwright.geometry.flat.panels import faces_called, looked_at
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece, Recipe, Supply
from foldwright.vocabulary import kind_of

_SEE_THROUGH = frozenset({"clear sheet", "vellum"})
_SPECK = 1.0
"""Square millimetres: less glue than this over an opening is nobody's slip (common practice, no source)."""


def check_openings(recipe: Recipe, blanks: Mapping[str, Blank]) -> Iterator[Finding]:
    """`blanks` by name in small letters."""
    unit = Unit.INCH if recipe.system is Unit.INCH.system else Unit.MILLIMETRE
    panes = see_through(recipe)
    for piece in recipe.pieces:
        blank = blanks.get(piece.name.value.casefold())
        if blank is None or blank.doubtful:
            continue
        for place, under, openings in _behind(piece, recipe, blanks, blank.piece in panes):
            yield from _too_small(blank, under, openings, blank.piece in panes, place, unit)
        yield from _glued_over(piece, blank)


def see_through(recipe: Recipe) -> frozenset[str]:
    """The pieces that are cut from what one sees through: they are made to lie over openings."""
    supplies = {supply.name.value.casefold(): supply for supply in recipe.supplies}
    return frozenset(
        piece.name.value
        for piece in recipe.pieces
        if piece.supply and _is_clear(supplies.get(piece.supply.value.casefold()))
    )


def _is_clear(supply: Supply | None) -> bool:
    kind = kind_of(supply.kind.value if supply.kind else supply.name.value) if supply else None
    return kind is not None and kind.name in _SEE_THROUGH


def _behind(
    piece: Piece, recipe: Recipe, blanks: Mapping[str, Blank], clear: bool
) -> Iterator[tuple[Place, Blank, list[Opening]]]:
    """Where a piece lies that has openings; of a pane whose facts do not say, what the steps stick it to."""
    for said in piece.goes_on:
        under = blanks.get(said.value.piece.casefold())
        if under is not None and not under.doubtful:
            faces = faces_called(under, said.value.panel) if said.value.panel else (looked_at(under),)
            openings = [one for one in under.openings if any(_middle_in(one, face) for face in faces)]
            yield (piece.size or said).place, under, openings
    if piece.goes_on or not clear:
        return
    name = piece.name.value
    beside = (doing.subjects for step in recipe.steps for doing in step.doings if name in doing.subjects)
    for other in dict.fromkeys(subject for subjects in beside for subject in subjects if subject != name):
        under = blanks.get(other.casefold())
        if under is not None and not under.doubtful:
            yield (piece.size or piece.name).place, under, list(under.openings)


def _middle_in(opening: Opening, face: BlankFace) -> bool:
    x, y = opening.left + opening.width / 2, opening.top + opening.height / 2
    return face.left <= x <= face.right and face.top <= y <= face.bottom


def _too_small(
    layer: Blank, under: Blank, openings: list[Opening], clear: bool, place: Place, unit: Unit
) -> Iterator[Finding]:
    """A pane that leaves a part of every opening open, or a patch that falls through each of them."""
    if not openings or any(_closes(layer, one, clear) for one in openings):
        return
    nearest = min(openings, key=lambda one: abs(one.width - layer.width) + abs(one.height - layer.height))
    yield Finding.of(
        "layer-smaller-than-opening",
        Strength.MISFIT,
        place,
        piece=layer.piece,
        under=under.piece,
        shape=nearest.shape,
        across=Length(layer.width, unit),
        down=Length(layer.height, unit),
        wide=Length(nearest.width, unit),
        high=Length(nearest.height, unit),
    )


def _closes(layer: Blank, opening: Opening, clear: bool) -> bool:
    """Lying either way. What lets nobody look through need only hold on by one pair of edges."""
    sides = layer.width, layer.height
    for wide, high in (sides, sides[::-1]):
        larger = wide > opening.width, high > opening.height
        if all(larger) or (not clear and (any(larger) or (wide, high) == (opening.width, opening.height))):
            return True
    return False


def _glued_over(piece: Piece, blank: Blank) -> Iterator[Finding]:
    """Areas of glue across an opening: the glue has nothing to go on there, and what shows through sticks."""
    areas = [one for one in blank.drawn if one.kind == "glue area" and len(one.points) > 2 and not one.doubtful]
    if not areas or not blank.openings:
        return
    from shapely.geometry import Polygon

    from foldwright.geometry.flat.lines import opening_outline

    told: set[int] = set()
    for area in areas:
        glue = Polygon([(float(x), float(y)) for x, y in area.points]).buffer(0)
        for opening in blank.openings:
            if area.number not in told and glue.intersection(Polygon(opening_outline(opening))).area > _SPECK:
                told.add(area.number)
                where = piece.lines[area.number - 1].place if area.number else piece.name.place
                yield Finding.of("glue-over-opening", Strength.MISFIT, where, piece=blank.piece, shape=opening.shape)
