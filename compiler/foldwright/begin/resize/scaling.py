"""A recipe larger or smaller as a whole."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from fractions import Fraction

from msgspec.structs import replace

from foldwright.begin.draft.model import DraftNote
from foldwright.begin.resize.bought import used, uses_told
from foldwright.begin.resize.growth import Growth
from foldwright.begin.resize.model import Resized
from foldwright.begin.resize.resizing import Resizing
from foldwright.geometry.pieces import Flat
from foldwright.measure.length import Length
from foldwright.recipe.model import Piece, Recipe


def ways_scaled(recipe: Recipe, flat: Flat, scale: Fraction, step: Length) -> Iterator[Resized]:
    """The recipe `scale` times as large, every scaled number the nearest multiple of the step; then with the pieces not
    rounded that have lines drawn on them or are woven: rounded one by one, their numbers may no longer go together."""
    yield scaled(recipe, flat, scale, step)
    woven = {said.value.piece.casefold() for piece in recipe.pieces for said in piece.woven_with}
    names = ((piece, piece.name.value) for piece in recipe.pieces)
    exactly = [name for piece, name in names if piece.lines or piece.woven_with or name.casefold() in woven]
    if scale != 1 and exactly:
        yield scaled(recipe, flat, scale, step, exactly)


def scaled(recipe: Recipe, flat: Flat, scale: Fraction, step: Length, exactly: Collection[str] = ()) -> Resized:
    """The recipe in one of these ways."""
    growth = Growth(scale, step)
    held = {said.value.casefold() for piece in recipe.pieces for said in piece.holds}
    kept = [one.name.value for one in recipe.supplies if one.name.value.casefold() in held and one.size]
    supplies = tuple(used(supply, scale) for supply in recipe.supplies)
    resized = Resizing(recipe, flat, growth, supplies, exactly=exactly).result()
    notes = [*uses_told(recipe.supplies, supplies), *(DraftNote.of("held-as-it-is", thing=name) for name in kept)]
    notes += [DraftNote.of("alone", piece=name, things=tuple(kept)) for name in alone(recipe)] if kept else []
    return replace(resized, notes=(*resized.notes, *notes))


def alone(recipe: Recipe) -> Iterator[str]:
    """Pieces that nothing is said of but their size, where there are others: they may belong to what is held."""
    tied = {name.casefold() for piece in recipe.pieces for name in _named_by(piece)}
    together = {
        subject.casefold()
        for step in recipe.steps
        for doing in step.doings
        if doing.act not in ("cut", "score") and len(doing.subjects) > 1
        for subject in doing.subjects
    }
    for piece in recipe.pieces:
        name = piece.name.value
        if not piece.fold and not piece.holds and name.casefold() not in tied | together and len(recipe.pieces) > 1:
            yield name


def _named_by(piece: Piece) -> Iterator[str]:
    """The pieces and supplies that a piece names as its partners; its own name too, if there are any."""
    placed = (*piece.goes_on, *piece.goes_round, *piece.fits_over, *piece.slides_in, *piece.woven_with)
    names = [said.value.piece for said in placed] + [said.value.to.piece for said in piece.glued]
    names += [said.value.other for said in (piece.relative, piece.inside_relative) if said]
    yield from (*names, piece.name.value) if names else ()
