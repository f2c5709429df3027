"""Boxes inside boxes, and covers glued round them: what stands above the rim, and a spine that is too narrow."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import permutations

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import Blank, BlankFace, Strip
from foldwright.geometry.flat.inside import TRAYS
from foldwright.geometry.flat.panels import faces_called, plain_name
from foldwright.geometry.together.walls import is_floor
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece, Placement, Recipe

_RULER = Fraction(8, 10)
"""Millimetres: how far two sizes measured with a ruler may differ (half a millimetre or a thirty-second of an inch)."""


def check_nesting(recipe: Recipe, blanks: Mapping[str, Blank]) -> Iterator[Finding]:
    """`blanks` by name in small letters."""
    unit = Unit.INCH if recipe.system is Unit.INCH.system else Unit.MILLIMETRE
    covered = {said.value.piece.casefold() for piece in recipe.pieces for said in piece.fits_over}
    covered |= {piece.name.value.casefold() for piece in recipe.pieces if piece.slides_in}
    for piece in recipe.pieces:
        own = blanks.get(piece.name.value.casefold())
        if own is None or own.doubtful:
            continue
        for place, outer in _inside_of(piece, own, blanks):
            yield from _above_the_rim(own, outer, outer.piece.casefold() in covered, place, unit)
        yield from _too_narrow(piece, own, blanks, unit)


def _inside_of(piece: Piece, own: Blank, blanks: Mapping[str, Blank]) -> Iterator[tuple[Place, Blank]]:
    """Every box that a box stands in: glued to its floor, laid on it, or slid into it."""
    floor = {"", plain_name(own.across[1].called), plain_name(own.down[1].called), "floor"} if own.boxed else set()
    glued = [(said.place, said.value.to) for said in piece.glued if plain_name(said.value.own_panel) in floor]
    others = [(said.place, said.value) for said in (*piece.goes_on, *piece.slides_in)]
    goals: list[tuple[Place, Placement]] = [*glued, *others]
    for place, goal in goals:
        outer = blanks.get(goal.piece.casefold())
        if outer is None or outer.doubtful or not (own.boxed and outer.boxed and {own.form, outer.form} <= TRAYS):
            continue
        if goal.face != "outside" and (
            not goal.panel or any(is_floor(outer, face) for face in faces_called(outer, goal.panel))
        ):
            yield place, outer


def _above_the_rim(inner: Blank, outer: Blank, shut: bool, place: Place, unit: Unit) -> Iterator[Finding]:
    """Its highest wall against the lowest of the other; a lid then does not close."""
    high = max(strip.long for strip in _walls(inner))
    low = min(strip.long for strip in _walls(outer))
    if high > low + _RULER:
        lengths = {"high": Length(high, unit), "low": Length(low, unit), "over": Length(high - low, unit)}
        code = "inner-keeps-the-lid-open" if shut else "inner-stands-above"
        strength = Strength.MISFIT if shut else Strength.THOUGHT
        yield Finding.of(code, strength, place, piece=inner.piece, outer=outer.piece, **lengths)


def _walls(blank: Blank) -> tuple[Strip, ...]:
    return blank.across[0], blank.across[-1], blank.down[0], blank.down[-1]


def _too_narrow(piece: Piece, own: Blank, blanks: Mapping[str, Blank], unit: Unit) -> Iterator[Finding]:
    """A panel between two folds that is glued to a wider wall of a box: those beside it cannot lie along the box."""
    row = own.across if len(own.across) > 1 else own.down
    if own.boxed or len(row) < 3 or own.faces:
        return
    for said in piece.glued:
        under = blanks.get(said.value.to.piece.casefold())
        mine = faces_called(own, said.value.own_panel) if said.value.own_panel else ()
        if under is None or under.doubtful or not under.boxed or len(mine) != 1:
            continue
        faces = faces_called(under, said.value.to.panel) if said.value.to.panel else ()
        strip = mine[0].across if row is own.across else mine[0].down
        if len(faces) != 1 or strip not in {one.length for one in row[1:-1]}:
            continue
        narrow, wide = _widths(mine[0], faces[0], row is own.across)
        if wide > narrow + _RULER:
            lengths = {"narrow": Length(narrow, unit), "wide": Length(wide, unit), "over": Length(wide - narrow, unit)}
            names = {"piece": own.piece, "panel": said.value.own_panel, "under": under.piece}
            other = said.value.to.panel
            yield Finding.of("glued-panel-too-narrow", Strength.MISFIT, said.place, other=other, **names, **lengths)


def _widths(mine: BlankFace, its: BlankFace, across: bool) -> tuple[Fraction, Fraction]:
    """How wide the panel is from fold to fold, and the wall the same way: lying with their lengths most alike."""
    narrow, long = (mine.wide, mine.high) if across else (mine.high, mine.wide)
    wide, _ = min(permutations((its.wide, its.high)), key=lambda pair: abs(pair[1] - long))
    return narrow, wide
