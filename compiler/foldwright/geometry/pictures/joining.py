"""Layers put on faces, each in its place or on its way there; and the finished thing, a lid over its tray."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from foldwright.geometry.flat.blank import Blank, BlankFace
from foldwright.geometry.flat.panels import faces_meant
from foldwright.geometry.flat.points import floats
from foldwright.geometry.folding.folded import Folded
from foldwright.geometry.folding.net import Net
from foldwright.geometry.folding.space import Spot, dot, minus, plus, times
from foldwright.geometry.pictures.bending import Bending, standing_of
from foldwright.geometry.pictures.gluing import glue_on
from foldwright.geometry.pictures.inking import inked
from foldwright.geometry.pictures.pleating import level_of
from foldwright.geometry.pictures.solid import Leaf, faces_of, sheets_of
from foldwright.geometry.pictures.standing import (
    UPRIGHT,
    Standing,
    extent_of,
    mapped,
    moved,
    quarter_turned,
    rested,
    turn_of,
)
from foldwright.geometry.pictures.state import Bond, State
from foldwright.geometry.pictures.sticking import pads_of, places_of, seen_through
from foldwright.geometry.pictures.view import View
from foldwright.geometry.pieces import Flat
from foldwright.geometry.scene import Face, LineKind, Point, Scene, Stroke, Tone, scene_of
from foldwright.geometry.together.lying import read_lying

_ON_TOP = 0.3
"""Millimetres between a layer and what it lies on: enough to know which is nearer, too little to be seen."""
_STEEP = 0.5
"""A panel that falls more than this for each millimetre stands."""
_HELD_OFF = 0.45
"""How far a part on its way is held off, as a part of its longer side."""

_IN_A_PILE = 0.02
"""How far apart those of one kind lie that are glued on one another, as a part of their longer side: so that they can
be counted."""
_WAYS: tuple[Point, ...] = ((0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0))

_CORNERS: tuple[Point, ...] = ((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0))
_AT_HOME: Spot = (0.0, 0.0, 0.0)

type Map = Callable[[Spot], Spot]


class MovingLeaves(Struct, frozen=True):
    """Sheets that move together. `outward` is the way they are held off, None for what stays; `guides` lead home."""

    sheets: tuple[Leaf, ...]
    guides: tuple[tuple[Spot, Spot], ...] = ()
    outward: Spot | None = None

    def sent(self, place: Map, turn: Map) -> MovingLeaves:
        return MovingLeaves(
            tuple(mapped(sheet, place, turn) for sheet in self.sheets),
            tuple((place(start), place(end)) for start, end in self.guides),
            turn(self.outward) if self.outward else None,
        )


class Bench(Struct, frozen=True):
    """What lies on the workbench: every piece as it is by now, and what is put on what.

    Bonds in `coming` are being made now. Names in bonds are the pieces' own.
    """

    flat: Flat
    bendings: Mapping[str, Bending]
    state: State
    coming: tuple[Bond, ...] = ()
    papers: Mapping[str, int] = field(default_factory=dict)
    """Which paper each piece is cut from."""
    lids: frozenset[str] = frozenset()
    """The pieces that go over others, and stand with their top up."""
    opened_out: frozenset[str] = frozenset()
    """The folded pieces that are laid flat again, their inside up, to be worked on."""

    def stands(self, piece: str) -> Standing:
        bending = self.bendings[piece]
        if piece in self.opened_out:
            worked_on = standing_of(bending, made=False)
            return Standing.PLAIN_UP if worked_on in UPRIGHT else worked_on
        if not self.state.of(piece).bent:
            return Standing.GOOD_UP
        return standing_of(bending, made=True, lid=piece in self.lids)

    def groups(self, piece: str) -> tuple[MovingLeaves, ...]:
        """The piece with all that is and comes on it, on the table."""
        turn = turn_of(self.stands(piece))
        groups = (group.sent(turn, turn) for group in self._built(piece, frozenset()))
        return tuple(replace(group, sheets=inked(group.sheets, self.state.added)) for group in groups)

    def sheets(self, piece: str, shape: Folded, glued: bool = False) -> tuple[Leaf, ...]:
        """The piece folded to some shape with all that is on it by now, in the frame of its blank; `glued` where glue
        is put on it."""
        return tuple(leaf for group in self._built(piece, frozenset(), shape, glued) for leaf in group.sheets)

    def _built(
        self, piece: str, under: frozenset[str], shape: Folded | None = None, glued: bool = False
    ) -> list[MovingLeaves]:
        """The same in the frame of the piece's own blank. `under` are the pieces it lies on: none lies on itself."""
        shape = shape or self.shape(piece)
        bending, paper = self.bendings[piece], self.papers.get(piece, 0)
        own = list(sheets_of(shape, bending.wet if glued else (), paper, bending.edges))
        if glued:
            own += glue_on(shape, self._blank(piece), paper)
        blank = self.flat.blank(piece)
        step, count = _IN_A_PILE * shape.net.size, blank.stacked if blank else 1
        own = [leaf for level in range(count) for leaf in moved(own, (0.0, 0.0, level * step))]
        top = step * (count - 1)
        more: list[MovingLeaves] = []
        for bonds, held_off in ((self.state.bonds, False), (self.coming, True)):
            for bond in bonds:
                if bond.onto != piece or bond.piece in under or bond.piece == piece:
                    continue
                for home in self._homes(bond, shape, piece):
                    first, *others = self._built(bond.piece, under | {piece})
                    pads, through = self._pads(bond)
                    foam = max((z + _ON_TOP for pad in pads for _, _, z in pad.outline), default=0.0)
                    raised = times(home.outward, (top if home.good else 0.0) + foam)
                    group = _put(first, home, raised)
                    off = plus(raised, self._held_off(home, shape, piece) if held_off else _AT_HOME)
                    own += _put(MovingLeaves(pads), home).sheets
                    if held_off:
                        face, *rest = first.sheets
                        marked = replace(face, marks=(*face.marks, *through))
                        away = _put(replace(first, sheets=(marked, *rest)), home, off).sheets
                        more.append(MovingLeaves(away, tuple(_guides(first, away, group)), off))
                    else:
                        own += group.sheets
                    more += [_put(other, home, off) for other in others]
        return [MovingLeaves(tuple(own)), *more]

    def _held_off(self, home: _Home, shape: Folded, piece: str) -> Spot:
        """How far off a layer is held: away from its face, or up where it would be held into the box."""
        turn = turn_of(self.stands(piece))
        up = turn((1.0, 0.0, 0.0))[2], turn((0.0, 1.0, 0.0))[2], turn((0.0, 0.0, 1.0))[2]
        stands = self.state.of(piece).bent and piece not in self.opened_out
        if not stands or home.good or abs(dot(home.outward, up)) > _STEEP:
            return times(home.outward, _HELD_OFF * home.longer)
        heights = [dot(spot, up) for number, _ in shape.panels for spot in shape.corners(number)]
        return times(up, max(heights) - min(heights) + _HELD_OFF * home.longer)

    def _blank(self, piece: str) -> Blank:
        blank = self.flat.blank(piece)
        assert blank is not None
        return blank

    def _pads(self, bond: Bond) -> tuple[tuple[Leaf, ...], tuple[tuple[Spot, ...], ...]]:
        """What sticks under a piece, on the piece below, and the same seen through it; nothing under what is folded."""
        blank, supply = self._blank(bond.piece), bond.under
        if supply is None or len(self.bendings[bond.piece].net.panels) > 1:
            return (), ()
        places = places_of(supply, float(blank.width), float(blank.height), blank.count)
        return pads_of(supply, places), seen_through(places)

    def shape(self, piece: str) -> Folded:
        """The piece as it is by now, in the frame of its own blank."""
        return self.bendings[piece].posed(0 if piece in self.opened_out else self.state.of(piece).folds)

    def _homes(self, bond: Bond, shape: Folded, onto: str) -> Iterator[_Home]:
        """Every place it goes to: one for each panel of the name it is said to lie on."""
        under, top, bending = self._blank(onto), self._blank(bond.piece), self.bendings[onto]
        finished, standing = bending.posed(bending.last), standing_of(bending, made=True, lid=onto in self.lids)
        turn = turn_of(standing if bending.last else Standing.GOOD_UP)
        if shape.net.pressed and shape.net.curved:
            good = bond.placement.face != "inside"
            level = level_of(under, good)
            for face in faces_meant(under, ""):
                yield _Home.at(level, 0, good, (0.0, 1.0), face, top, bond.placement.remark)
            return
        for face in faces_meant(under, bond.placement.panel):
            (middle,) = floats((face.middle,))
            panel = panel_at(shape.net, middle)
            if panel is not None:
                good = _on_good(shape.net, panel, bond)
                down = _downwards(finished, panel, turn)
                yield _Home.at(shape, panel, good, down, face, top, bond.placement.remark)


def _guides(first: MovingLeaves, away: Sequence[Leaf], home: MovingLeaves) -> Iterator[tuple[Spot, Spot]]:
    """Ways home from the four places of a layer that are nearest the corners of the rectangle round it."""
    outline = first.sheets[0].outline
    ends = {max(range(len(outline)), key=lambda at: sx * outline[at][0] + sy * outline[at][1]) for sx, sy in _CORNERS}
    yield from ((away[0].outline[at], home.sheets[0].outline[at]) for at in sorted(ends))


class _Home(Struct, frozen=True):
    """Where a layer lies: a panel, the place of its top left corner on the blank, and on which side.

    `right` and `down` are the layer's own directions on the blank, each along one of its edges.
    """

    shape: Folded
    panel: int
    good: bool
    corner: Point
    right: Point
    down: Point
    longer: float

    @classmethod
    def at(cls, shape: Folded, panel: int, good: bool, down: Point, face: BlankFace, top: Blank, remark: str) -> _Home:
        """`down` is where the layer's lower edge points, on the blank; `remark` how its author says it lies."""
        sign = 1.0 if good else -1.0
        right = sign * down[1], -sign * down[0]
        wide, high = float(face.wide), float(face.high)
        if down[0]:
            wide, high = high, wide
        left, upper = _offset(wide, high, float(top.width), float(top.height), remark)
        ((x, y),) = floats((face.middle,))
        x += (left - wide / 2) * right[0] + (upper - high / 2) * down[0]
        y += (left - wide / 2) * right[1] + (upper - high / 2) * down[1]
        return cls(shape, panel, good, (x, y), right, down, float(max(top.width, top.height)))

    @property
    def outward(self) -> Spot:
        normal = self.shape.normal(self.panel)
        return normal if self.good else times(normal, -1.0)

    def place(self, spot: Spot) -> Spot:
        """From the layer's frame to that of the blank below."""
        x, y, z = spot
        (left, top), right, down = self.corner, self.right, self.down
        on_blank = left + x * right[0] + y * down[0], top + x * right[1] + y * down[1]
        return plus(self.shape.place(self.panel, on_blank), times(self.outward, z + _ON_TOP))

    def turn(self, way: Spot) -> Spot:
        return minus(self.place(way), self.place((0.0, 0.0, 0.0)))


def _downwards(shape: Folded, panel: int, turn: Map) -> Point:
    """The direction on the blank that points down where the panel stands; the blank's own down where it lies.

    `lined up at the bottom` of a wall is said of the wall as it stands, wherever its bottom is on the blank.
    """
    origin = turn(shape.place(panel, (0.0, 0.0)))[2]
    falls = {way: origin - turn(shape.place(panel, way))[2] for way in _WAYS}
    steepest = max(falls, key=lambda way: round(falls[way], 6))
    return steepest if falls[steepest] > _STEEP else (0.0, 1.0)


def _put(group: MovingLeaves, home: _Home, off: Spot = _AT_HOME) -> MovingLeaves:
    return group.sent(lambda spot: plus(home.place(spot), off), home.turn)


def _offset(wide: float, high: float, top_wide: float, top_high: float, remark: str) -> Point:
    """Where the top left corner of a layer comes to lie on a face: in the middle, or by the edges that are named."""
    x, y = (wide - top_wide) / 2, (high - top_high) / 2
    for edge, by in read_lying(remark).edges:
        off = float(by.mm) if by else 0.0
        x = {"left": off, "right": wide - off - top_wide}.get(edge, x)
        y = {"top": off, "bottom": high - off - top_high}.get(edge, y)
    return x, y


def panel_at(net: Net, point: Point) -> int | None:
    """The panel a place of the blank lies in; the nearest one when it lies in none (in a window, beyond an edge)."""
    from shapely.geometry import Point as Place
    from shapely.geometry import Polygon

    place = Place(point)
    far = [(Polygon(panel.outline).distance(place), number) for number, panel in enumerate(net.panels)]
    return min(far)[1] if far else None


def _on_good(net: Net, panel: int, bond: Bond) -> bool:
    """Whether the side that is meant is the good one. The outside of a panel is where its folds are mountains."""
    bent = sum(crease.angle for crease in net.creases if panel in (crease.one, crease.other))
    return (bent <= 0) != (bond.placement.face == "inside")


def faces_of_groups(groups: Sequence[MovingLeaves], view: View) -> tuple[Face, ...]:
    """What stays, what is held off behind it and before it, and the ways between."""
    stays = faces_of(groups[0].sheets, view)
    before: list[Face] = []
    behind: list[Face] = []
    for group in groups[1:]:
        faces, ways = faces_of(group.sheets, view), _ways(group, view)
        if group.outward is None or view.sees(group.outward):
            before += (*ways, *faces)
        else:
            behind[:0] = (*faces, *ways)
    return (*behind, *stays, *before)


def _ways(group: MovingLeaves, view: View) -> tuple[Face, ...]:
    lines = tuple(Stroke(LineKind.GUIDE, (view.point(start), view.point(end))) for start, end in group.guides)
    return (Face((), Tone.PLAIN, edges=lines),) if lines else ()


_LIFTED = 0.6
"""How far a lid is held over the rim, as a part of the tray's height and its own together."""
_DRAWN_OUT = 0.5
"""How far a drawer is drawn out, as a part of its length."""


def joined_scene(bench: Bench, piece: str, view: View) -> Scene:
    """A piece with what lies on it, and what is coming held off."""
    return scene_of(faces_of_groups(bench.groups(piece), view))


def lidded_scene(bench: Bench, tray: str, lid: str, view: View) -> Scene:
    """The lid over its tray."""
    below, above = _on_table(bench, tray), _on_table(bench, lid)
    return scene_of((*faces_of(below, view), *faces_of(lid_over(above, below, _LIFTED), view)))


def lid_over(above: Sequence[Leaf], below: Sequence[Leaf], lifted: float) -> tuple[Leaf, ...]:
    """A lid moved over its tray: `lifted` so much of both heights, or on the rim (0)."""
    above = _turned_to_match(above, below)
    (_, _, low), (_, _, rim) = extent_of(_paper(below))
    high = extent_of(_paper(above))[1][2]
    if not lifted:
        return moved(above, (0.0, 0.0, rim - high + _ON_TOP))
    return moved(above, (0.0, 0.0, rim - low + lifted * (rim - low + high) - high * 0.2))


def drawn_out_scene(bench: Bench, drawer: str, sleeve: str, view: View) -> Scene:
    """The drawer half out of its sleeve, towards the viewer."""
    outer = _on_table(bench, sleeve)
    return scene_of(faces_of((*outer, *drawer_in(_on_table(bench, drawer), outer, _DRAWN_OUT)), view))


def drawer_in(inner: Sequence[Leaf], outer: Sequence[Leaf], out: float) -> tuple[Leaf, ...]:
    """A drawer moved into its sleeve, but for so much of its length, which sticks out towards the viewer."""
    (wide, long, high), (across, deep, _) = _size(_paper(outer)), _size(_paper(inner))
    if across > wide and deep <= wide:
        inner, deep = quarter_turned(inner), across
    (low, up), (its_low, its_up) = extent_of(_paper(inner)), extent_of(_paper(outer))
    x, y = ((its_low[axis] + its_up[axis] - low[axis] - up[axis]) / 2 for axis in (0, 1))
    z = its_low[2] - low[2] + (high - (up[2] - low[2])) / 2
    return moved(inner, (x, y - (long - deep) / 2 - out * deep, z))


def _paper(sheets: Sequence[Leaf]) -> Sequence[Leaf]:
    """The sheets without what lies in them or hangs on them: a lid and a sleeve fit the paper."""
    return [sheet for sheet in sheets if sheet.stuff is None] or sheets


def _on_table(bench: Bench, piece: str) -> tuple[Leaf, ...]:
    return rested([sheet for group in bench.groups(piece) for sheet in group.sheets])


def _turned_to_match(above: Sequence[Leaf], below: Sequence[Leaf]) -> tuple[Leaf, ...]:
    """A quarter turned when its longer side runs the other way."""
    (wide, deep, _), (below_wide, below_deep, _) = _size(above), _size(below)
    return quarter_turned(above) if (wide - deep) * (below_wide - below_deep) < 0 else tuple(above)


def _size(sheets: Sequence[Leaf]) -> tuple[float, float, float]:
    low, high = extent_of(sheets)
    return high[0] - low[0], high[1] - low[1], high[2] - low[2]
