"""What the cutting plan leaves nothing to do of: the pieces come to the table cut to size."""

from __future__ import annotations

from collections.abc import Iterator

from foldwright.geometry.flat import Flat
from foldwright.recipe.model import Recipe, Step


def pieces_cut(recipe: Recipe, flat: Flat) -> frozenset[str]:
    """The pieces that straight cuts make out of sheets, whole: those with a free outline, holes or lines are not."""
    sheets = {supply.name.value.casefold() for supply in recipe.supplies if supply.sheets}
    laid = {blank.piece for blank in flat.blanks if blank.width > 0 and blank.height > 0}
    return frozenset(
        piece.name.value
        for piece in recipe.pieces
        if piece.name.value in laid
        and piece.supply is not None
        and piece.supply.value.casefold() in sheets
        and not (piece.outline or piece.flaps or piece.holes or piece.lines or piece.corners)
    )


def steps_cut(recipe: Recipe, flat: Flat) -> frozenset[int]:
    """Numbers of the steps of which nothing is left when the cutting plan was carried out: only such pieces are cut."""
    cut = pieces_cut(recipe, flat)
    return frozenset(step.number for step in recipe.steps if step.doings and all(_done(step, cut)))


def _done(step: Step, cut: frozenset[str]) -> Iterator[bool]:
    for doing in step.doings:
        yield doing.act == "cut" and bool(doing.subjects) and cut.issuperset(doing.subjects)
