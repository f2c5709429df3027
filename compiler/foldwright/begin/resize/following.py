"""What a piece follows: another that it goes over, round, into or onto, and panels that follow one another in a row."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from fractions import Fraction

from foldwright.begin.resize.growth import Growth, on_ruler
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, Strip
from foldwright.geometry.flat.panels import split_place
from foldwright.geometry.flat.silhouettes import footprint
from foldwright.geometry.flat.wrapping import girths_by_name, is_lap, walls_by_name, way_said, wraps_of
from foldwright.geometry.lengths import LengthId
from foldwright.geometry.pieces import Flat
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece, Placement, Recipe, Said, Supply

_SLIGHT = Fraction(2)
"""Millimetres: panels that differ by no more are meant to be alike but for what folding takes (a reasoned guess)."""
_SLIGHT_PART = Fraction(1, 20)
"""And by no more than this part of them."""
_WALL = Fraction(4)
"""Millimetres: how much wider at most a panel of a band is than the side it lies on (a reasoned guess)."""
_WIDEST_FLAP = Fraction(26)
"""Millimetres, about an inch: a last panel that is wider is no glue flap (a reasoned guess)."""
_BODY = 3
"""A flap round a body that is no wider than this part of it is glued, and does not close it (a reasoned guess)."""
_WALLS = 3
"""So many walls at least go round."""

type Led = Mapping[LengthId, Fraction]
"""By how much a length is longer now (mm), since what it follows is."""


def leaders_of(piece: Piece, flat: Flat, recipe: Recipe) -> Iterator[str]:
    """The pieces, by name, whose sizes must be known before that of this one."""
    name = piece.name.value
    yield from (gap.inner.piece for gap in flat.gaps if gap.outer.piece == name)
    yield from (said.value.piece for said in (*piece.goes_on, *wraps_of(piece, recipe), *_over(piece)))
    for relative in (piece.relative, piece.inside_relative):
        split = split_place(relative.value.other, [one.name.value for one in recipe.pieces]) if relative else None
        yield from split[:1] if split else ()


def _over(piece: Piece) -> Iterator[Said[Placement]]:
    """A sleeve over something flat goes round it."""
    yield from piece.fits_over if piece.fold and piece.fold.value.form == "sleeve" else ()


def stays_with(piece: Piece, recipe: Recipe) -> str:
    """The bought thing that a piece lies on, goes round or fits over, and so keeps the size of; empty when none."""
    names = {one.name.value.casefold() for one in recipe.pieces}
    sized = {one.name.value.casefold(): one.name.value for one in recipe.supplies if one.size}
    placed = (*piece.goes_on, *piece.goes_round, *piece.fits_over)
    found = (sized.get(said.value.piece.casefold(), "") for said in placed if said.value.piece.casefold() not in names)
    return next(filter(None, found), "")


# --- round other things -----------------------------------------------------------------------------------------------


def circled(piece: Piece, blank: Blank, recipe: Recipe, changed: Recipe, before: Flat, now: Flat) -> Led:
    """A band: as much longer as it is further round what it goes round; its panels as the walls they lie on are."""
    led: dict[LengthId, Fraction] = {}
    for said in wraps_of(piece, recipe) or _over(piece):
        name, remark = said.value.piece.casefold(), said.value.remark
        old, new = (_girths(name, known, flat, blank.count) for known, flat in ((recipe, before), (changed, now)))
        side = "across" if len(blank.across) > 1 or (len(blank.down) == 1 and blank.width >= blank.height) else "down"
        strips = blank.across if side == "across" else blank.down
        round_ = [strip for strip in strips if not is_lap(strip.name)]
        way = way_said(remark, old) or _way_round(blank.piece, name, old, before)
        if way not in new:
            continue
        if len(round_) == 1:
            led[round_[0].length] = new[way] - old[way]
            continue
        walls = [_walls(name, known, flat).get(way, ()) for known, flat in ((recipe, before), (changed, now))]
        for strip in round_:
            near = min(zip(*walls, strict=True), key=lambda pair: abs(strip.long - pair[0]), default=None)
            if near and abs(strip.long - near[0]) <= _WALL:
                led[strip.length] = near[1] - near[0]
    return led


def _way_round(band: str, other: str, girths: Mapping[str, Fraction], flat: Flat) -> str:
    """The way a band was found to run where nobody says which: its girth comes nearest to what was measured there."""
    wrap = next((wrap for wrap in flat.wraps if wrap.band == band and wrap.other.casefold() == other), None)
    if wrap is None or not girths:
        return ""
    measured = flat.lengths.by_id[wrap.girth].mm
    return min(girths, key=lambda way: abs(girths[way] - measured))


def _known(recipe: Recipe, flat: Flat) -> tuple[dict[str, Blank], dict[str, Supply]]:
    blanks = {blank.piece.casefold(): blank for blank in flat.blanks}
    return blanks, {supply.name.value.casefold(): supply for supply in recipe.supplies}


def _girths(name: str, recipe: Recipe, flat: Flat, bands: int) -> Mapping[str, Fraction]:
    blanks, supplies = _known(recipe, flat)
    return girths_by_name(name, blanks, flat.cards, supplies, bands)


def _walls(name: str, recipe: Recipe, flat: Flat) -> Mapping[str, tuple[Fraction, ...]]:
    blanks, supplies = _known(recipe, flat)
    return walls_by_name(name, blanks, flat.cards, supplies)


def led_by_drawer(sleeve: Blank, flat: Flat, grown_by: Callable[[LengthId], Fraction]) -> Led:
    """A sleeve that is as long as its drawer's floor stays so, and is as much higher as the drawer is."""
    if sleeve.form != "sleeve" or len(sleeve.down) != 1:
        return {}
    inner = [gap.inner for gap in flat.gaps if gap.outer.piece == sleeve.piece]
    drawers = [drawer for drawer in map(flat.blank, {one.piece for one in inner}) if drawer and drawer.boxed]
    led: dict[LengthId, Fraction] = {}
    for drawer in drawers:
        led[sleeve.across[1].length] = grown_by(drawer.across[0].length)
        # The side of the floor that does not lie in the sleeve's width.
        floors = (drawer.across[1], drawer.down[1])
        along = next((floor for floor in floors if floor.length not in inner), floors[1])
        if abs(along.long - sleeve.height) <= _SLIGHT:
            led[LengthId(sleeve.piece, "down", "size")] = grown_by(along.length)
    return led


# --- along a row ------------------------------------------------------------------------------------------------------


def row_along(
    strips: Sequence[Strip], led: Led, growth: Growth, unit: Unit, flaps: Collection[LengthId] = ()
) -> dict[LengthId, Fraction]:
    """The panels of a row: what is led follows, glue flaps stay, panels that were alike stay alike, and those that
    differ by what folding takes differ by as much; all else is scaled."""
    new: dict[LengthId, Fraction] = {}
    for strip in strips:
        if strip.length in led:
            new[strip.length] = on_ruler(strip.long + led[strip.length], unit, larger=True)
        elif strip.length in flaps:
            new[strip.length] = strip.long
    known = [strip for strip in strips if strip.length in led]
    for number, strip in enumerate(strips):
        if strip.length in new:
            continue
        # The wall opposite comes before others that happened to be as wide.
        opposite = [one for one in strips[: number - 1][-1:] if one in known]
        like = next((one for one in (*opposite, *known) if _alike(one.long, strip.long)), None)
        if like is None:
            new[strip.length] = growth.grown(Length(strip.long, unit)).mm
        else:
            new[strip.length] = new[like.length] + strip.long - like.long
        known.append(strip)
    return new


def leaves_meeting(strips: Sequence[Strip], new: Mapping[LengthId, Fraction]) -> dict[LengthId, Fraction]:
    """The middle of a gate or an envelope whose leaves meet on it: as wide as both of them, but for what it was."""
    if len(strips) != _WALLS:
        return {}
    one, middle, other = strips
    apart = middle.long - one.long - other.long
    return {middle.length: new[one.length] + new[other.length] + apart} if abs(apart) <= _SLIGHT else {}


def _alike(one: Fraction, other: Fraction) -> bool:
    return abs(one - other) <= min(_SLIGHT, _SLIGHT_PART * min(one, other))


def flaps_of(strips: Sequence[Strip], blank: Blank, glued: Collection[str]) -> frozenset[LengthId]:
    """The glue flaps of a row; `glued` are the names of panels that are said to be."""
    own = {strip.length for strip in strips if _is_flap(strip, strips, glued)}
    return frozenset(own | {strip.length for strip in _round_the_body(strips, blank)})


def _is_flap(strip: Strip, strips: Sequence[Strip], glued: Collection[str]) -> bool:
    """By its name, as the narrow panel at either end of walls that go round, or as a narrow tab that is glued."""
    words = strip.name.casefold().split()
    if strip.role == GLUE_FLAP or "glue" in words or words in (["tab"], ["overlap"]):
        return True
    walls = [one.long for one in strips if one is not strip]
    round_ = len(walls) >= _WALLS and (walls[2:] == walls[:-2] or len(set(walls)) == 1)
    if strip.name.casefold() in glued and {"tab", "flap"} & set(words):
        return strip.long <= min(_WIDEST_FLAP, max(walls, default=_WIDEST_FLAP) / 2)
    ends = strip in (strips[0], strips[-1]) and (not words or words[-1] in ("flap", "tab"))
    return ends and round_ and strip.long < min(walls) and strip.long <= _WIDEST_FLAP


def _round_the_body(strips: Sequence[Strip], blank: Blank) -> Iterator[Strip]:
    """The narrow flaps round the front of a pocket, or round the body of an envelope, whose corners go."""
    body = footprint(blank) if not blank.boxed else None
    whole = body is None or (body.wide == blank.width and body.high == blank.height)
    if not blank.corners_removed or blank.made or (whole and blank.form != "envelope"):
        return
    widest = max(strips, key=lambda strip: strip.long)
    for strip in strips:
        if strip is not widest and strip.long <= min(_WIDEST_FLAP, widest.long / _BODY):
            yield strip
