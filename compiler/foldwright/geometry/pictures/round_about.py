"""Tying, threading, wrapping and rolling."""

from __future__ import annotations

from msgspec.structs import replace

from foldwright.geometry.flat.wrapping import wraps_of
from foldwright.geometry.folding.space import Spot, plus, times
from foldwright.geometry.pictures.handling import Handled, Handling
from foldwright.geometry.pictures.rolling import BENT, CURLED, rolled
from foldwright.geometry.pictures.solid import Leaf, faces_of
from foldwright.geometry.pictures.standing import extent_of, rested
from foldwright.geometry.pictures.state import Added
from foldwright.geometry.pictures.stuff import CORDS, fits_role, goes_inside, laid_in, shape_of
from foldwright.geometry.pictures.things import Box, curve
from foldwright.geometry.pictures.whole import Whole, belted, holes_in, supply_named, whole_of
from foldwright.geometry.pictures.workshop import Workshop
from foldwright.geometry.scene import Arrow, Point, Scene, scene_of
from foldwright.recipe.model import Step, Supply
from foldwright.recipe.words import spoken_text
from foldwright.vocabulary.names import plain_words

_PAST = 0.32
"""How far from a hole an arrow begins, as a part of the size of the thing."""
_MOST_OF = 0.3
_TURN = 5


def bound(task: Handling) -> Handled | None:
    """Twine or ribbon through the hole of a piece, else round the thing; tied with a bow."""
    supply = task.supply(lambda one: fits_role(one, CORDS))
    piece = task.piece if task.named else _holed(task) or task.piece
    name = supply.name.value if supply else ""
    workshop, state = task.workshop, task.state
    before = whole_of(workshop, state, piece)
    holes = holes_in(workshop, piece, before.leaves)
    act = task.doing.act
    through = bool(holes) and act != "wrap" and _goes_through(task, piece, len(holes))
    if through and act == "tie":
        # What was threaded is tied now: the same cord, drawn once.
        state = replace(state, added=tuple(one for one in state.added if (one.how, one.piece) != ("thread", piece)))
    if supply is None and not through and act == "thread":
        return None
    after = state.adding(Added(act, piece, name, through))
    whole = whole_of(workshop, after, piece)
    arrow: Arrow | None = None
    if through:
        arrow = _into_hole(task, holes[0].middle, holes[0].good, whole)
    elif act != "tie":
        arrow = _round(workshop, whole, before)
    code = f"{act}-through" if through else act
    told = piece if task.named or through else ""
    return Handled(code, told, scene_of(whole.faces(workshop), (), (arrow,) if arrow else ()), after, "", name)


def _goes_through(task: Handling, piece: str, holes: int) -> bool:
    """Whether a cord goes through the holes. A box with one hole is tied round, but where it is threaded or words say
    otherwise."""
    if task.doing.act == "thread" or piece not in task.state.bent or holes > 1 or task.state.has("thread", piece):
        return True
    return says_through(task.step)


def says_through(step: Step) -> bool:
    """Whether the words of a step speak of what a cord goes through."""
    said = f"{step.do.value if step.do else ''} {spoken_text(step.words)}"
    return not _THROUGH.isdisjoint(plain_words(said))


_THROUGH = frozenset({"through", "hole", "slot", "eyelet"})


def _holed(task: Handling) -> str:
    """The piece that was punched last, for a cord that is threaded without saying through what; or was threaded."""
    threaded = [one.piece for one in task.state.added if one.how == "thread"]
    if threaded or task.doing.act == "tie":
        return threaded[-1] if threaded else ""
    blanks = [task.workshop.blank(piece.name.value) for piece in task.workshop.recipe.pieces]
    holed = [blank.piece for blank in blanks if blank and any(one.shape != "window" for one in blank.openings)]
    opened = [name for name in holed if task.state.of(name).opened]
    return (opened or holed or [""])[-1]


def _into_hole(task: Handling, middle: Spot, good: Spot, whole: Whole) -> Arrow:
    """From before the sheet into the hole."""
    view = task.workshop.view
    side = -1.0 if view.left_handed else 1.0
    start = plus(middle, plus(times(good, _PAST * whole.size), (side * 0.2 * whole.size, 0.0, 0.0)))
    (x1, y1), (x2, y2) = view.point(start), view.point(middle)
    return Arrow(curve((x1, y1), (x1 - side * (y2 - y1) * 0.1, y1 * 0.3 + y2 * 0.7), (x2, y2)))


def _round(workshop: Workshop, whole: Whole, before: Whole) -> Arrow | None:
    """Round the thing from its right side over what is seen of it: along the first belt."""
    new = [leaf for leaf in whole.leaves if leaf not in before.leaves and workshop.view.sees(leaf.good)]
    if not new:
        return None
    return _along_belt(workshop, new, whole.size * 0.13)


def _along_belt(workshop: Workshop, belt: list[Leaf], off: float) -> Arrow:
    """Beside the longest side of a belt that is seen, a little outside of it."""
    view = workshop.view

    def seen(leaf: Leaf) -> tuple[Point, Point]:
        one, two, three, four = (view.point(spot) for spot in leaf.outline)
        return ((one[0] + four[0]) / 2, (one[1] + four[1]) / 2), ((two[0] + three[0]) / 2, (two[1] + three[1]) / 2)

    def far(pair: tuple[Point, Point]) -> float:
        return abs(pair[0][0] - pair[1][0]) + abs(pair[0][1] - pair[1][1])

    pairs = [seen(leaf) for leaf in belt]
    ends = max(pairs, key=far)
    if far(ends) < _MOST_OF * sum(map(far, pairs)):
        # Round a curve: from one end of what is seen to the other.
        points = sorted(point for pair in pairs for point in pair)
        ends = points[0], points[-1]
    (x1, y1), (x2, y2) = sorted(ends)
    wide = max(abs(view.point(leaf.outline[0])[1] - view.point(leaf.outline[3])[1]) for leaf in belt) / 2
    down = wide + off
    a, b = (x1 + (x2 - x1) * 0.12, y1 + (y2 - y1) * 0.12 + down), (x1 + (x2 - x1) * 0.88, y1 + (y2 - y1) * 0.88 + down)
    return Arrow(curve(a, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + off * 0.9), b))


# --- bands ------------------------------------------------------------------------------------------------------------


def belt_put_on(task: Handling) -> Handled | None:
    """A piece of paper that is wrapped: round what it goes round, or round the thing that the step's words name."""
    workshop, subjects = task.workshop, task.doing.subjects
    for name in subjects:
        piece = workshop.piece(name)
        said = wraps_of(piece, workshop.recipe) or piece.fits_over if piece else ()
        other = workshop.named(said[0].value.piece) if said else next((one for one in subjects if one != name), "")
        supply = supply_named(workshop, said[0].value.piece) if said else None
        if piece is not None and workshop.net(other) is not None and (said or name == subjects[0]):
            return _band_on_piece(task, name, other)
        if supply is not None or (piece is not None and len(subjects) == 1 and not _cord(task)):
            supply = supply or task.supply(goes_inside)
            return _band_on_supply(task, name, supply) if supply else None
    return None


def _cord(task: Handling) -> bool:
    return any(task.names(one) for one in task.supplies(lambda one: fits_role(one, CORDS)))


def _band_on_piece(task: Handling, band: str, other: str) -> Handled:
    workshop = task.workshop
    before = whole_of(workshop, task.state, other)
    after = task.state.adding(Added("band", other, band))
    whole = whole_of(workshop, after, other)
    arrow = _round(workshop, whole, before)
    return Handled("band", band, scene_of(whole.faces(workshop), (), (arrow,) if arrow else ()), after, other)


def _band_on_supply(task: Handling, band: str, supply: Supply) -> Handled:
    workshop = task.workshop
    wide, deep, high = shape_of(supply).size
    room: Box = ((-wide, -deep, 0.0), (wide, deep, high))
    thing = laid_in((replace(shape_of(supply), kind="box"),), room, supply.upright, workshop.view)
    belt = belted(workshop, band, _all_sides(extent_of(thing)))
    leaves = (*thing, *belt.leaves)
    seen = [leaf for leaf in belt.leaves if workshop.view.sees(leaf.good)]
    arrow = (_along_belt(workshop, seen, Whole(leaves).size * 0.13),) if seen else ()
    scene = scene_of(faces_of(leaves, workshop.view), (), arrow)
    return Handled("band", band, scene, task.state, supply.name.value)


def _all_sides(bounds: Box) -> tuple[Leaf, ...]:
    """The bottom and the top of a box: what a belt is measured by."""
    (x1, y1, z1), (x2, y2, z2) = bounds
    rings = [((x1, y1, z), (x2, y1, z), (x2, y2, z), (x1, y2, z)) for z in (z1, z2)]
    walls = [((x, y1, z1), (x, y2, z1), (x, y2, z2), (x, y1, z2)) for x in (x1, x2)]
    return tuple(Leaf(ring, (0.0, 0.0, 1.0), (None,) * 4) for ring in (*rings, *walls))


# --- rolling ----------------------------------------------------------------------------------------------------------


def bent_sheet(task: Handling) -> Handled | None:
    """A sheet on its way round."""
    workshop, net = task.workshop, task.workshop.net(task.piece)
    blank = workshop.blank(task.piece)
    if net is None or blank is None:
        return None
    roll = task.doing.act == "roll"
    radius = float(blank.made[0][1]) / 2 if blank.made and roll else None
    leaves = rested(rolled(net, CURLED if roll else BENT, workshop.papers.get(task.piece, 0), None if roll else radius))
    view = workshop.view
    (x1, y1, _), (x2, y2, top) = extent_of(leaves)
    rx, ry, mid = (x2 - x1) / 2 * 1.18, (y2 - y1) / 2 * 1.18, ((x1 + x2) / 2, (y1 + y2) / 2)
    if roll:
        from math import cos, pi, sin

        turns = [pi * (0.1 + 0.72 * step / _TURN) for step in range(_TURN + 1)]
        path = tuple(view.point((mid[0] + rx * cos(t), mid[1] + ry * sin(t), top * 1.06)) for t in turns)
    else:
        flat, now = view.point((float(blank.width) / 2, y1, top)), view.point((x2, y2, top))
        path = curve(flat, (max(flat[0], now[0]) * 1.08, (flat[1] + now[1]) / 2), now)
    scene: Scene = scene_of(faces_of(leaves, view), (), (Arrow(path),))
    state = task.state.adding(Added("roll", task.piece)) if roll else task.state
    return Handled(task.doing.act, task.piece, scene, state)
