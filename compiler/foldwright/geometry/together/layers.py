"""What a layer is laid over: a fold, a hole, the edge of what it lies on; and what is meant to close an opening.

A layer on a panel that is named may reach over its fold, as the cover of a concertina does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import pairwise, permutations

from msgspec.structs import replace

from foldwright.finding import Finding, Place, Strength
from foldwright.geometry.flat.blank import GLUE_FLAP, Blank, BlankFace, Opening
from foldwright.geometry.flat.panels import faces_called, faces_meant, whole_face
from foldwright.geometry.flat.points import floats
from foldwright.geometry.flat.silhouettes import footprint
from foldwright.geometry.flat.wrapping import wraps_of
from foldwright.geometry.together.lying import Lying, read_lying
from foldwright.geometry.together.sliding import slides_along
from foldwright.measure.length import Length, Unit
from foldwright.recipe.model import Piece, Placement, Recipe, Said, Supply
from foldwright.vocabulary import kind_of

_RULER = Fraction(8, 10)
"""Millimetres: how far two sizes measured with a ruler may differ (half a millimetre or a thirty-second of an inch)."""
_OTHER_WAY_UP = {"top": "bottom", "bottom": "top"}


def check_layers(recipe: Recipe, blanks: Mapping[str, Blank]) -> Iterator[Finding]:
    """Thoughts about everything that `goes on` something; `blanks` by name in small letters."""
    unit = Unit.INCH if recipe.system is Unit.INCH.system else Unit.MILLIMETRE
    panes = see_through(recipe)
    tracks = {said.value.piece.casefold() for piece in recipe.pieces for said in piece.slides_in}
    for piece in recipe.pieces:
        layer = blanks.get(piece.name.value.casefold())
        for said in () if wraps_of(piece, recipe) else piece.goes_on:
            under = blanks.get(said.value.piece.casefold())
            if layer is not None and under is not None and not layer.doubtful and not under.doubtful:
                # What rides on a pull stands in front of the slot the pull runs in.
                lets_show = layer.piece in panes or under.piece.casefold() in tracks
                yield from _check(piece, layer, under, said, unit, lets_show)
        if layer is not None and not layer.doubtful:
            yield from _stuck_over_the_edge(piece, layer, blanks, unit)


def _check(
    piece: Piece, layer: Blank, under: Blank, said: Said[Placement], unit: Unit, pane: bool
) -> Iterator[Finding]:
    faces = faces_meant(under, said.value.panel)
    lying = read_lying(said.value.remark)
    names = {"piece": layer.piece, "under": under.piece}
    for face in faces[:1]:
        areas = [_area(layer, face, one) for one in _both_ways_up(lying)]
        folds = [] if said.value.panel else [_fold_under(area, under) for area in areas]
        if all(folds) and (fold := next(iter(folds), None)):
            yield Finding.of("layer-across-fold", Strength.THOUGHT, said.place, **names, one=fold[0], other=fold[1])
        elif piece.relative is None and not said.value.remark and not layer.turned_in:
            yield from _overhangs(layer, face, said.place, unit, names)
        openings = [one for one in under.openings if not slides_along(layer, one)]
        hidden = [one for one in openings if all(_covers(area, one) for area in areas)]
        if hidden and said.value.face != "inside" and not layer.openings and not pane:
            yield Finding.of("layer-over-opening", Strength.THOUGHT, said.place, **names, shape=hidden[0].shape)


def _both_ways_up(lying: Lying) -> tuple[Lying, Lying]:
    """As it is said, and the other way up: the bottom of a wall that stands may be its top edge on the blank."""
    return lying, Lying(tuple((_OTHER_WAY_UP.get(edge, edge), by) for edge, by in lying.edges))


def _area(layer: Blank, face: BlankFace, lying: Lying) -> BlankFace:
    """Where on the blank below a layer on that face comes to lie."""
    own = footprint(layer)
    wide, high = own.wide, own.high
    left, top = face.left + (face.wide - wide) / 2, face.top + (face.high - high) / 2
    for edge, by in lying.edges:
        off = by.mm if by else Fraction(0)
        left = {"left": face.left + off, "right": face.right - off - wide}.get(edge, left)
        top = {"top": face.top + off, "bottom": face.bottom - off - high}.get(edge, top)
    return replace(own, left=left, right=left + wide, top=top, bottom=top + high)


def _covers(area: BlankFace, opening: Opening) -> bool:
    """Whether any of the opening lies under it."""
    across = min(area.right, opening.left + opening.width) - max(area.left, opening.left)
    down = min(area.bottom, opening.top + opening.height) - max(area.top, opening.top)
    return across > 0 and down > 0


def _fold_under(area: BlankFace, under: Blank) -> tuple[str, str] | None:
    """The first two panels of a row that the layer would hold together across the fold between them."""
    if not under.form:
        return None
    if under.form == "accordion" and _folds_covered(area, under) > 1:
        # What holds several pleats together makes a rosette of them.
        return None
    for strips, start, end in ((under.across, area.left, area.right), (under.down, area.top, area.bottom)):
        for number, (one, other) in enumerate(pairwise(strips), 1):
            if start < one.end < end:
                return one.name or one.role or str(number), other.name or other.role or str(number + 1)
    return None


def _folds_covered(area: BlankFace, under: Blank) -> int:
    across = sum(area.left < strip.end < area.right for strip in under.across[:-1])
    return across + sum(area.top < strip.end < area.bottom for strip in under.down[:-1])


def _overhangs(layer: Blank, face: BlankFace, place: Place, unit: Unit, names: Mapping[str, str]) -> Iterator[Finding]:
    """Larger than what it lies on, and nobody says how it lies: a cover that is centred is meant to stand over."""
    own = footprint(layer)
    over = max(own.wide - face.wide, own.high - face.high)
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
        if mine is None or its is None or _is_cover(own, under):
            continue
        over = min(max(wide - its.wide, high - its.high) for wide, high in permutations((mine.wide, mine.high)))
        if over > _RULER:
            # The walls of a box hold it together: what stands over there keeps it from closing.
            strength = Strength.MISFIT if own.boxed else Strength.THOUGHT
            names = {"panel": said.value.own_panel, "under": under.piece, "other": said.value.to.panel}
            sizes = {"across": mine.wide, "down": mine.high, "its_across": its.wide, "its_down": its.high, "over": over}
            lengths = _lengths(sizes, unit)
            yield Finding.of("glued-over-the-edge", strength, said.place, piece=own.piece, **names, **lengths)


def _is_cover(own: Blank, under: Blank) -> bool:
    """What is folded round a box stands over it on purpose."""
    return under.boxed and not own.boxed and max(len(own.across), len(own.down)) > 1


def _face(blank: Blank, panel: str) -> BlankFace | None:
    """The one panel that is meant; of a piece that folds, none when none is named, nor a glue flap."""
    if not panel:
        return whole_face(blank) if not blank.form and len(blank.across) == len(blank.down) == 1 else None
    faces = faces_called(blank, panel)
    return faces[0] if len(faces) == 1 and panel.casefold() != GLUE_FLAP else None


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
    cut_from = ((piece, supplies.get(piece.supply.value.casefold())) for piece in recipe.pieces if piece.supply)
    return frozenset(piece.name.value for piece, supply in cut_from if _is_clear(supply))


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
            faces = faces_meant(under, said.value.panel)
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
    sizes = {"across": layer.width, "down": layer.height, "wide": nearest.width, "high": nearest.height}
    facts = {"piece": layer.piece, "under": under.piece, "shape": nearest.shape}
    yield Finding.of("layer-smaller-than-opening", Strength.MISFIT, place, **facts, **_lengths(sizes, unit))


def _lengths(sizes: Mapping[str, Fraction], unit: Unit) -> dict[str, object]:
    return {fact: Length(mm, unit) for fact, mm in sizes.items()}


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
        glue = Polygon(floats(area.points)).buffer(0)
        for opening in blank.openings:
            if area.number not in told and glue.intersection(Polygon(opening_outline(opening))).area > _SPECK:
                told.add(area.number)
                where = piece.place_of_line(area.number) if area.number else piece.name.place
                yield Finding.of("glue-over-opening", Strength.MISFIT, where, piece=blank.piece, shape=opening.shape)
