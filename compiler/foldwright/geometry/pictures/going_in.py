"""What goes into what: things into a box, a lid on its base, a drawer into its sleeve, a card into an envelope."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from foldwright.geometry.folding.space import Spot, minus, times, unit
from foldwright.geometry.pictures.handling import Handled, Handling
from foldwright.geometry.pictures.joining import lid_over
from foldwright.geometry.pictures.solid import Leaf, faces_of
from foldwright.geometry.pictures.standing import extent_of, mapped, moved, rested
from foldwright.geometry.pictures.state import Added, State
from foldwright.geometry.pictures.stuff import fits_role, goes_inside, laid_in, number_of, shapes_of
from foldwright.geometry.pictures.things import Box, curve
from foldwright.geometry.pictures.view import View
from foldwright.geometry.pictures.whole import (
    Whole,
    card_on,
    drawn_out,
    in_a_pocket,
    room_of,
    sheets_standing,
    supply_named,
    whole_of,
)
from foldwright.geometry.pictures.workshop import Workshop
from foldwright.geometry.scene import Arrow, Face, LineKind, Scene, Stroke, Tone, scene_of
from foldwright.recipe.model import Placement, Said, Supply

_LIFT = 0.35
"""How far what goes in is held over the rim, as a part of its own height and the box's."""
_LEAST_LIFT = 0.2
"""The same at least, as a part of the size of the whole: an arrow has to go between."""
_OFF = 0.4
"""How far a card is held off the place it lies on, as a part of the size of what holds it."""
_HALF_OUT = 0.5
_LID_LIFT = 0.6
_DEEP = 0.35
"""How far into the room an arrow reaches."""
_FLAP = 0.5
"""How high the flap of an envelope stands, as a part of its own height."""
_POCKET = 1.2
"""Millimetres between what is in an envelope and its sides."""


def filled(task: Handling, supply: Supply) -> Handled:
    """Things over the place they go to, with an arrow in."""
    workshop, piece = task.workshop, task.piece
    state = task.state.adding(Added("fill", piece, supply.name.value))
    home = card_on(workshop, task.state, piece, supply)
    if home is not None:
        way = home.good
        if in_a_pocket(workshop, piece):
            way = unit(minus(home.outline[0], home.outline[3]))
        held = moved((home,), times(way, _OFF * whole_of(workshop, task.state, piece).size))
        ways = [
            Stroke(LineKind.GUIDE, (workshop.view.point(one), workshop.view.point(other)))
            for one, other in zip(held[0].outline, home.outline, strict=True)
        ]
        faces = whole_of(workshop, task.state, piece).faces(workshop)
        scene = scene_of((*faces, Face((), Tone.PLAIN, edges=tuple(ways)), *faces_of(held, workshop.view)))
        return Handled("fill", task.told, scene, state, "", supply.name.value, number_of(supply))
    # What is put in goes into the piece that is named, else into the one that is said to hold it.
    own = sheets_standing(workshop, task.state, piece)
    sleeve = _is_sleeve(workshop, piece)
    whole = whole_of(workshop, task.state, piece)
    room = room_of(workshop, piece, own)
    things = laid_in(shapes_of(supply), room, supply.upright, workshop.view)
    (_, near, low), (_, _, high) = extent_of(things)
    top = whole.bounds[1][2]
    if sleeve:
        depth = extent_of(things)[1][1] - near
        away: Spot = (0.0, -(depth + _LIFT * depth) - (extent_of(own)[1][1] - extent_of(own)[0][1]) / 2, 0.0)
    else:
        lift = max(_LIFT * min(high - low, top - room[0][2]), _LEAST_LIFT * whole.size)
        away = (0.0, 0.0, max(top - low, 0.0) + lift)
    held = moved(things, away)
    faces = (*whole.faces(workshop), *faces_of(held, workshop.view))
    arrow = _straight(workshop.view, held, room, away)
    scene, count = scene_of(faces, (), (arrow,)), number_of(supply)
    return Handled("fill", task.told, scene, state, "", supply.name.value, count)


def _straight(view: View, held: Sequence[Leaf], room: Box, away: Spot) -> Arrow:
    """From what is held off to where it goes, a part of the way into the room."""
    (x1, y1, z1), (x2, y2, _) = extent_of(held)
    middle = (x1 + x2) / 2, (y1 + y2) / 2
    if away[1]:
        z = (z1 + extent_of(held)[1][2]) / 2
        return Arrow((view.point((middle[0], y2, z)), view.point((middle[0], room[0][1] + _DEEP * (y2 - y1), z))))
    floor = room[0][2] + _DEEP * max(room[1][2] - room[0][2], 0.0)
    return Arrow((view.point((*middle, z1 - 0.5)), view.point((*middle, min(floor, z1 - 4.0)))))


def _is_sleeve(workshop: Workshop, piece: str) -> bool:
    blank = workshop.blank(piece)
    return blank is not None and blank.form in ("sleeve", "tube")


# --- two pieces that belong together ----------------------------------------------------------------------------------


def pair_of(task: Handling) -> tuple[str, str, str] | None:
    """`lid` or `drawer`, the piece that is moved and the one it goes to; None when they do not belong together."""
    workshop = task.workshop
    subjects = [name for name in task.doing.subjects if workshop.net(name) is not None]
    if not subjects or (len(subjects) == 1 and (task.doing.act not in _BY_ITSELF or task.supply(task.names))):
        return None
    for piece in workshop.recipe.pieces:
        for said, how in ((piece.fits_over, "lid"), (piece.slides_in, "drawer")):
            for placement in said:
                one, other = piece.name.value, workshop.named(placement.value.piece)
                if workshop.net(other) is None or not set(subjects) <= {one, other}:
                    continue
                if len(subjects) == 1 and not _ready(task, one, other):
                    continue
                mover, target = _right_way_round(workshop, how, one, other)
                if how == "lid" or _is_sleeve(workshop, target):
                    return how, mover, target
    return None


_BY_ITSELF = frozenset({"insert", "close", "lay", "assemble"})
"""Of these acts a piece may be named alone, and goes to what it belongs to."""


def _ready(task: Handling, one: str, other: str) -> bool:
    """Where one of them is named alone, the other has to be there by now, and the two not together yet."""
    together = {(added.piece, added.thing) for added in task.state.added if added.how in ("lid", "drawer")}
    here = one in task.state.pieces and other in task.state.pieces
    return task.named and here and (one, other) not in together and (other, one) not in together


def _right_way_round(workshop: Workshop, how: str, one: str, other: str) -> tuple[str, str]:
    """Said once, on either piece: the lid is the one with that form, the drawer the one that is no sleeve."""
    forms = {name: blank.form for name in (one, other) if (blank := workshop.flat.blank(name))}
    if how == "lid":
        return (other, one) if forms.get(other) == "lid" != forms.get(one) else (one, other)
    return (other, one) if forms.get(one) == "sleeve" != forms.get(other) else (one, other)


def paired(task: Handling, how: str, mover: str, target: str) -> Handled:
    """A lid over its base, or a drawer before its sleeve, with an arrow to where it goes."""
    workshop = task.workshop
    apart = replace(task.state, added=tuple(one for one in task.state.added if one.how != how))
    below, above = whole_of(workshop, apart, target), whole_of(workshop, apart, mover)
    scene = pair_scene(workshop, apart, how, mover, above, below, arrow=True)
    return Handled(how, mover, scene, task.state.adding(Added(how, mover, target)), target)


def pair_scene(
    workshop: Workshop, state: State, how: str, mover: str, above: Whole, below: Whole, arrow: bool
) -> Scene:
    """The lid held over, or the drawer half out; `mover` is the piece that moves."""
    view = workshop.view
    if how == "lid":
        lid, home = (lid_over(above.leaves, below.leaves, lifted) for lifted in (_LID_LIFT, 0.0))
        faces = (*below.faces(workshop), *faces_of(lid, view))
        arrows = [_down_to(view, lid, home, side) for side in (0, 1)]
        return scene_of(faces, (), arrows if arrow else ())
    drawer = drawn_out(workshop, state, mover, above.leaves, below.leaves, _HALF_OUT)
    faces = (*faces_of((*below.leaves, *drawer), view), *below.over)
    (x1, y1, _), (_, y2, z2) = extent_of(drawer)
    start, end = (x1 - 3.0, y1, z2), (x1 - 3.0, y1 + _HALF_OUT * (y2 - y1) * 0.9, z2)
    return scene_of(faces, (), (Arrow((view.point(start), view.point(end))),) if arrow else ())


def _down_to(view: View, lid: Sequence[Leaf], home: Sequence[Leaf], side: int) -> Arrow:
    """Beside the lid, from its rim down to where the rim comes to lie."""
    start, end = (_corner(view, leaves, side) for leaves in (lid, home))
    off = -3.0 if side == 0 else 3.0
    return Arrow(((start[0] + off, start[1] + 2.0), (end[0] + off, end[1])))


def _corner(view: View, leaves: Sequence[Leaf], side: int) -> tuple[float, float]:
    """The lower end of the left or right border of some leaves in the picture."""
    points = [view.point(spot) for leaf in leaves for spot in leaf.outline]
    edge = min(x for x, _ in points) if side == 0 else max(x for x, _ in points)
    return max((point for point in points if abs(point[0] - edge) < 0.5), key=lambda point: point[1])


# --- into an envelope or a bag ----------------------------------------------------------------------------------------


def holder_of(task: Handling, kinds: frozenset[str]) -> Supply | None:
    """The envelope or bag that is meant: the one the piece slides into, or one that the step names."""
    piece = task.workshop.piece(task.piece)
    said: tuple[Said[Placement], ...] = piece.slides_in if piece else ()
    for one in said:
        supply = supply_named(task.workshop, one.value.piece)
        if supply is not None and task.doing.act in ("insert", "lay", "pack", "close"):
            return supply
    return next((one for one in task.supplies(lambda supply: fits_role(supply, kinds)) if task.names(one)), None)


def posted(task: Handling, holder: Supply) -> Handled:
    """The thing half way into an envelope or a bag, drawn in its own size, or a little larger than the thing."""
    workshop = task.workshop
    whole = whole_of(workshop, task.state, task.piece)
    leaves = _upright(whole.leaves)
    (x1, y1, _), (x2, y2, z2) = extent_of(leaves)
    sizes = [float(length.mm) for length in holder.size.value.lengths] if holder.size else []
    wide, high = (sizes[0], sizes[1]) if len(sizes) > 1 else ((x2 - x1) * 1.12 + 4.0, z2 * 1.12 + 4.0)
    if x2 - x1 > wide and z2 <= wide:
        leaves = rested(_on_its_side(leaves))
        (x1, y1, _), (x2, y2, z2) = extent_of(leaves)
    clear = fits_role(holder, frozenset({"bag"}))
    lifted = moved(leaves, (0.0, 0.0, high * 0.5))
    back, front = _pocket(wide, high, y1 - _POCKET, y2 + _POCKET, clear)
    view = workshop.view
    pane: tuple[Stroke, ...] = ()
    faces: list[Face] = [*faces_of((*back, *lifted), view), *faces_of(front, view)]
    if clear:
        ring = tuple(view.point(spot) for spot in front[0].outline)
        faces = [*faces_of((*back, *lifted), view)]
        pane = (Stroke(LineKind.CUT, ring, True),)
    x = -wide / 2 - 4.0
    arrow = Arrow((view.point((x, 0.0, high * 0.5 + z2)), view.point((x, 0.0, high))))
    scene = scene_of(faces, pane, (arrow,))
    return Handled("post", task.told, scene, task.state, holder.name.value)


def _upright(leaves: Sequence[Leaf]) -> tuple[Leaf, ...]:
    """What lies flat is set up, its far edge at the top."""
    (x1, y1, z1), (x2, y2, z2) = extent_of(leaves)
    if z2 - z1 > 0.2 * max(x2 - x1, y2 - y1):
        return rested(leaves)

    def turn(spot: Spot) -> Spot:
        return spot[0], -spot[2], spot[1]

    return rested(tuple(mapped(leaf, turn, turn) for leaf in leaves))


def _on_its_side(leaves: Sequence[Leaf]) -> tuple[Leaf, ...]:
    def turn(spot: Spot) -> Spot:
        return spot[2], spot[1], -spot[0]

    return tuple(mapped(leaf, turn, turn) for leaf in leaves)


def _pocket(
    wide: float, high: float, near: float, far: float, clear: bool
) -> tuple[tuple[Leaf, ...], tuple[Leaf, ...]]:
    """The back with its flap up, and the front of an envelope; a bag has no flap."""
    out = (0.0, -1.0, 0.0)

    def sheet(
        ring: Sequence[tuple[float, float]], y: float, marks: Sequence[Sequence[tuple[float, float]]] = ()
    ) -> Leaf:
        outline = tuple((x, y, z) for x, z in ring)
        lines = tuple(tuple((x, y, z) for x, z in line) for line in marks)
        return Leaf(outline, out, (LineKind.CUT,) * len(outline), stuff=Tone.BOUGHT, marks=lines)

    half = wide / 2
    body = ((-half, 0.0), (half, 0.0), (half, high), (-half, high))
    flap = ((-half, high), (half, high), (half * 0.12, high * (1 + _FLAP)), (-half * 0.12, high * (1 + _FLAP)))
    seams = (((-half, 0.0), (0.0, high * 0.55), (half, 0.0)), ((-half, high), (0.0, high * 0.5), (half, high)))
    back = (sheet(body, far), *(() if clear else (sheet(flap, far),)))
    return back, (sheet(body, near, () if clear else seams[:1]),)


def sealed(task: Handling, holder: Supply) -> Handled:
    """An envelope with its flap on the way down."""
    sizes = [float(length.mm) for length in holder.size.value.lengths] if holder.size else [_ENVELOPE[0], _ENVELOPE[1]]
    wide, high = (sizes[0], sizes[1]) if len(sizes) > 1 else (sizes[0], sizes[0] * 0.7)
    back, front = _pocket(wide, high, -_POCKET, _POCKET, False)
    half, reach = wide / 2, high * _FLAP
    tip = (0.0, -reach * 0.35, high + reach * 0.9)
    corners = (-half, 0.0, high), (half, 0.0, high), (half * 0.12, *tip[1:]), (-half * 0.12, *tip[1:])
    flap = Leaf(corners, (0.0, -0.9, -0.35), (LineKind.CUT,) * 4, stuff=Tone.BOUGHT)
    view = task.workshop.view
    start, end = view.point(tip), view.point((0.0, -_POCKET, high * 0.55))
    arrow = Arrow(curve(start, (start[0], (start[1] + end[1]) / 2), end))
    faces = faces_of((*back[:1], *front, flap), view)
    return Handled("seal", "", scene_of(faces, (), (arrow,)), task.state, holder.name.value)


_ENVELOPE = (162.0, 114.0)
"""Across and down of an envelope whose size nobody says: C6 (ISO 269)."""


def contents_for(task: Handling) -> Supply | None:
    """What goes into the piece: what the step names, or what the piece is said to hold."""
    piece = task.workshop.piece(task.piece)
    held = {said.value.casefold() for said in piece.holds} if piece else set()
    able = [one for one in task.supplies(goes_inside) if task.names(one) or one.name.value.casefold() in held]
    return able[0] if able else None
