"""A thing on the table as it is by now: its layers, its lid, what lies in it and what is tied round it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import dist

from msgspec import Struct
from msgspec.structs import replace

from foldwright.geometry.folding.space import Spot, cross, dot, extent, minus, plus, times, unit
from foldwright.geometry.pictures.binding import (
    Cord,
    Eyelet,
    belt_round,
    bow,
    eyelets_of,
    handle,
    hanging,
    laced,
    looped,
)
from foldwright.geometry.pictures.capping import ends_on
from foldwright.geometry.pictures.inking import best_side, frame_of
from foldwright.geometry.pictures.joining import drawer_in, lid_over
from foldwright.geometry.pictures.putting import beneath
from foldwright.geometry.pictures.rolling import ROLLED, rolled
from foldwright.geometry.pictures.solid import Leaf, faces_of, hides
from foldwright.geometry.pictures.standing import extent_of, moved, rested
from foldwright.geometry.pictures.state import Added, State
from foldwright.geometry.pictures.stuff import cord_of, laid_in, laid_together, shape_of, shapes_of
from foldwright.geometry.pictures.things import Box, Sight
from foldwright.geometry.pictures.tucking import seen_of
from foldwright.geometry.pictures.view import View
from foldwright.geometry.pictures.weaving import woven_leaves
from foldwright.geometry.pictures.workshop import Workshop
from foldwright.geometry.scene import Face, LineKind, Point, Tone
from foldwright.recipe.model import Supply

_FLAT = 0.15
"""What is no higher or no deeper than so much of its longest side is flat, like a card."""
_LOWEST_WALL = 8.0
"""Millimetres: what is as high has walls, however long it is (a lower one can hardly be folded)."""
_WALLS = 0.55
"""How high round an open box twine goes, as a part of its walls."""
_TALL = 1.3
"""A box so many times as high as wide is tied round its waist."""
_COVERED = 0.5
_LEVEL = 0.9
_TOP = 1.5
"""Millimetres: flaps that lie on one another are at the top together."""
_INSET = 0.3
"""Millimetres between a thing and the sheet it lies on, and what a wall takes where nobody knows the card."""
_BOW = 0.3
"""How far a loop of a bow reaches, as a part of the middle one of the sides of what it ties."""
_PULL = 0.5
_GATHERED = 0.4
"""Holes in several walls that are no farther apart than so much of a thing's longest side are drawn together."""


class Whole(Struct, frozen=True):
    """What stands on the table; `over` are bows, which lie before all else."""

    leaves: tuple[Leaf, ...]
    over: tuple[Face, ...] = ()

    @property
    def bounds(self) -> Box:
        return extent_of(self.leaves)

    @property
    def size(self) -> float:
        """The longest of its sides."""
        return max(high - low for low, high in zip(*self.bounds, strict=True))

    def faces(self, workshop: Workshop) -> tuple[Face, ...]:
        """In drawing order."""
        return (*faces_of(self.leaves, workshop.view), *self.over)


def seat_of(piece: str, state: State) -> str:
    """The piece that stands on the table when everything it belongs to does: a lid's box, a drawer's sleeve."""
    root = beneath(piece, state.bonds)
    seats = [one.thing for one in state.added if one.how in _SEATED and one.piece == root and one.thing != root]
    return beneath(seats[-1], state.bonds) if seats else root


_SEATED = frozenset({"lid", "drawer"})


def whole_of(workshop: Workshop, state: State, piece: str) -> Whole:
    """The piece with all it belongs to."""
    root = seat_of(piece, state)
    leaves = list(sheets_standing(workshop, state, root))
    over: list[Face] = []
    for added in state.added:
        if added.how in _SEATED and seat_of(added.piece, state) == root:
            other = sheets_standing(workshop, state, beneath(added.piece, state.bonds))
            placed = lid_over(other, leaves, 0.0) if added.how == "lid" else drawer_in(other, leaves, 0.0)
            # Things are drawn as they are seen, so they are put in when nothing is turned any more.
            leaves += (*placed, *_contents(workshop, state, added.piece, placed))
        elif added.how == "glue-to" and added.thing == root:
            leaves += _nested(sheets_standing(workshop, state, added.piece), leaves)
    leaves += _contents(workshop, state, root, sheets_standing(workshop, state, root))
    for disc in state.has("cap", root):
        leaves += ends_of(workshop, state, leaves, disc)
    for added in state.added:
        if seat_of(added.piece, state) == root:
            more = _bound(workshop, added, leaves)
            leaves += more.leaves
            over += more.over
    return Whole(tuple(leaves), tuple(over))


def drawn_out(
    workshop: Workshop, state: State, drawer: str, leaves: Sequence[Leaf], sleeve: Sequence[Leaf], out: float
) -> tuple[Leaf, ...]:
    """A drawer so far out of its sleeve, and what is in it laid into it anew: things are drawn as they are seen, so
    they cannot be turned with it. What is still under the roof of the sleeve is not seen."""
    inside = [*_contents(workshop, state, drawer, sheets_standing(workshop, state, drawer))]
    moved = drawer_in([leaf for leaf in leaves if leaf not in inside], sleeve, out)
    paper = [leaf for leaf in moved if leaf.stuff is None]
    mouth = extent_of(sleeve)[0][1]
    towards = Sight.of(workshop.view).near
    return (*moved, *(leaf for leaf in _contents(workshop, state, drawer, paper) if _is_out(leaf, mouth, towards)))


def _is_out(leaf: Leaf, mouth: float, towards: Spot) -> bool:
    """Whether any of a side is out of the sleeve; of what is round and looks at the viewer, half of it."""
    ats = [spot[1] for spot in leaf.outline]
    return min(ats) < mouth if leaf.good != towards else min(ats) + max(ats) < 2 * mouth


def ends_of(workshop: Workshop, state: State, leaves: Sequence[Leaf], disc: str, off: float = 0.0) -> tuple[Leaf, ...]:
    """The discs that close a tube, in their places or held off."""
    blank = workshop.blank(disc)
    return ends_on(leaves, sheets_standing(workshop, state, disc), blank.count if blank else 1, off)


def _nested(inner: Sequence[Leaf], outer: Sequence[Leaf]) -> tuple[Leaf, ...]:
    """A box that is glued into a larger one, on its floor; nothing where it does not stand in it."""
    (x1, y1, z1), (x2, y2, z2) = extent_of(inner)
    (left, near, low), (right, far, top) = extent_of(outer)
    stands = z2 - z1 > _FLAT * max(x2 - x1, y2 - y1) and x2 - x1 < right - left and y2 - y1 < far - near
    return moved(inner, (0.0, 0.0, low - z1 + _INSET)) if stands and z2 - z1 < (top - low) * _TALL else ()


def sheets_standing(workshop: Workshop, state: State, root: str) -> tuple[Leaf, ...]:
    """One piece with its layers on the table, its middle over the origin."""
    paper = workshop.papers.get(root, 0)
    blank, net = workshop.blank(root), workshop.net(root)
    if net is not None and blank is not None and ("roll", root) in {(one.how, one.piece) for one in state.added}:
        across = float(blank.made[0][1]) / 2 if blank.made else None
        return rested(rolled(net, ROLLED, paper, across))
    woven = next((one for one in workshop.flat.weaves if root in one.pieces), None)
    if woven is not None and any(one.how == "weave" and one.piece in woven.pieces for one in state.added):
        return rested([*woven_leaves(*workshop.strips(woven))])
    groups = workshop.bench(state).groups(root)
    return rested([sheet for group in groups for sheet in group.sheets])


def room_of(workshop: Workshop, piece: str, leaves: Sequence[Leaf]) -> Box:
    """The room inside what stands on the table, half its card taken off at each wall (folds are drawn along the middle
    of the card); of what lies flat, the space on it."""
    card = workshop.flat.cards.get(piece)
    wall = float(card.length.mm) / 2 if card else _INSET
    (x1, y1, z1), (x2, y2, z2) = extent_of(leaves)
    if z2 - z1 < min(_FLAT * max(x2 - x1, y2 - y1), _LOWEST_WALL):
        return (x1, y1, z2 + _INSET), (x2, y2, z2 + _INSET)
    return (x1 + wall, y1 + wall, z1 + wall), (x2 - wall, y2 - wall, z2)


def _contents(workshop: Workshop, state: State, piece: str, leaves: Sequence[Leaf]) -> Iterator[Leaf]:
    """What has been put into a piece, by itself on the table."""
    supplies = [supply_named(workshop, name) for name in state.has("fill", piece)]
    sized = [one for one in supplies if one is not None and one.size is not None]
    kinds = tuple((shapes_of(one), one.upright) for one in sized)
    closer = len(sized) > 1 or any(one.size.value.round for one in sized if one.size)
    if closer and (together := laid_together(kinds, room_of(workshop, piece, leaves), workshop.view)):
        yield from together
        return
    for supply in supplies:
        card = card_on(workshop, state, piece, supply) if supply is not None else None
        if card is not None:
            yield tucked(card, leaves)
        elif supply is not None:
            yield from laid_in(shapes_of(supply), room_of(workshop, piece, leaves), supply.upright, workshop.view)


def card_on(workshop: Workshop, state: State, piece: str, supply: Supply) -> Leaf | None:
    """What is thin, where it lies on a side of what is flat: between its slits, else in the middle."""
    leaves = sheets_standing(workshop, state, piece)
    (x1, y1, z1), (x2, y2, z2) = extent_of(leaves)
    sides = sorted((x2 - x1, y2 - y1, z2 - z1))
    number = best_side(leaves, piece)
    thin, high, wide = sorted(shape_of(supply).size)
    if number is None or thin > _CARD or shape_of(supply).kind != "box" or sides[0] > 2 * _FLAT * sides[2]:
        return None
    leaf = leaves[number]
    middle, across, down = (frame_of(leaf)[0], *(unit(way) for way in frame_of(leaf)[1:]))
    slits = [spot for slit in leaf.slits for spot in slit]
    if slits:
        low, high_ = extent(slits)
        middle = times(plus(low, high_), 0.5)
    shape = shape_of(supply)
    if shape.size[0] < shape.size[1]:
        wide, high = high, wide
    if in_a_pocket(workshop, piece):
        # Behind the front, and so far out that it is seen.
        middle = plus(plus(middle, times(leaf.good, -_INSET)), times(down, -_PEEPS_OUT * high))
    else:
        middle = plus(middle, times(leaf.good, _INSET))
    corners = ((-wide, -high), (wide, -high), (wide, high), (-wide, high))
    ring = tuple(plus(middle, plus(times(across, x / 2), times(down, y / 2))) for x, y in corners)
    return Leaf(ring, leaf.good, (LineKind.CUT,) * 4, stuff=shape.tone)


def in_a_pocket(workshop: Workshop, piece: str) -> bool:
    """Whether what is put in a piece goes in behind its front."""
    blank = workshop.blank(piece)
    return blank is not None and blank.form == "pocket"


_PEEPS_OUT = 0.35


def tucked(card: Leaf, leaves: Sequence[Leaf]) -> Leaf:
    """A card on a sheet with slots: without what of it is under the sheet then."""
    start, along = card.outline[0], unit(minus(card.outline[1], card.outline[0]))
    across = cross(card.good, along)
    below = (leaf for leaf in leaves if leaf.slits and dot(leaf.good, card.good) > _LEVEL)
    slits = [slit for leaf in below for slit in leaf.slits if abs(dot(minus(slit[0], start), card.good)) < _TOP]

    def flat(spot: Spot) -> Point:
        return dot(minus(spot, start), along), dot(minus(spot, start), across)

    def back(ring: Sequence[Point]) -> tuple[Spot, ...]:
        return tuple(plus(start, plus(times(along, x), times(across, y))) for x, y in ring)

    outline, *gaps = seen_of(tuple(map(flat, card.outline)), [tuple(map(flat, slit)) for slit in slits])
    edges = (LineKind.CUT,) * len(outline)
    return replace(card, outline=back(outline), edges=edges, gaps=tuple(map(back, gaps)))


_CARD = 2.0
"""Millimetres: what is no thicker lies flat on a sheet."""


def supply_named(workshop: Workshop, name: str) -> Supply | None:
    """The supply of a name."""
    return next((one for one in workshop.recipe.supplies if one.name.value == name), None)


def is_covered(leaves: Sequence[Leaf]) -> bool:
    """Whether most of it is under a roof: what is tied goes over it."""
    (x1, y1, low), (x2, y2, top) = extent_of(leaves)
    covers = 0.0
    for leaf in leaves:
        level = [spot for spot in leaf.outline if spot[2] > top - 2 * _TOP]
        if len(level) == len(leaf.outline):
            xs, ys = [x for x, _, _ in level], [y for _, y, _ in level]
            covers = max(covers, (max(xs) - min(xs)) * (max(ys) - min(ys)))
    return top > low and covers > _COVERED * (x2 - x1) * (y2 - y1)


# --- bands, twine, ribbon ---------------------------------------------------------------------------------------------


def _bound(workshop: Workshop, added: Added, leaves: Sequence[Leaf]) -> Whole:
    if added.how == "band":
        return belted(workshop, added.thing, leaves)
    if added.how not in ("thread", "tie", "wrap"):
        return Whole(())
    cord = cord_of(supply_named(workshop, added.thing), Whole(tuple(leaves)).size)
    holes = holes_in(workshop, added.piece, leaves) if added.through else ()
    if holes:
        return through(holes, leaves, cord, added.how == "tie", workshop.view)
    return tied_round(workshop, leaves, cord, bowed=added.how == "tie")


def holes_in(workshop: Workshop, piece: str, leaves: Sequence[Leaf]) -> tuple[Eyelet, ...]:
    """The holes a cord goes through: round ones and slots of the piece, no window; where there are more (in a layer
    behind), those that are seen."""
    blank = workshop.blank(piece)
    wanted = [hole for hole in blank.openings if hole.shape != "window"] if blank else []
    found = eyelets_of(leaves) if wanted else ()
    order = {id(one): (round(one.wide, 2), hides(leaves, one.middle, workshop.view)) for one in found}
    return tuple(sorted(found, key=lambda one: order[id(one)])[: len(wanted)])


def through(holes: Sequence[Eyelet], leaves: Sequence[Leaf], cord: Cord, tied: bool, view: View) -> Whole:
    """One hole gets a loop, two in one sheet a handle, more are laced."""
    size = Whole(tuple(leaves)).size
    sheets: dict[tuple[float, ...], list[Eyelet]] = {}
    for hole in holes:
        sheets.setdefault(tuple(round(part, 2) for part in hole.good), []).append(hole)
    if len(sheets) > 2 and max(dist(one.middle, other.middle) for one in holes for other in holes) < _GATHERED * size:
        # One cord through all of them: the bow is seen once, before the wall that is seen best.
        sheets = {(): [max(holes, key=lambda hole: (view.sees(hole.good), hole.middle))]}
    found: list[Leaf] = []
    over: list[Face] = []
    for alike in sheets.values():
        if len(alike) > 2:
            found += laced(sorted(alike, key=lambda hole: hole.middle), cord)
        elif len(alike) == 2 and alike[0].far * 2 < abs(sum(alike[0].middle) - sum(alike[1].middle)) + size:
            found += handle(alike[0], alike[1], cord)
        else:
            for hole in alike:
                upright = abs(hole.good[2]) < _LEVEL and hole.far > hole.wide
                found += hanging(hole, size * _PULL * 0.5, cord) if upright else looped(hole, size * _PULL, cord, tied)
                over += bow(hole.middle, size * _BOW * 0.6, cord, view) if upright and tied else ()
    return Whole(tuple(found), tuple(over))


def tied_round(workshop: Workshop, leaves: Sequence[Leaf], cord: Cord, bowed: bool) -> Whole:
    """Round the walls of an open box, crosswise over a closed one, round the middle of a card."""
    (x1, y1, z1), (x2, y2, z2) = extent_of(leaves)
    sides = sorted((x2 - x1, y2 - y1, z2 - z1))
    middles = (x1 + x2) / 2, (y1 + y2) / 2
    over = is_covered(leaves) and z2 - z1 < _TALL * max(x2 - x1, y2 - y1)
    lies_flat = z2 - z1 < _FLAT * sides[2]
    if lies_flat or (over and min(x2 - x1, y2 - y1) < _FLAT * 2 * sides[2]):
        ways = [(0, middles[0]) if x2 - x1 >= y2 - y1 else (1, middles[1])]
    elif over:
        ways = [(0, middles[0]), (1, middles[1])]
    else:
        ways = [(2, z1 + _WALLS * _walls(leaves))]
    belts = [belt for axis, at in ways if (belt := belt_round(leaves, axis, at, cord, workshop.view))]
    found = tuple(leaf for belt in belts for leaf in belt.leaves)
    if not bowed or not belts:
        return Whole(found)
    spot = (middles[0], middles[1], z2) if over or lies_flat else belts[0].front
    size = max(_BOW * sides[1], 2.5 * cord.wide)
    return Whole(found, bow(spot, size, cord, workshop.view))


def _walls(leaves: Sequence[Leaf]) -> float:
    """How high what is lowest of the walls that stand reaches: twine goes round where there is something behind it."""
    (_, _, low), (_, _, top) = extent_of(leaves)
    tops = [max(z for _, _, z in leaf.outline) - low for leaf in leaves if abs(leaf.good[2]) < 1 - _LEVEL]
    return min((high for high in tops if high > 0.25 * (top - low)), default=top - low)


def belted(workshop: Workshop, band: str, leaves: Sequence[Leaf]) -> Whole:
    """A piece of paper round what it goes round, as wide as it is cut, in the direction that suits its length."""
    blank = workshop.blank(band)
    if blank is None:
        return Whole(())
    long, wide = float(max(blank.width, blank.height)), float(min(blank.width, blank.height))
    (low, high) = extent_of(leaves)
    spans = [high[axis] - low[axis] for axis in range(3)]
    girths = {0: 2 * (spans[1] + spans[2]), 1: 2 * (spans[0] + spans[2]), 2: 2 * (spans[0] + spans[1])}
    able = {axis: girth for axis, girth in girths.items() if spans[axis] > 0.8 * wide} or girths
    axis = min(able, key=lambda one: (able[one] > long * 1.02, abs(long - able[one])))
    cord = Cord(min(wide, spans[axis]), Tone.GOOD, workshop.papers.get(band, 0))
    belt = belt_round(leaves, axis, (low[axis] + high[axis]) / 2, cord, workshop.view, off=1.0)
    return Whole(belt.leaves if belt else ())
